import { css, html, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { capital } from '../../../base/format.ts';
import { designNote } from '../../../batch/design-changes.ts';
import type { RunRecord } from '../../../batch/document.ts';
import { coatingOf } from '../../../batch/run-planned.ts';
import { describeRequirement } from '../../../design/requirement.ts';
import '../../../elements/verdict/cw-verdict.ts';
import { judgeRun } from '../../../inspect/judge-run.ts';
import { placeOf } from '../../../inspect/judged-rows.ts';
import { numberField } from '../../fields/fields.ts';
import { StationElement } from '../../station-element.ts';
import { stationStyles } from '../../station-styles.ts';
import { RUN_WORDS, signOf, verdictLines } from './verdict-lines.ts';

/** Was it what was ordered: the verdict on a run, and every requirement at every place that was measured. */
@customElement('app-verdict-panel')
export class VerdictPanel extends StationElement {
  static override styles = [
    stationStyles,
    css`
      td {
        min-width: 9rem;
      }
    `,
  ];

  @property({ attribute: false }) run!: RunRecord;

  override render() {
    const { run } = this;
    const { batch } = this.state;
    const { requirements } = coatingOf(batch, run.side);
    const verdict = judgeRun(batch, run);
    const note = designNote(batch, run);
    const index = batch.runs.indexOf(run);
    const lines = run.spectra.map((spectrum) => ({
      place: placeOf(spectrum),
      lines: verdictLines(requirements, spectrum, run.uncertaintyPercent ?? 0),
    }));
    return html`<section class="group" aria-label="Verdict on run ${run.number}">
      <div class="row"><h2>Was it what was ordered</h2></div>
      <p><cw-verdict .verdict=${signOf(verdict)}>Run ${run.number} ${RUN_WORDS[verdict.kind]}</cw-verdict></p>
      <p class="small">${capital(verdict.sentence)}.</p>
      ${note.kind === 'changed' ? html`<p class="said">${note.sentence}</p>` : nothing}
      <div>${numberField(this, ['runs', index, 'uncertaintyPercent'], 'Uncertainty of a reading, one standard deviation', { usual: 0, name: `Run ${run.number}: uncertainty of a reading` })}</div>
      ${(run.uncertaintyPercent ?? 0) > 0 ? nothing : html`<p class="small soft">No uncertainty is stated: a value beyond its limit fails as read, but none passes, here and on the certificate. The spectrophotometer's certificate or repeated readings of one piece give it.</p>`}
      ${
        requirements.length === 0
          ? nothing
          : html`<div class="scroll" role="region" aria-label="Verdict for each place measured" tabindex="0"><table>
        <thead><tr><th>Place</th>${requirements.map((requirement) => html`<th>${describeRequirement(requirement)}</th>`)}</tr></thead>
        <tbody>${lines.map(({ place, lines: cells }) => html`<tr><th scope="row">${place}</th>${cells.map(({ sign, text }) => html`<td><cw-verdict .verdict=${sign}>${text}</cw-verdict></td>`)}</tr>`)}</tbody>
      </table></div>`
      }
    </section>`;
  }
}
