import { html, nothing } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { appendEntry, trailFault } from '../../../batch/audit-trail.ts';
import type { RunRecord } from '../../../batch/document.ts';
import { StationElement } from '../../station-element.ts';
import { sentenceOf } from '../stack/task-run.ts';

/** A run's trail: what was read off and done, by whom and when. Entries are added, never changed. */
@customElement('app-run-trail')
export class RunTrail extends StationElement {
  @property({ attribute: false }) run!: RunRecord;
  @state() private fault = '';
  @query('#did') private readonly did!: HTMLTextAreaElement;

  override render() {
    const { trail = [], number, operator } = this.run;
    const broken = trailFault(trail);
    return html`<details>
      <summary>Trail of run ${number}: ${trail.length === 0 ? 'nothing yet' : `${trail.length} written`}</summary>
      <div class="stack">
        ${broken === undefined ? nothing : html`<p class="said">The trail does not hold: ${broken}. Nothing can be added to it.</p>`}
        ${trail.length === 0 ? nothing : html`<ol class="small">${trail.map(({ at, by, did }) => html`<li>${at.replace('T', ' ').slice(0, 16)}, ${by}: ${did}</li>`)}</ol>`}
        <div class="field wide"><label for="did">Reading, actual time or deviation</label><textarea id="did" rows="2" maxlength="2000"></textarea></div>
        <div class="row"><button @click=${this.add}>Write into the trail</button><span class="small soft">${operator === '' ? "the operator's initials are still to be filled in above" : `signed ${operator}`}</span></div>
        ${this.fault === '' ? nothing : html`<p class="said" role="status">${this.fault}</p>`}
        <p class="small soft">A written entry has no field to change it; a correction is a further entry. Each is tied to those before it by a checksum, which shows a change by hand but is no signature.</p>
      </div>
    </details>`;
  }

  private readonly add = (): void => {
    const { id, number, operator, trail = [] } = this.run;
    try {
      const longer = appendEntry(trail, {
        at: new Date().toISOString(),
        by: operator,
        did: this.did.value,
      });
      const isWritten = this.bench.edit({
        name: `Trail of run ${number}: an entry by ${operator}`,
        recipe: (draft) => {
          const run = draft.runs.find((record) => record.id === id);
          if (run !== undefined) run.trail = longer.map((entry) => ({ ...entry }));
        },
      });
      if (isWritten) this.did.value = '';
      this.fault = '';
    } catch (error) {
      this.fault = sentenceOf(error);
    }
  };
}
