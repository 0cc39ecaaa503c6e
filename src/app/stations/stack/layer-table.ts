import { html, nothing, type TemplateResult } from 'lit';
import { live } from 'lit/directives/live.js';
import { fixed } from '../../../base/format.ts';
import type { Layer, Side } from '../../../batch/document.ts';
import { gradingWords } from '../../../batch/grading-words.ts';
import type { SurfacePlan } from '../../../batch/plan/plan-types.ts';
import type {
  QuantityChangeEvent,
  QuantityInputEvent,
} from '../../../elements/quantity-field/quantity-events.ts';
import { resolveIndex } from '../../../materials/index-spec.ts';
import { type Desk, flagField, numberField } from '../../fields/fields.ts';
import { labelOf, materialLabel, materialsOf } from '../material-words.ts';
import {
  layerName,
  mostQuarterWaves,
  moveLayer,
  removeLayer,
  setMaterial,
  setThickness,
} from './layer-edits.ts';

export interface LayerTableView {
  readonly side: Side;
  readonly layers: readonly Layer[];
  readonly plan: SurfacePlan | undefined;
  readonly selected: number | undefined;
  readonly sensitivity: readonly number[];
  readonly onSelect: (index: number) => void;
}

/** The layers as a table, the first lying on the glass: material, thickness in nm and in quarter waves, place. */
export function layerTable(desk: Desk, view: LayerTableView): TemplateResult {
  const { plan, layers } = view;
  if (layers.length === 0)
    return html`<p class="empty">No layer yet: the glass is bare. Let a stack be suggested below, or add the first layer and drag its upper face.</p>`;
  const greatest = Math.max(...view.sensitivity, 0);
  return html`<div class="scroll"><table class="layers">
    <caption>In the order of deposition; layer 1 lies on the glass.</caption>
    <thead>
      <tr>
        <th class="figure">No.</th><th>Material</th><th>Thickness</th>
        <th>Quarter waves${plan === undefined ? nothing : html` at ${plan.referenceWavelengthNm} nm`}</th>
        <th class="figure">Index</th>
        ${greatest > 0 ? html`<th class="figure">Sensi&shy;tivity</th>` : nothing}
        <th>Held</th><th>Place</th>
      </tr>
    </thead>
    <tbody>${layers.map((layer, index) => layerRow(desk, view, layer, index, greatest))}</tbody>
  </table></div>
  <p class="small soft">Refinement leaves a held layer alone.${greatest > 0 ? ' Sensitivity is what one per cent of a layer costs, as a share of the most sensitive one.' : ''}</p>`;
}

function layerRow(
  desk: Desk,
  view: LayerTableView,
  layer: Layer,
  index: number,
  greatest: number,
): TemplateResult {
  const { bench, state } = desk;
  const { side, plan, layers } = view;
  const planned = plan?.layers.find(({ id }) => id === layer.id);
  const name = layerName(side, index);
  const path = ['surfaces', side, 'layers', index] as const;
  const share = greatest > 0 ? (view.sensitivity[index] ?? 0) / greatest : 0;
  return html`<tr class=${index === view.selected ? 'picked' : ''} @focusin=${() => view.onSelect(index)}>
    <td class="figure">${index + 1}</td>
    <td>${materialSelect(desk, view, layer, index)}${planned?.inRange === false ? html` <span class="said">a requirement's band reaches beyond its data</span>` : nothing}</td>
    <td>${numberField(desk, [...path, 'thicknessNm'], `${name}: thickness`, { compact: true, name, displayUnit: state.preferences.lengthUnit })}</td>
    <td>${planned === undefined ? nothing : quarterField(desk, view, index, planned.quarterWaves, planned.referenceIndex)}</td>
    <td class="figure">${planned === undefined ? '' : fixed(planned.referenceIndex, 4)}${layer.grading === undefined ? nothing : html`<br /><span class="small soft graded">${gradingWords(layer.grading)}</span>`}</td>
    ${greatest > 0 ? html`<td class="figure">${fixed(share, 2)}</td>` : nothing}
    <td>${flagField(desk, [...path, 'locked'], `${name} held: refinement leaves it alone`, { compact: true, name: `${name} held` })}</td>
    <td class="place">
      <button class="quiet" aria-label="${name} towards the glass" title="towards the glass" ?disabled=${index === 0} @click=${() => bench.edit(moveLayer(side, index, -1))}>↑</button>
      <button class="quiet" aria-label="${name} away from the glass" title="away from the glass" ?disabled=${index === layers.length - 1} @click=${() => bench.edit(moveLayer(side, index, 1))}>↓</button>
      <button class="quiet" aria-label="Remove ${name}" title="remove" @click=${() => bench.edit(removeLayer(side, index))}>×</button>
    </td>
  </tr>`;
}

/** The thickness in quarter waves of the reference wavelength: t = q λ / (4 n). */
function quarterField(
  desk: Desk,
  { side, plan }: LayerTableView,
  index: number,
  quarterWaves: number,
  n: number,
): TemplateResult {
  const onEdit = (event: QuantityInputEvent | QuantityChangeEvent) => {
    if (event.value === undefined || plan === undefined) return;
    desk.bench.edit(setThickness(side, index, (event.value * plan.referenceWavelengthNm) / (4 * n)));
  };
  const most = mostQuarterWaves(n, plan?.referenceWavelengthNm ?? 550);
  return html`<cw-quantity-field compact .label="${layerName(side, index)}: quarter waves" .value=${quarterWaves} .min=${0} .max=${most} .digits=${4}
    @cw-quantity-input=${onEdit} @cw-quantity-change=${onEdit}></cw-quantity-field>`;
}

function materialSelect(
  desk: Desk,
  { side, plan, layers }: LayerTableView,
  layer: Layer,
  index: number,
): TemplateResult {
  const { batch } = desk.state;
  const used = [
    ...new Set([...layers.map(({ material }) => material), ...Object.keys(batch.process.materials)]),
  ];
  const others = materialsOf(['film', 'metal'], batch).filter(({ id }) => !used.includes(id));
  const carried = new Set(batch.materials.map(({ id }) => id));
  const groups = [
    ['Carried by this batch', others.filter(({ id }) => carried.has(id))],
    ['Library', others.filter(({ id }) => !carried.has(id))],
  ] as const;
  const onChange = (event: Event) => {
    const material = (event.target as HTMLSelectElement).value;
    const at = Float64Array.of(plan?.referenceWavelengthNm ?? 550);
    const n = (id: string) => resolveIndex(id, at, batch.materials).n[0]!;
    desk.bench.edit(setMaterial(side, index, material, n(layer.material) / n(material)));
  };
  const option = (id: string, words: string) =>
    html`<option value=${id} ?selected=${id === layer.material}>${words}</option>`;
  return html`<select aria-label="${layerName(side, index)}: material" .value=${live(layer.material)} @change=${onChange}>
    <optgroup label="In this batch">${used.map((id) => option(id, labelOf(id, batch)))}</optgroup>
    ${groups.map(([title, records]) => (records.length === 0 ? nothing : html`<optgroup label=${title}>${records.map((record) => option(record.id, `${materialLabel(record)} (${record.id})`))}</optgroup>`))}
  </select>`;
}
