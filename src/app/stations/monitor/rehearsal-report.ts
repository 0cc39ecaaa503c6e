import { html, type TemplateResult } from 'lit';
import { fixed, percent, significant } from '../../../base/format.ts';
import type { Batch, Surface } from '../../../batch/document.ts';
import type { RunPlan } from '../../../batch/plan/plan-types.ts';
import '../../../elements/spectrum-chart/cw-spectrum-chart.ts';
import type { Rehearsal } from '../../../monitor/rehearsal.ts';
import { spectrumLimits } from '../stack/spectrum-view.ts';
import { surfaceAsGrown } from './batch-rehearsal.ts';
import { bestOf } from './best-scores.ts';
import { type Exercise, exerciseKey, exerciseWords } from './exercise.ts';
import { mishapSentence } from './mishap-choice.ts';

const CLOSED_BY = { hand: 'hand', controller: 'controller', limit: 'time limit' } as const;

/** What a finished rehearsal was. */
export interface RehearsalFacts {
  readonly play: Rehearsal;
  readonly batch: Batch;
  readonly surface: Surface;
  readonly run: RunPlan;
  readonly exercise: Exercise;
  readonly isBest: boolean;
}

/** How far off each layer was, what that did to the spectrum, and the score beside the controller's. */
export function rehearsalReport({
  play,
  batch,
  surface,
  run,
  exercise,
  isBest,
}: RehearsalFacts): TemplateResult {
  const { points, perLayer, controllerPoints } = play.score();
  const grownNm = play.finished.map(({ trueNm }) => trueNm);
  const planned = surfaceAsGrown(batch, surface, []);
  const grown = surfaceAsGrown(batch, surface, grownNm);
  const curve = (plan: typeof planned, name: string, colour: 'curve-1' | 'curve-2') => ({
    ...{ name, colour, wavelengthNm: plan.wavelengthNm, values: plan.curves[0]!.mean.R },
  });
  const kept = bestOf(exerciseKey(exercise));
  return html`
    <p><b>${fixed(points, 0)} points</b> of 1000; the controller alone would have got ${fixed(controllerPoints, 0)}.
      ${isBest ? html`<b>The best so far in this browser</b>` : kept === undefined ? 'In this browser' : `The best so far in this browser is ${fixed(kept, 0)}`} for this exercise: ${exerciseWords(exercise)}. Best scores are kept for each lot, side, mishap and speed by itself, whatever the seed; a run played at several speeds counts at its slowest.</p>
    ${play.mishaps.map((mishap) => html`<p>${mishapSentence(mishap)}</p>`)}
    <div class="scroll" tabindex="0" role="group" aria-label="Layers of the rehearsal"><table>
      <thead><tr><th>Layer</th><th class="figure">Planned</th><th class="figure">Grown</th><th class="figure">Off by</th><th class="figure">Off by</th><th>Closed by</th><th class="figure">Points</th></tr></thead>
      <tbody>${play.finished.map(
        ({ layer, plannedNm, trueNm, errorNm, closedBy }) =>
          html`<tr><td>${layer + 1} ${run.cuts[layer]?.label}</td><td class="figure">${fixed(plannedNm, 2)} nm</td><td class="figure">${fixed(trueNm, 2)} nm</td><td class="figure">${fixed(errorNm, 2)} nm</td><td class="figure">${plannedNm === 0 ? '–' : percent(errorNm / plannedNm)}</td><td>${CLOSED_BY[closedBy]}</td><td class="figure">${fixed(perLayer[layer]!, 0)}</td></tr>`,
      )}</tbody>
    </table></div>
    <cw-spectrum-chart bare
      .curves=${[curve(planned, 'planned', 'curve-1'), curve(grown, 'as rehearsed', 'curve-2')]}
      .limits=${spectrumLimits(surface.requirements, { ...grown, side: run.side, own: run.own })}
      .label=${'Reflectance planned and as rehearsed'}
    ></cw-spectrum-chart>
    <ul class="plain">${grown.requirements.map(
      ({ text, valuePercent, met }, index) =>
        html`<li>${met ? 'Met' : html`<b>Missed</b>`}: ${text}; planned ${significant(planned.requirements[index]!.valuePercent, 3)} %, as rehearsed ${significant(valuePercent, 3)} %.</li>`,
    )}</ul>
  `;
}
