import { html, nothing, type TemplateResult } from 'lit';
import { fixed } from '../../../base/format.ts';
import { designNote } from '../../../batch/design-changes.ts';
import type { RunRecord } from '../../../batch/document.ts';
import { plannedRun } from '../../../batch/run-planned.ts';
import { type Deviation, deviationOf, STAGES, type StageField } from '../../../inspect/run-times.ts';
import { type Desk, numberField, textField } from '../../fields/fields.ts';

/** Planned against actual: lenses loaded and the times of the stages, with what deviates. */
export function plannedAndActual(desk: Desk, run: RunRecord, index: number): TemplateResult {
  const name = `Run ${run.number}`;
  const row = (field: StageField | 'lenses', label: string, unit: string) => {
    const planned = run.planned?.[field];
    const deviation = deviationOf(run, field);
    return html`<tr><th scope="row">${label}</th>
      <td class="figure">${planned === undefined ? '–' : unit === '' ? planned : `${fixed(planned, 1)} ${unit}`}</td>
      <td>${numberField(desk, ['runs', index, 'actual', field], `${label}, actual`, { compact: true, optional: true, name: `${name}: actual ${label}` })}</td>
      <td>${deviation === undefined ? nothing : html`<span class=${deviation.isNamed ? 'said' : 'small soft'}>${deviationText(deviation, unit)}</span>`}</td></tr>`;
  };
  return html`<details ?open=${run.actual !== undefined}><summary>Planned and actual: lenses and times</summary>
    <div class="stack">
      <div class="scroll" role="region" aria-label="${name}: planned and actual" tabindex="0"><table>
        <thead><tr><td></td><th class="figure">Planned</th><th>Actual</th><th>Deviation</th></tr></thead>
        <tbody>${row('lenses', 'lenses', '')}${STAGES.map(({ field, name: stage }) => row(field, stage, 'min'))}</tbody>
      </table></div>
      ${planNote(desk, run, index)}
    </div></details>`;
}

/** Says what plan the run is held against, and takes the plan of now where the reader wants it. */
function planNote({ bench, state }: Desk, run: RunRecord, index: number): TemplateResult {
  const note = designNote(state.batch, run);
  const take = () => {
    const plan = state.outcome.plan;
    const planned = plan === undefined ? undefined : plannedRun(state.batch, plan, run.side);
    if (planned === undefined) return;
    bench.edit({
      name: `Run ${run.number}: held against the plan of now`,
      recipe: (draft) => {
        draft.runs[index]!.planned = planned;
      },
    });
  };
  return html`<p class="small ${note.kind === 'same' ? 'soft' : ''}">${note.sentence}</p>
    ${note.kind === 'same' ? nothing : html`<div><button class="quiet" ?disabled=${state.outcome.plan === undefined} @click=${take}>Hold run ${run.number} against the plan of now</button></div>`}`;
}

function deviationText({ by, percent }: Deviation, unit: string): string {
  if (by === 0) return 'as planned';
  const sign = by > 0 ? '+' : '−';
  const amount = unit === '' ? String(Math.abs(by)) : `${fixed(Math.abs(by), 1)} ${unit}`;
  return `${sign}${amount}${percent === undefined ? '' : ` (${sign}${fixed(Math.abs(percent), 0)} %)`}`;
}

/** What was read off during the run, line by line. */
export function readingFields(
  desk: Desk,
  { number, readings = [] }: RunRecord,
  index: number,
): TemplateResult {
  const { bench } = desk;
  const add = () =>
    bench.edit({
      name: `Run ${number}: one more reading`,
      recipe: (draft) => {
        const run = draft.runs[index]!;
        run.readings = [...(run.readings ?? []), { what: '', value: '' }];
      },
    });
  const remove = (place: number) =>
    bench.edit({
      name: `Run ${number}: reading "${readings[place]!.what}: ${readings[place]!.value}" removed`,
      recipe: (draft) => void draft.runs[index]!.readings!.splice(place, 1),
    });
  return html`<details ?open=${readings.length > 0}><summary>Readings: ${readings.length === 0 ? 'none yet' : readings.length}</summary>
    <div class="stack">
      ${readings.map(
        (_, place) => html`<div class="fields" role="group" aria-label="Reading ${place + 1}">
          ${textField(desk, ['runs', index, 'readings', place, 'what'], 'Instrument and moment', { maxLength: 120 })}
          ${textField(desk, ['runs', index, 'readings', place, 'value'], 'Read off, with unit', { maxLength: 60 })}
          <button class="quiet" aria-label="Remove reading ${place + 1}" @click=${() => remove(place)}>Remove</button>
        </div>`,
      )}
      <div><button @click=${add}>Add a reading</button></div>
    </div></details>`;
}
