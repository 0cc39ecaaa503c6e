import * as v from 'valibot';
import { InputError } from '../../base/errors.ts';
import { counted } from '../../base/format.ts';
import { count, quantity } from '../../base/schema.ts';
import { type CrystalLayer, planCrystals } from '../../chamber/crystal-life.ts';
import type { IndexSpec } from '../../materials/index-spec.ts';
import { findMaterial } from '../../materials/library.ts';
import type { CrystalStock } from '../../monitor/crystal-stock.ts';

/** What the crystal needs to know of a layer's film; a material of the library brings density and Z-ratio. */
export const crystalFilmFields = {
  densityGPerCm3: v.exactOptional(quantity('g/cm3', { above: 0, max: 30 }, 'needed with "crystals"')),
  zRatio: v.exactOptional(quantity('', { min: 0.01, max: 10 }, 'quartz over film; 1 where nobody knows')),
  crystalTooling: v.exactOptional(
    quantity('', { min: 0.001, max: 1000 }, 'thickness on the crystal / on the lens (default 1)'),
  ),
};

/** The crystals of a run. */
export const crystalsShape = v.strictObject({
  frequencyHz: v.optional(quantity('Hz', { min: 1e5, max: 1e8 }, 'of a clean crystal'), 6e6),
  budgetHz: quantity('Hz', { above: 0, max: 5e7 }, 'fall at which a crystal is changed'),
  usedHz: v.optional(quantity('Hz', { min: 0, max: 5e7 }, 'what the first one has lost already'), 0),
  count: v.exactOptional(count({ min: 1, max: 100 }, 'crystals in the holder; left out: enough')),
});

interface FilmFields {
  readonly densityGPerCm3?: number;
  readonly zRatio?: number;
  readonly crystalTooling?: number;
}

/**
 * The crystals made ready for the runs, with what is doubtful about them in sentences.
 * @throws InputError where the crystals cannot follow a layer or its density is not known.
 */
export function crystalStockOf(
  crystals: v.InferOutput<typeof crystalsShape> | undefined,
  fields: readonly FilmFields[],
  layers: readonly { readonly thicknessNm: number; readonly spec: IndexSpec }[],
): { readonly stock: CrystalStock; readonly doubts: readonly string[] } | undefined {
  if (crystals === undefined) return undefined;
  const films = layers.map(({ thicknessNm, spec }, index): CrystalLayer => {
    const { crystalTooling = 1, ...own } = fields[index]!;
    const film = typeof spec === 'string' ? findMaterial(spec)?.film : undefined;
    const densityGPerCm3 = own.densityGPerCm3 ?? film?.densityGPerCm3.value;
    if (densityGPerCm3 === undefined)
      throw new InputError(`monitor.layers[${index}].densityGPerCm3`, 'is missing; the crystals need it');
    const zRatio = own.zRatio ?? film?.zRatio.value ?? 1;
    return { thicknessNm, densityGPerCm3, zRatio, tooling: 1 / crystalTooling };
  });
  const { frequencyHz, budgetHz, usedHz } = crystals;
  const steps = within(() => planCrystals(films, { frequencyHz, budgetHz, usedHz }));
  const needed = 1 + steps.filter(({ changeBefore }) => changeBefore).length;
  const held = crystals.count;
  return {
    stock: {
      ...{ budgetHz, usedHz },
      ...(held === undefined ? {} : { count: held }),
      fallHzPerNm: steps.map(({ startHz, endHz }, index) => {
        const { thicknessNm } = films[index]!;
        return thicknessNm === 0 ? 0 : (endHz - startHz) / thicknessNm;
      }),
    },
    doubts: [
      ...steps.flatMap(({ overBudget, endHz }, layer) =>
        overBudget
          ? [
              `monitor.layers[${layer}]: even a fresh crystal falls by ${Math.round(endHz)} Hz in this layer; its budget is ${budgetHz} Hz.`,
            ]
          : [],
      ),
      ...(held !== undefined && needed > held
        ? [`crystals.count: the plan takes ${counted(needed, 'crystal')}, the holder has ${held}.`]
        : []),
    ],
  };
}

/** The plan of the crystals names their fields without their place in the request. */
function within<Result>(plan: () => Result): Result {
  try {
    return plan();
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const path = error.path.startsWith('layers') ? `monitor.${error.path}` : `crystals.${error.path}`;
    throw new InputError(path, error.reason);
  }
}
