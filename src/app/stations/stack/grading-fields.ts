import { html, nothing, type TemplateResult } from 'lit';
import type { Layer, Side } from '../../../batch/document.ts';
import { type Desk, numberField } from '../../fields/fields.ts';
import { labelOf } from '../material-words.ts';
import { surfaceOf } from '../order/requirement-edits.ts';
import { layerName } from './layer-edits.ts';

/** How much each layer's index changes as it grows; folded away while none does. */
export function gradingFields(
  desk: Desk,
  side: Side,
  layers: readonly Layer[],
): TemplateResult | typeof nothing {
  if (layers.length === 0) return nothing;
  const isAnyGraded = layers.some(({ grading }) => grading !== undefined);
  return html`<details class="grading" ?open=${isAnyGraded}>
    <summary>Index that changes through a layer</summary>
    <p class="small soft">Index on the outer side less that towards the glass, over the mean, which is the index of the material. Films that grow in columns lose index outwards. Refining keeps what is set here; a search makes layers of even index.</p>
    <div class="fields">
      ${layers.map((layer, index) => gradingField(desk, side, layer, index))}
    </div>
  </details>`;
}

function gradingField(desk: Desk, side: Side, layer: Layer, index: number): TemplateResult {
  const path = ['surfaces', side, 'layers', index, 'grading', 'indexChangePercent'];
  const label = `${index + 1}, ${labelOf(layer.material, desk.state.batch)}`;
  return numberField(desk, path, `Layer ${label}`, {
    name: `${layerName(side, index)}: index change`,
    usual: 0,
    also: (draft, value) => {
      const edited = surfaceOf(draft, side)?.layers[index];
      if (edited !== undefined && !value) delete edited.grading;
    },
  });
}
