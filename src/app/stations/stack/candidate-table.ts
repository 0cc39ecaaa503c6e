import { html, nothing, type TemplateResult } from 'lit';
import { duration, fixed, listed, percent, significant } from '../../../base/format.ts';
import type { Batch } from '../../../batch/document.ts';
import '../../../elements/verdict/cw-verdict.ts';
import { labelOf } from '../material-words.ts';
import type { Candidate } from './candidate.ts';
import type { FoundStacks } from './stack-desk.ts';

export interface CandidateTableView {
  readonly batch: Batch;
  readonly found: FoundStacks;
  readonly isShown: (candidate: Candidate) => boolean;
  readonly onShow: (candidate: Candidate) => void;
  readonly onTake: (candidate: Candidate) => void;
}

/** Stacks side by side, one a column: what they are made of, what they do, what they cost. */
export function candidateTable(view: CandidateTableView): TemplateResult {
  const { batch, found } = view;
  const { candidates, yields } = found;
  const row = (name: string, cell: (candidate: Candidate) => unknown) =>
    html`<tr><th scope="row">${name}</th>${candidates.map((candidate) => html`<td>${cell(candidate)}</td>`)}</tr>`;
  const requirements = candidates[0]?.plan.requirements ?? [];
  return html`<div class="scroll" tabindex="0" role="region" aria-label="Stacks to compare"><table class="candidates">
    <caption>Best first; nothing is changed until one is taken.</caption>
    <thead><tr><td></td>${candidates.map((candidate) => html`<th scope="col">${candidate.name}</th>`)}</tr></thead>
    <tbody>
      ${row('In the chart', (candidate) => html`<label class="flag"><input type="checkbox" .checked=${view.isShown(candidate)} aria-label="${candidate.name} in the chart" @change=${() => view.onShow(candidate)} /></label>`)}
      ${row('Layers, the last on top', ({ layers }) => html`<ol class="films">${layers.map(({ material, thicknessNm }) => html`<li>${labelOf(material, batch)} <b>${fixed(thicknessNm, 1)}</b></li>`)}</ol>`)}
      ${requirements.map(({ text }, place) =>
        row(text, ({ plan }) => {
          const verdict = plan.requirements[place];
          if (verdict === undefined) return nothing;
          return html`<cw-verdict .verdict=${verdict.met ? 'met' : 'missed'}>${significant(verdict.valuePercent, 3)} %</cw-verdict>`;
        }),
      )}
      ${candidates.some(({ form }) => form !== undefined) ? row('Closed form', ({ form }) => html`${form?.kind} <span class="source">${form?.source}</span>`) : nothing}
      ${row('Figure of merit', ({ merit }) => (merit === undefined ? '–' : significant(merit, 3)))}
      ${row('Yield under the errors below', (candidate) => {
        const known = yields.get(candidate);
        if (known === undefined) return '…';
        const [low, high] = known.yield95;
        return html`${percent(known.yield, 1)} <span class="soft">(${fixed(100 * low, 1)} to ${fixed(100 * high, 1)})</span>`;
      })}
      ${row('Total thickness', ({ plan }) => `${fixed(plan.totalThicknessNm, 1)} nm`)}
      ${row('Thinnest layer', ({ layers }) => (layers.length === 0 ? '–' : `${fixed(Math.min(...layers.map(({ thicknessNm }) => thicknessNm)), 1)} nm`))}
      ${row('One run takes', ({ runS }) => (runS === undefined ? 'cannot be run here' : duration(runS)))}
      ${row('Materials', ({ layers }) =>
        materialsCell(
          layers.map(({ material }) => material),
          batch,
        ),
      )}
      ${row('Take it as the stack', (candidate) => html`<button aria-label="Take ${candidate.name}: ${words(candidate, batch)}" @click=${() => view.onTake(candidate)}>Take</button>`)}
    </tbody>
  </table></div>`;
}

function words({ layers }: Candidate, batch: Batch): string {
  return `${listed(layers.map(({ material, thicknessNm }) => `${labelOf(material, batch)} ${fixed(thicknessNm, 1)}`))} nm`;
}

/** Materials by name; those that the batch has no process settings for are marked. */
function materialsCell(ids: readonly string[], batch: Batch): TemplateResult {
  const different = [...new Set(ids)];
  const unset = different.filter((id) => batch.process.materials[id] === undefined);
  return html`${different.map((id) => labelOf(id, batch)).join(', ')}${
    unset.length === 0
      ? nothing
      : html` <span class="soft">(house settings for ${unset.map((id) => labelOf(id, batch)).join(', ')})</span>`
  }`;
}
