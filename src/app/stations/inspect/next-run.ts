import { html, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { fixed, significant } from '../../../base/format.ts';
import type { MeasuredSpectrum, RunRecord, ToolingCorrection } from '../../../batch/document.ts';
import { aimInWords } from '../../../batch/plan/aim.ts';
import { coatingOf } from '../../../batch/run-planned.ts';
import { describeRequirement } from '../../../design/requirement.ts';
import '../../../elements/spectrum-chart/cw-spectrum-chart.ts';
import type { SpectrumCurve } from '../../../elements/spectrum-chart/spectrum-chart-data.ts';
import '../../../elements/verdict/cw-verdict.ts';
import {
  asPlanned,
  type PredictedCoating,
  predictCoating,
  reachOf,
} from '../../../inspect/predict-coating.ts';
import { StationElement } from '../../station-element.ts';
import { layersOf, materialsOf, nextRunFactors } from './carry-corrections.ts';
import type { FittedFactor } from './fit-desk.ts';
import { verdictLines } from './verdict-lines.ts';

/** What the next run would give, with the corrections that are ticked and without: curves and requirements. */
@customElement('app-next-run')
export class NextRun extends StationElement {
  @property({ attribute: false }) run!: RunRecord;
  @property({ attribute: false }) spectrum!: MeasuredSpectrum;
  @property({ attribute: false }) factors!: readonly FittedFactor[];
  /** Corrections that are ticked and not yet carried. */
  @property({ attribute: false }) taken: readonly ToolingCorrection[] = [];

  override render() {
    const { batch } = this.state;
    const { run, spectrum, factors, taken } = this;
    const surface = coatingOf(batch, run.side);
    const strange = materialsOf(surface).filter(
      (id) => !materialsOf({ layers: layersOf(batch, run) }).includes(id),
    );
    const reachNm = reachOf([spectrum]);
    const predict = (corrections: readonly ToolingCorrection[]) =>
      predictCoating(batch, surface, nextRunFactors(batch, run, factors, corrections), reachNm);
    const planned = predictCoating(batch, surface, asPlanned(surface), reachNm);
    const aim = aimInWords(batch);
    const asItStands = predict([]);
    const corrected = taken.length === 0 ? undefined : predict(taken);
    const columns = [
      { name: aim === undefined ? 'planned' : 'planned, with the aim', of: planned },
      { name: corrected === undefined ? 'next run' : 'next run, uncorrected', of: asItStands },
      ...(corrected === undefined ? [] : [{ name: 'next run, corrected', of: corrected }]),
    ];
    const measured = verdictLines(surface.requirements, spectrum, run.uncertaintyPercent ?? 0);
    return html`<section class="group" aria-label="What the next run would give">
      <h3>What the next run would give</h3>
      <p class="small">${
        corrected === undefined
          ? 'With the tooling as it stands in the batch, if everything else stays as it was in this run.'
          : 'With the corrections that are ticked, and with the tooling as it stands, if everything else stays as it was in this run.'
      }${strange.length === 0 ? nothing : ` Of what this run did not contain nothing is known; it is taken as planned.`}${aim === undefined ? nothing : ` The aim is ${aim} on the mean lens place.`}</p>
      <cw-spectrum-chart
        .curves=${this.curves(columns)}
        .quantity=${spectrum.quantity}
        .label=${'The next run as expected'}
        .fileName=${`${batch.id}-next-run`}
      ></cw-spectrum-chart>
      ${
        surface.requirements.length === 0
          ? nothing
          : html`<div class="scroll" role="region" aria-label="Requirements in the next run" tabindex="0"><table>
        <thead><tr><th>Requirement</th><th>${spectrum.name}</th>${columns.map(({ name }) => html`<th>${name}</th>`)}</tr></thead>
        <tbody>${surface.requirements.map(
          (requirement, row) => html`<tr><th scope="row">${describeRequirement(requirement)}</th>
            <td><cw-verdict .verdict=${measured[row]!.sign}>${measured[row]!.text}</cw-verdict></td>
            ${columns.map(({ of }) => {
              const { value, met } = of.results[row]!;
              return html`<td><cw-verdict .verdict=${met ? 'met' : 'missed'}>${significant(value, 3)} %</cw-verdict></td>`;
            })}</tr>`,
        )}</tbody></table></div>`
      }
      ${this.leftOver()}
    </section>`;
  }

  /** Without a correction the next run would repeat this one: how far, says the largest factor that stays. */
  private leftOver() {
    const { batch } = this.state;
    const left = nextRunFactors(batch, this.run, this.factors, this.taken).map(({ thicknessFactor }) =>
      Math.abs(thicknessFactor - 1),
    );
    const most = Math.max(0, ...left);
    return html`<p class="small soft">Layers would be off by up to ${fixed(100 * most, 2)} % still. The doubt of the fitted factors and the scatter from run to run come on top.</p>`;
  }

  private curves(
    columns: readonly { readonly name: string; readonly of: PredictedCoating }[],
  ): SpectrumCurve[] {
    const { spectrum } = this;
    const predicted = columns.flatMap(({ name, of }, place) => {
      const nearest = [...of.curves].sort(
        (a, b) =>
          Math.abs(a.incidenceDeg - spectrum.incidenceDeg) - Math.abs(b.incidenceDeg - spectrum.incidenceDeg),
      )[0]!;
      return [
        {
          name: `${name}, at ${nearest.incidenceDeg}°`,
          wavelengthNm: of.wavelengthNm,
          values: nearest.mean[spectrum.quantity],
          ...(place === 0 ? { dash: 'dashed' as const } : {}),
        },
      ];
    });
    const { name, wavelengthNm, values } = spectrum;
    return [...predicted, { name, wavelengthNm, values, points: true }];
  }
}
