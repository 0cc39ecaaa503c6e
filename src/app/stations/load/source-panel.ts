import { html, nothing } from 'lit';
import { listed } from '../../../base/format.ts';
import type { Batch } from '../../../batch/document.ts';
import type { BatchChange } from '../../bench.ts';
import { type Desk, numberField } from '../../fields/fields.ts';

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
        <button class="quiet" aria-label="Take source ${id} out" ?disabled=${sources.length === 1} @click=${() => desk.bench.edit(withoutSource(batch, id))}>Take out</button>
        ${fault?.path === `chamber.sources[${index}]` ? html`<p class="said" role="status">${fault.reason}. Raise the racks or move the source.</p>` : nothing}
      </div>`;
    })}
    <div><button class="quiet" ?disabled=${sources.length >= MOST_SOURCES} @click=${() => desk.bench.edit(oneMoreSource(batch))}>Add a source</button></div>
    <p class="small soft">Sources can also be dragged: around in the picture from above, outwards in the one from the side. Which material comes from which source is set at the Run station.</p>
  </div>`;
}

/** A further gun where there is most room between the others, at their usual distance. */
export function oneMoreSource({ chamber }: Batch): BatchChange {
  const { sources } = chamber;
  const names = new Set(sources.map(({ id }) => id));
  let number = sources.length + 1;
  while (names.has(`source-${number}`)) number++;
  const id = `source-${number}`;
  return {
    name: `Source ${id} added`,
    recipe: (draft) =>
      void draft.chamber.sources.push({
        id,
        kind: 'e-beam',
        offsetMm: sources.at(-1)?.offsetMm ?? 200,
        azimuthDeg: widestGapDeg(sources.map(({ azimuthDeg }) => azimuthDeg)),
        exponent: 2,
        pockets: 1,
        pocketCm3: 10,
      }),
  };
}

/**
 * The source goes with its own shields. What it gave together with another comes from that alone; the rest from the first source
 * that is left.
 */
export function withoutSource(batch: Batch, id: string): BatchChange {
  const heir = batch.chamber.sources.find((source) => source.id !== id)?.id ?? id;
  const moved = Object.entries(batch.process.materials).flatMap(([material, { source, partner }]) => {
    if (source === id) return [{ material, to: partner?.source ?? heir }];
    return partner?.source === id ? [{ material, to: source }] : [];
  });
  const words = moved.map(({ material, to }) => `${material} from ${to}`);
  return {
    name: `Source ${id} taken out${moved.length === 0 ? '' : `; ${listed(words)}`}`,
    recipe: (draft) => {
      draft.chamber.sources = draft.chamber.sources.filter((source) => source.id !== id);
      for (const { material, to } of moved) {
        const settings = draft.process.materials[material]!;
        settings.source = to;
        delete settings.partner;
      }
      const left = (draft.chamber.shields ?? []).filter(({ source }) => source !== id);
      if (left.length > 0) draft.chamber.shields = left;
      else delete draft.chamber.shields;
    },
  };
}

/** The middle of the widest gap between directions, −180° to 180°. */
function widestGapDeg(azimuths: readonly number[]): number {
  const sorted = azimuths.map((azimuth) => ((azimuth % 360) + 360) % 360).toSorted((a, b) => a - b);
  const gaps = sorted.map((from, index) => ({
    from,
    width: (sorted[index + 1] ?? sorted[0]! + 360) - from,
  }));
  const widest = gaps.reduce((best, gap) => (gap.width > best.width ? gap : best));
  const middle = Math.round(widest.from + widest.width / 2);
  return middle > 180 ? middle - 360 : middle;
}
