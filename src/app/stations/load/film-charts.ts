import { html, nothing, type TemplateResult } from 'lit';
import { fixed } from '../../../base/format.ts';
import type { PlacesPlan } from '../../../batch/plan/places-plan.ts';
import type { DistributionPlan, MaterialSpread, RadialCourse } from '../../../batch/plan/plan-types.ts';
import '../../../elements/line-chart/cw-line-chart.ts';
import type { LineSeries } from '../../../elements/line-chart/line-chart-data.ts';

const percentOf = (values: Float64Array) => values.map((value) => 100 * value);

function seriesOf(
  materials: readonly MaterialSpread[],
  before: readonly MaterialSpread[],
  course: (spread: MaterialSpread) => RadialCourse,
): LineSeries[] {
  const line = (spread: MaterialSpread, ghost: boolean): LineSeries => ({
    name: spread.label,
    x: course(spread).radiusMm,
    y: percentOf(course(spread).relative),
    ...(ghost ? { ghost } : {}),
  });
  return [...materials.map((spread) => line(spread, false)), ...before.map((spread) => line(spread, true))];
}

/** The film over the rack and over the lens, each material a curve, those before the last edit faint behind. */
export function filmCharts(
  now: DistributionPlan,
  before: DistributionPlan | undefined,
  isAtRest: boolean,
): TemplateResult {
  const old = before === undefined || before === now ? [] : before.materials;
  return html`
    <cw-line-chart
      label="Film over the rack"
      file-name="film-over-rack"
      .series=${seriesOf(now.materials, old, ({ rack }) => rack)}
      .xAxis=${{ title: isAtRest ? 'From the axis, towards the source' : "From the rack's axis", unit: 'mm' }}
      .yAxis=${{ title: 'Film over the mean', unit: '%' }}
      .digits=${5}
    ></cw-line-chart>
    <cw-line-chart
      label="Film over the lens, ${now.side}"
      file-name="film-over-lens"
      .series=${seriesOf(now.materials, old, ({ lens }) => lens)}
      .xAxis=${{ title: "From the lens's centre, outwards on the rack", unit: 'mm' }}
      .yAxis=${{ title: 'Film over the centre', unit: '%' }}
      .digits=${5}
    ></cw-line-chart>
  `;
}

/** Spectra of the innermost and outermost place, at centre and edge of the lens, those before the last edit faint behind. */
export function placeSpectra(
  now: PlacesPlan,
  before: PlacesPlan | undefined,
  side: string,
): TemplateResult | typeof nothing {
  const of = (plan: PlacesPlan | undefined) => plan?.curves.find((one) => one.side === side);
  const shown = of(now) ?? now.curves[0];
  if (shown === undefined || shown.curves.length === 0) return nothing;
  const lines = ({ curves, wavelengthNm }: PlacesPlan['curves'][number], ghost: boolean) =>
    curves.map(({ name, R }): LineSeries => ({ name, x: wavelengthNm, y: percentOf(R), ghost }));
  const old = of(before);
  return html`<cw-line-chart
    label="Reflectance on four places, ${shown.side}, at ${shown.incidenceDeg}°"
    file-name="spectra-of-places"
    .series=${[...lines(shown, false), ...(old === undefined ? [] : lines(old, true))]}
    .xAxis=${{ title: 'Wavelength', unit: 'nm' }}
    .yAxis=${{ title: 'R', unit: '%', min: 0 }}
  ></cw-line-chart>`;
}

/** Tooling by geometry beside the shop's own. */
export function toolingTable({ materials }: DistributionPlan): TemplateResult {
  const factor = (value: number | undefined) => (value === undefined ? '–' : fixed(value, 4));
  return html`<div class="scroll" tabindex="0" role="group" aria-label="Spread and tooling of the materials"><table>
    <caption>Tooling is thickness on the witness or crystal over that on the mean lens. Geometry gives a first figure; the shop's own stands in the batch and counts.</caption>
    <thead><tr><th>Material</th><th class="figure">Over the rack</th><th class="figure">Edge of the lens</th><th class="figure">Witness, geometry</th><th class="figure">Witness, own</th><th class="figure">Crystal, geometry</th><th class="figure">Crystal, own</th></tr></thead>
    <tbody>${materials.map(
      ({
        label,
        deviationPercent,
        edgePercent,
        witnessTooling,
        crystalTooling,
        ownWitnessTooling,
        ownCrystalTooling,
      }) => html`<tr>
        <th scope="row">${label}</th>
        <td class="figure">±${fixed(deviationPercent, 2)} %</td>
        <td class="figure">${fixed(edgePercent, 2)} %</td>
        <td class="figure">${factor(witnessTooling)}</td>
        <td class="figure">${factor(ownWitnessTooling)}</td>
        <td class="figure">${factor(crystalTooling)}</td>
        <td class="figure">${factor(ownCrystalTooling)}</td>
      </tr>`,
    )}</tbody>
  </table></div>`;
}
