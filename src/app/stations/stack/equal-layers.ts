import { html, nothing, type TemplateResult } from 'lit';
import { live } from 'lit/directives/live.js';
import type { Layer, Side } from '../../../batch/document.ts';
import type { Desk } from '../../fields/fields.ts';
import { labelOf } from '../material-words.ts';
import { setGroup } from './layer-edits.ts';

/** Which layers are to come out equally thick where thicknesses are refined; folded away while none are. */
export function equalLayers(
  { bench, state }: Desk,
  side: Side,
  layers: readonly Layer[],
): TemplateResult | typeof nothing {
  if (layers.length < 2) return nothing;
  const groups = groupsFor(layers);
  const onChange = (index: number) => (event: Event) => {
    const { value } = event.target as HTMLSelectElement;
    bench.edit(setGroup(side, index, value === '' ? undefined : Number(value)));
  };
  return html`<details class="equal" ?open=${layers.some(({ group }) => group !== undefined)}>
    <summary>Layers that stay equally thick</summary>
    <p class="small soft">Refining brings all layers with the same letter to one thickness; where one of them is held, to its.</p>
    <div class="fields">
      ${layers.map((layer, index) => {
        const label = `Layer ${index + 1}, ${labelOf(layer.material, state.batch)}`;
        return html`<label class="field"><span>${label}</span>
          <select aria-label="${label}: equally thick as" .value=${live(String(layer.group ?? ''))} @change=${onChange(index)}>
            <option value="">on its own</option>
            ${groups.map((group) => html`<option value=${group} ?selected=${group === layer.group}>${groupName(group)}</option>`)}
          </select></label>`;
      })}
    </div>
  </details>`;
}

/** The groups in use, and the next free one. */
function groupsFor(layers: readonly Layer[]): number[] {
  const used = new Set(layers.flatMap(({ group }) => group ?? []));
  let free = 1;
  while (used.has(free)) free += 1;
  return [...used, free].toSorted((one, other) => one - other);
}

/** "A" for 1, as far as there are letters. */
function groupName(group: number): string {
  return group <= 26 ? String.fromCharCode(64 + group) : String(group);
}
