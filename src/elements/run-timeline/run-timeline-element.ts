import { html, LitElement, nothing, type PropertyValues } from 'lit';
import { property, state } from 'lit/decorators.js';
import { styleMap } from 'lit/directives/style-map.js';
import { baseStyles } from '../shared-styles.ts';
import { ResizeController } from '../support/resize-controller.ts';
import { runTimelineStyles } from './run-timeline-styles.ts';
import { StepSelectEvent } from './step-select-event.ts';
import {
  durationText,
  type TimelineLane,
  type TimelineStep,
  timelineEndS,
  timelineLanes,
  timeMarksS,
  timeText,
} from './timeline-layout.ts';

/**
 * A run's steps along time, in lanes of who or what is busy. The path that decides the total is drawn solid,
 * what can wait is drawn light. Arrow keys go from step to step in order of time, Enter picks one.
 *
 * @element cw-run-timeline
 * @property steps - `TimelineStep[]`
 * @property critical - ids of the steps that decide the total
 * @property clockS - seconds past midnight at which the run starts; undefined counts from the start
 * @property nowS - where the run is now, seconds from the start
 * @property selected - id of the picked step
 * @property label - what the picture shows
 * @fires cw-step-select - a step is picked by a click or Enter
 * @csspart lanes - the lanes with their bars
 * @cssproperty [--cw-timeline-width=40rem] - least width before the picture scrolls sideways
 */
export class RunTimelineElement extends LitElement {
  static override styles = [baseStyles, runTimelineStyles];

  @property({ attribute: false }) steps: readonly TimelineStep[] = [];
  @property({ attribute: false }) critical: readonly string[] = [];
  @property({ type: Number, attribute: 'clock-s' }) clockS: number | undefined;
  @property({ type: Number, attribute: 'now-s' }) nowS: number | undefined;
  @property() selected = '';
  @property() label = 'The run, step by step';

  /** Id of the step that is read out. */
  @state() private at = '';
  private lanes: readonly TimelineLane[] = [];
  /** The steps in order of time. */
  private inOrder: readonly TimelineStep[] = [];
  private endS = 0;
  private readonly size = new ResizeController(this);

  protected override updated(changed: PropertyValues): void {
    if (changed.has('at') && this.at !== '')
      this.renderRoot.querySelector('.bar.at')?.scrollIntoView({ block: 'nearest', inline: 'nearest' });
  }

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (!changed.has('steps')) return;
    this.lanes = timelineLanes(this.steps);
    this.inOrder = this.steps.toSorted((a, b) => a.startS - b.startS);
    this.endS = timelineEndS(this.steps);
    if (!this.steps.some((step) => step.id === this.at)) this.at = '';
  }

  override render() {
    const active = this.inOrder.findIndex((step) => step.id === this.at);
    return html`
      <div class="scroll">
        <div
          part="lanes"
          class="lanes"
          role="listbox"
          tabindex="0"
          aria-label=${this.label}
          aria-activedescendant=${active < 0 ? nothing : `step-${active}`}
          @keydown=${this.onKeydown}
          @pointerleave=${() => (this.at = '')}
        >
          ${this.lanes.map((lane) => this.lane(lane))}
          ${this.marks()}
        </div>
      </div>
      <p class="readout"><span role="status">${this.spoken()}</span>${this.spoken() === '' ? this.summary() : nothing}</p>
    `;
  }

  private share(seconds: number): string {
    return `${this.endS > 0 ? (100 * seconds) / this.endS : 0}%`;
  }

  private lane(lane: TimelineLane) {
    return html`
      <span class="name" aria-hidden="true">${lane.name}</span>
      <div class="track" role="group" aria-label=${lane.name}>${lane.steps.map((step) => this.bar(step))}</div>
    `;
  }

  private bar(step: TimelineStep) {
    const index = this.inOrder.indexOf(step);
    const critical = this.critical.includes(step.id);
    const classes = `bar ${step.kind} ${critical ? 'critical' : ''} ${step.id === this.at ? 'at' : ''} ${step.id === this.selected ? 'picked' : ''}`;
    return html`
      <div
        id="step-${index}"
        class=${classes}
        role="option"
        aria-selected=${step.id === this.selected ? 'true' : 'false'}
        aria-label="${step.label}, ${durationText(step.durationS)}${critical ? ', decides the total' : ''}"
        style=${styleMap({ left: this.share(step.startS), width: this.share(step.durationS) })}
        @pointerenter=${() => (this.at = step.id)}
        @click=${() => this.pick(step)}
      >
        <span>${step.label}</span>
      </div>
    `;
  }

  private marks() {
    const wanted = Math.max(2, Math.floor(this.size.widthPx / 90));
    return html`
      <span class="name" aria-hidden="true">${this.clockS === undefined ? 'h:min' : 'clock'}</span>
      <div class="marks" aria-hidden="true">
        ${timeMarksS(this.endS, wanted).map(
          (seconds) =>
            html`<span class="mark" style=${styleMap({ left: this.share(seconds) })}><i></i>${timeText(seconds, this.clockS)}</span>`,
        )}
        ${
          this.nowS === undefined
            ? nothing
            : html`<span class="now" style=${styleMap({ left: this.share(Math.min(this.nowS, this.endS)), '--lanes': `${this.lanes.length}` })}></span>`
        }
      </div>
    `;
  }

  private summary(): string {
    if (this.steps.length === 0) return 'No step yet.';
    return `${this.steps.length} steps, ${durationText(this.endS)} in all`;
  }

  /** The step that is looked at; what the whole run takes is no news, since every edit may change it. */
  private spoken(): string {
    const index = this.inOrder.findIndex((step) => step.id === this.at);
    const step = this.inOrder[index];
    if (step === undefined) return '';
    const from = timeText(step.startS, this.clockS);
    const to = timeText(step.startS + step.durationS, this.clockS);
    const wait = this.critical.includes(step.id)
      ? ', decides the total'
      : step.slackS
        ? `, can take ${durationText(step.slackS)} longer`
        : '';
    return `${index + 1} of ${this.steps.length}: ${step.label}, ${durationText(step.durationS)}, ${from} to ${to}${wait}`;
  }

  private pick(step: TimelineStep | undefined): void {
    if (step === undefined) return;
    this.at = step.id;
    this.selected = step.id;
    this.dispatchEvent(new StepSelectEvent(step.id));
  }

  private readonly onKeydown = (event: KeyboardEvent): void => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const index = this.inOrder.findIndex((step) => step.id === this.at);
    const last = this.inOrder.length - 1;
    const go = (to: number) => {
      this.at = this.inOrder[Math.min(Math.max(to, 0), last)]?.id ?? '';
    };
    if (event.key === 'ArrowRight' || event.key === 'ArrowDown') go(index + 1);
    else if (event.key === 'ArrowLeft' || event.key === 'ArrowUp') go(index - 1);
    else if (event.key === 'Home') go(0);
    else if (event.key === 'End') go(last);
    else if (event.key === 'Escape') this.at = '';
    else if (event.key === 'Enter' || event.key === ' ') this.pick(this.inOrder[index]);
    else return;
    event.preventDefault();
  };
}
