import { html, nothing } from 'lit';
import { type Desk, numberField } from '../../fields/fields.ts';
import { oneMoreSource, withoutSource } from './source-edits.ts';

/** Most that the document holds. */
const MOST_SOURCES = 8;

/** The sources: where each stands, how high, how it sends; sources come and go. */
export function sourcePanel(desk: Desk) {
  const { batch, outcome } = desk.state;
  const { sources } = batch.chamber;
  const { fault } = outcome;
  return html`<div class="group">
    <h2>Sources</h2>
    ${sources.map(({ id }, index) => {
      const path = ['chamber', 'sources', index] as const;
      return html`<div class="fields" role="group" aria-label="Source ${id}">
        ${numberField(desk, [...path, 'offsetMm'], `${id} from the axis`, { name: `${id}: distance from the axis` })}
        ${numberField(desk, [...path, 'azimuthDeg'], 'Direction', { name: `${id}: direction` })}
        ${numberField(desk, [...path, 'heightMm'], 'Height', { name: `${id}: height`, optional: true, usual: 0 })}
        ${numberField(desk, [...path, 'exponent'], 'Emission exponent', { name: `${id}: emission exponent` })}
        <button class="quiet" aria-label="Remove source ${id}" ?disabled=${sources.length === 1} @click=${() => desk.bench.edit(withoutSource(batch, id))}>Remove</button>
        ${fault?.path === `chamber.sources[${index}]` ? html`<p class="said" role="status">${fault.reason}. Raise the racks or move the source.</p>` : nothing}
      </div>`;
    })}
    <div><button class="quiet" ?disabled=${sources.length >= MOST_SOURCES} @click=${() => desk.bench.edit(oneMoreSource(batch))}>Add a source</button></div>
    <p class="small soft">Sources can also be dragged: around in the picture from above, outwards in the one from the side. Which material comes from which source is set at the Run station.</p>
  </div>`;
}
