import * as v from 'valibot';
import { RAD_PER_DEG } from '../../base/constants.ts';
import { InputError } from '../../base/errors.ts';
import { list, quantity, word, yesOrNo } from '../../base/schema.ts';
import { type AsBuilt, fitAsBuilt, type MaterialGroup } from '../../inspect/as-built-fit.ts';
import { explainDeviation } from '../../inspect/explain-deviation.ts';
import { wavelengthGrid } from '../grid.ts';
import { type LayerRequest, resolveStack, stackFields } from '../shapes.ts';
import { defineTask } from '../task.ts';

const measured = v.strictObject({
  wavelengthNm: wavelengthGrid,
  values: list(
    quantity('', { min: -0.1, max: 1.1 }),
    { min: 1, max: 20_000 },
    'measured fractions, one a wavelength',
  ),
  quantity: word(['R', 'T']),
  incidenceDeg: v.optional(quantity('°', { min: 0, max: 89 }, 'in the incident medium'), 0),
  polarization: v.optional(word(['mean', 's', 'p'], 'mean: unpolarized light'), 'mean'),
});

export default defineTask({
  name: 'fit',
  summary: 'The coating as it was built, from a measured spectrum: thickness and index factors.',
  request: v.strictObject({
    ...stackFields,
    measured,
    free: word(['materials', 'layers'], 'one thickness factor a material, or one a layer'),
    indexScale: v.optional(yesOrNo('also one index factor a material'), false),
    compare: v.optional(yesOrNo('also weigh stories of what went wrong against one another'), false),
  }),
  example: {
    layers: [{ material: 'mgf2', thicknessNm: 95 }],
    substrate: '517642',
    measured: {
      wavelengthNm: { from: 450, to: 650, step: 25 },
      values: [0.0163, 0.0144, 0.0134, 0.0129, 0.0128, 0.013, 0.0136, 0.0143, 0.0153],
      quantity: 'R',
    },
    free: 'materials',
  },
  run(request) {
    const { layers, measured, free, indexScale, compare } = request;
    const { wavelengthNm, values, quantity, incidenceDeg, polarization } = measured;
    if (values.length !== wavelengthNm.length)
      throw new InputError(
        'measured.values',
        `there are ${values.length} values for ${wavelengthNm.length} wavelengths`,
      );
    const { stack, thicknessNm, plate, warnings } = resolveStack(request, wavelengthNm);
    const coating = {
      stack,
      thicknessNm,
      ...(plate === undefined ? {} : { plate }),
      quantity,
      values: Float64Array.from(values),
      incidenceRad: incidenceDeg * RAD_PER_DEG,
      polarization,
    };
    const groups = materialGroups(layers);
    const built = fitAsBuilt(coating, groups, { free, indexScale });
    const comparison = compare ? explainDeviation(coating, groups) : undefined;
    return {
      factors: built.factors.map(({ layers: of, ...factor }) => ({
        ...(free === 'materials' ? { material: layers[of[0]!]!.material } : { layer: of[0]! }),
        ...factor,
      })),
      residualRmsPercent: 100 * built.residualRms,
      identifiable: built.identifiable,
      layers: layers.map((layer, i) => ({ ...layer, thicknessNm: built.thicknessNm[i]! })),
      fitted: built.fitted,
      correlation: rowsOf(built),
      residual: built.residual,
      ...(comparison === undefined
        ? {}
        : {
            verdict: comparison.verdict,
            decided: comparison.isDecided,
            explanations: comparison.explanations.map(({ kind, sentence, probability, residualRms }) => ({
              kind,
              sentence,
              probability,
              residualRmsPercent: 100 * residualRms,
            })),
          }),
      warnings: [...warnings, ...built.warnings],
    };
  },
});

/** The layers of each material, in the order in which the materials first appear. */
function materialGroups(layers: readonly LayerRequest[]): MaterialGroup[] {
  const groups = new Map<string, { name: string; layers: number[] }>();
  for (const [i, { material }] of layers.entries()) {
    const key = JSON.stringify(material);
    const name = typeof material === 'object' ? `material ${groups.size + 1}` : String(material);
    const group = groups.get(key) ?? { name, layers: [] };
    group.layers.push(i);
    groups.set(key, group);
  }
  return [...groups.values()];
}

function rowsOf({ fitted, correlation }: AsBuilt): number[][] {
  return fitted.map((_, row) =>
    Array.from(correlation.subarray(row * fitted.length, (row + 1) * fitted.length)),
  );
}
