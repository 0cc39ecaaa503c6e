import { suggestStack } from '../design/suggest-stack.ts';
import type { Batch, Layer, Side, Surface } from './document.ts';
import { IndexBook } from './plan/index-of.ts';

/** Films that most shops have (common practice, no source): the materials at hand where a batch names none. */
export const COMMON_FILMS: readonly string[] = ['mgf2', 'sio2', 'al2o3', 'zro2', 'ta2o5', 'tio2'];

/** A closed form never has more layers than this. */
const MOST_LAYERS = 6;
/** Thinner layers are hard to cut (common practice, no source). */
const THINNEST_NM = 5;

/**
 * A sensible first stack for a surface from the materials at hand, refined from the closed form that serves its
 * requirements best; undefined where there is no requirement or no closed form fits.
 * @throws InputError where the requirements contradict each other.
 */
export function suggestLayers(document: Batch, side: Side, surface: Surface): Layer[] | undefined {
  if (surface.requirements.length === 0) return undefined;
  const book = new IndexBook(document.materials);
  const own = Object.keys(document.process.materials);
  const suggestion = suggestStack({
    incident: book.of(surface.incident),
    substrate: book.of(document.order.lens.substrate),
    pool: (own.length > 0 ? own : COMMON_FILMS).map((id) => ({ id, index: book.of(id) })),
    requirements: surface.requirements,
    maxLayers: MOST_LAYERS,
    minNm: THINNEST_NM,
  });
  return suggestion?.layers.map(({ material, thicknessNm }, index) => ({
    id: `${side.charAt(0)}${index + 1}`,
    material,
    thicknessNm: Math.round(thicknessNm * 100) / 100,
  }));
}
