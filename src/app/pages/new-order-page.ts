import { css, html, nothing } from 'lit';
import { customElement, query, state } from 'lit/decorators.js';
import { listed } from '../../base/format.ts';
import type { Batch } from '../../batch/document.ts';
import { withFirstStack } from '../../batch/new-batch.ts';
import { batchOfOrder } from '../../batch/order-line/batch-of-order.ts';
import type { OrderLine } from '../../batch/order-line/order-line.ts';
import {
  ORDER_TEMPLATES,
  type OrderTemplate,
  TEMPLATE_NOTE,
} from '../../batch/order-line/order-templates.ts';
import { readOrderLine } from '../../batch/order-line/read-order-line.ts';
import { describeRequirement } from '../../design/requirement.ts';
import { refusalOf } from '../check-edit.ts';
import { routeHref } from '../routes.ts';
import { StationElement } from '../station-element.ts';
import { stationStyles } from '../station-styles.ts';

const EXAMPLE = '517642, d 32, R1 84.2 R2 -84.2, 400 pcs, AR R avg <= 0.4 % 430-670 nm 0-25';

/** How the typed line reads, and the batch that would come of it. */
interface Reading {
  readonly line: OrderLine;
  readonly batch: Batch | undefined;
  readonly assumptions: readonly string[];
  readonly fault: string | undefined;
}

/** A new order: from the drawing's own line, from a template, or empty. */
@customElement('app-new-order-page')
export class NewOrderPage extends StationElement {
  static override styles = [
    stationStyles,
    css`
      textarea {
        width: 100%;
        font: inherit;
      }
      .templates {
        display: grid;
        grid-template-columns: repeat(auto-fill, minmax(min(17rem, 100%), 1fr));
        gap: var(--cw-space-3);
        margin: 0;
        padding: 0;
        list-style: none;
      }
      .templates button {
        display: grid;
        gap: var(--cw-space-1);
        align-content: start;
        width: 100%;
        height: 100%;
        padding: var(--cw-space-3);
        text-align: start;
        white-space: normal;
      }
      .templates span {
        color: var(--cw-ink-soft);
        font-size: var(--cw-size-small);
        font-weight: 400;
      }
      td:first-child {
        color: var(--cw-ink-soft);
      }
    `,
  ];

  @state() private text = '';
  /** The template whose line stands in the field unchanged. */
  @state() private template: OrderTemplate | undefined;
  @state() private isMaking = false;
  @query('textarea') private readonly field!: HTMLTextAreaElement;

  override connectedCallback(): void {
    super.connectedCallback();
    void this.updateComplete.then(() => this.field.focus({ preventScroll: true }));
  }

  override render() {
    const reading = this.text.trim() === '' ? undefined : readingOf(this.text);
    return html`<div class="stack">
      <div class="row head">
        <h1>New order</h1>
        <button class="quiet" @click=${() => this.open(undefined)}>Start empty</button>
      </div>
      <div class="bench">
        <div class="stack">
          <div class="field wide">
            <label for="line">The order in a line, as the drawing or the order words it</label>
            <textarea
              id="line"
              rows="4"
              maxlength="4000"
              spellcheck="false"
              placeholder=${EXAMPLE}
              aria-describedby="hint"
              .value=${this.text}
              @input=${this.onInput}
              @keydown=${this.onKey}
            ></textarea>
            <span id="hint" class="small soft">Glass, diameter, radii, pieces and limits in any order. Enter puts it on the bench; what the line does not say can be filled in there.</span>
          </div>
          <div class="row">
            <button class="main" ?disabled=${reading?.batch === undefined || this.isMaking} @click=${() => this.make()}>Put it on the bench</button>
            <span class="small soft" role="status">${this.isMaking ? 'Looking for a first stack …' : ''}</span>
          </div>
        </div>
        ${reading === undefined ? this.teaching() : this.preview(reading)}
      </div>
      <div class="group">
        <h2>From a template</h2>
        <p class="small soft">Each writes its line above, to be changed before it goes on the bench. Lenses and quantities are invented.</p>
        <ul class="templates">
          ${ORDER_TEMPLATES.map(
            (template) => html`<li>
              <button @click=${() => this.choose(template)}>${template.name}<span>${template.use}</span></button>
            </li>`,
          )}
        </ul>
      </div>
    </div>`;
  }

  private teaching() {
    return html`<div class="empty stack">
      <p>Paste a line such as</p>
      <p><b>${EXAMPLE}</b></p>
      <p>and this place shows how each part of it is understood, before anything is made of it. A first stack that comes near the limits is found by itself.</p>
    </div>`;
  }

  private preview({ line, batch, assumptions, fault }: Reading) {
    return html`<div class="stack" role="status" aria-label="How the line is understood">
      ${line.faults.map((sentence) => html`<p class="said">${sentence}</p>`)}
      ${fault === undefined ? nothing : html`<p class="said">${fault}</p>`}
      <table>
        <caption class="visually-hidden">How the line is understood</caption>
        <tbody>
          ${line.pieces.map(({ what, value, text }) => html`<tr><td>${what}</td><td>${value}</td><td class="soft small">from “${text}”</td></tr>`)}
          ${line.requirements.map((goal) => html`<tr><td>Requirement</td><td colspan="2">${describeRequirement(goal)}</td></tr>`)}
        </tbody>
      </table>
      ${batch === undefined || assumptions.length === 0 ? nothing : html`<p class="small">Not said, so assumed: ${listed(assumptions)}.</p>`}
      ${line.leftOut.length === 0 ? nothing : html`<p class="small">Not understood, kept as words of the drawing only: ${listed(line.leftOut.map((words) => `“${words}”`))}.</p>`}
    </div>`;
  }

  private readonly onInput = (): void => {
    this.text = this.field.value;
    this.template = undefined;
  };

  private readonly onKey = (event: KeyboardEvent): void => {
    if (event.key !== 'Enter' || event.shiftKey || event.isComposing) return;
    event.preventDefault();
    void this.make();
  };

  private choose(template: OrderTemplate): void {
    this.template = template;
    this.text = template.line;
    this.field.focus();
  }

  private async make(): Promise<void> {
    if (this.isMaking) return;
    const { batch } = readingOf(this.text);
    if (batch === undefined) return;
    this.isMaking = true;
    await this.updateComplete;
    await new Promise((resolve) => setTimeout(resolve)); // so that the words are on the screen while the search runs
    const made = withFirstStack(batch);
    this.isMaking = false;
    await this.open(this.template === undefined ? made : { ...made, invented: TEMPLATE_NOTE });
  }

  private async open(batch: Batch | undefined): Promise<void> {
    const batchId = await this.bench.create(batch);
    if (batchId === undefined) return;
    this.text = '';
    this.template = undefined;
    location.hash = routeHref({ page: 'station', batchId, station: 'order' });
  }
}

function readingOf(text: string): Reading {
  const line = readOrderLine(text);
  try {
    const { batch, assumptions } = batchOfOrder(idOf(line), line, text);
    return { line, batch: line.faults.length > 0 ? undefined : batch, assumptions, fault: undefined };
  } catch (error) {
    const fault = line.faults.length > 0 ? undefined : refusalOf(error);
    return { line, batch: undefined, assumptions: [], fault };
  }
}

/** A batch's name from its title: "Eyepiece eye lens" → "eyepiece-eye-lens". */
function idOf({ facts: { title, lot } }: OrderLine): string {
  const words = (title ?? lot ?? '').normalize('NFKD').replace(/[^\x20-\x7e]/g, '');
  return (
    words
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, '-')
      .replace(/^-|-$/g, '')
      .slice(0, 56) || 'order'
  );
}
