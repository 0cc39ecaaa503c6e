import * as v from 'valibot';
import { InputError } from '../base/errors.ts';
import { list, quantity, word } from '../base/schema.ts';
import { type IndexSpec, resolveIndex } from '../materials/index-spec.ts';
import { type ChosenSight, chooseSights } from '../monitor/choose-sight.ts';
import type { MonitoredLayer, Witness } from '../monitor/witness.ts';
import { wavelengthGrid } from './grid.ts';
import { cutRule, noiseShape } from './monitor-shapes.ts';

const rate = quantity('nm/s', { min: 1e-4, max: 1000 }, 'set rate on the lens');

/** What the automatic choice of wavelength and rule may take from. */
export const chooseShape = v.strictObject({
  wavelengthNm: v.optional(wavelengthGrid, { from: 400, to: 800, step: 10 }),
  signals: v.optional(list(word(['R', 'T']), { min: 1, max: 2 }), ['R']),
  rules: v.optional(list(cutRule, { min: 1, max: 5 }), ['level', 'swing', 'turning-point', 'crystal']),
  noise: v.optional(noiseShape, {}),
  rateNmPerS: v.optional(
    v.union([list(rate, { min: 1, max: 1000 }), rate], 'is neither a rate in nm/s nor a list of rates'),
    0.5,
  ),
});

/** Most candidates times layers of one request. */
const MOST_TRIALS = 50_000;

/**
 * Chooses among those wavelengths at which every material of the layers has data.
 * @throws InputError where none is left, or too many are asked for.
 */
export function chooseForRequest(
  monitored: readonly MonitoredLayer[],
  witness: Witness,
  layers: readonly { readonly material: IndexSpec }[],
  { wavelengthNm, signals, rules, noise, rateNmPerS }: v.InferOutput<typeof chooseShape>,
): ChosenSight[] {
  const trials = wavelengthNm.length * monitored.length;
  if (trials > MOST_TRIALS)
    throw new InputError(
      'choose.wavelengthNm',
      `${wavelengthNm.length} wavelengths for ${monitored.length} layers are more than ${MOST_TRIALS} trials`,
    );
  const known = [...new Set(layers.map(({ material }) => material))].map(
    (material) => resolveIndex(material, wavelengthNm).inRange,
  );
  const usable = wavelengthNm.filter((_, i) => known.every((inRange) => inRange[i]));
  if (usable.length === 0)
    throw new InputError('choose.wavelengthNm', 'at none of these wavelengths do all materials have data');
  if (typeof rateNmPerS !== 'number' && rateNmPerS.length !== monitored.length)
    throw new InputError(
      'choose.rateNmPerS',
      `${rateNmPerS.length} rates stand against ${monitored.length} layers`,
    );
  const rateOf = (index: number) => (typeof rateNmPerS === 'number' ? rateNmPerS : rateNmPerS[index]!);
  return chooseSights(
    witness,
    monitored.map((layer, index) => ({ ...layer, rateNmPerS: rateOf(index) })),
    noise,
    { wavelengthNm: usable, signals, rules },
  );
}
