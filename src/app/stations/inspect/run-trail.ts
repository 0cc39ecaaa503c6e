import { html, nothing } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { counted } from '../../../base/format.ts';
import { type AuditEntry, trailFault } from '../../../batch/audit-trail.ts';
import type { RunRecord } from '../../../batch/document.ts';
import { trailOf } from '../../../inspect/run-log.ts';
import { StationElement } from '../../station-element.ts';

/** The trail of a run, or of the whole log where no run is given: what was done, by whom and when. Entries are only added. */
@customElement('app-run-trail')
export class RunTrail extends StationElement {
  @property({ attribute: false }) run: RunRecord | undefined;
  @state() private fault = '';
  @query('#did') private readonly did!: HTMLTextAreaElement;

  override render() {
    const { run } = this;
    const { batch } = this.state;
    const { trail = [] } = batch;
    const entries = run === undefined ? trail : trailOf(batch, run);
    const broken = trailFault(trail);
    const written = entries.length === 0 ? 'nothing yet' : counted(entries.length, 'entry', 'entries');
    return html`<details>
      <summary>${run === undefined ? 'Trail of the whole log, with runs that were removed' : `Trail of run ${run.number}`}: ${written}</summary>
      <div class="stack">
        ${broken === undefined ? nothing : html`<p class="said">The trail does not hold: in the whole trail, ${broken}. Further entries are tied to it as it stands.</p>`}
        ${run === undefined ? this.nature() : this.pen(run)}
        ${entries.length === 0 ? nothing : html`<ol class="small">${entries.map((entry) => html`<li>${entryText(entry, run === undefined)}</li>`)}</ol>`}
      </div>
    </details>`;
  }

  /** Stands above the entries, so that one written as a field is left does not move the button from under the pointer. */
  private pen({ operator }: RunRecord) {
    return html`<div class="field wide"><label for="did">Write into the trail: what was seen, done or decided</label><textarea id="did" rows="2" maxlength="2000"></textarea></div>
      <div class="row"><button @click=${this.add}>Write into the trail</button><span class="small soft">${operator.trim() === '' ? "the operator's initials are still to be filled in above" : `signed ${operator}`}</span></div>
      ${this.fault === '' ? nothing : html`<p class="said" role="status">${this.fault}</p>`}`;
  }

  private nature() {
    return html`<p class="small soft">Every change of the run log is written here by itself, its undoing and the taking out of a run too, and no undo takes an entry away; a correction is a further entry. Each entry is tied to those before it by a checksum, which shows a change by hand but is no signature, and does not show that entries were cut off at the end.</p>`;
  }

  private readonly add = (): void => {
    const run = this.run!;
    const did = this.did.value.trim();
    this.fault = '';
    if (did === '') this.fault = 'The entry says nothing.';
    else if (run.operator.trim() === '')
      this.fault = "The entry lacks the person's initials; fill in the operator of the run first.";
    if (this.fault !== '') return;
    this.bench.trail.write(did, [run]);
    this.did.value = '';
  };
}

function entryText({ at, by, did, run }: AuditEntry, isWhole: boolean): string {
  const of = isWhole && run !== undefined ? `, run ${run}` : '';
  return `${at.replace('T', ' ').slice(0, 16)} UTC, ${by}${of}: ${did}`;
}
