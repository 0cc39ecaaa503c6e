import * as v from 'valibot';
import { listed } from '../base/format.ts';
import { list, quantity, shown, word } from '../base/schema.ts';

/** What a requirement speaks of: reflected, transmitted or absorbed light. */
export type SpectralQuantity = 'R' | 'T' | 'A';

const bandEdge = quantity('nm', { min: 50, max: 100_000 });

const fields = v.strictObject({
  quantity: word(['R', 'T', 'A'], 'reflectance, transmittance or absorptance'),
  statistic: word(['mean', 'max', 'min'], 'what of the quantity over the band counts'),
  limit: quantity('%', { min: 0, max: 100 }, 'the limit in percent'),
  sense: v.optional(word(['below', 'above'], 'which side is good; left out: below for R and A, above for T')),
  bandNm: v.pipe(
    v.tuple([bandEdge, bandEdge], (issue) => `${shown(issue.input)} is not a pair of wavelengths in nm`),
    v.check(
      ([from, to]) => from <= to,
      (issue) => `the band begins at ${issue.input[0]} nm, above its end at ${issue.input[1]} nm`,
    ),
    v.metadata({ note: 'both ends included; equal ends mean a line' }),
  ),
  incidenceDeg: v.optional(
    list(
      quantity('°', { min: 0, below: 90 }),
      { min: 1, max: 20 },
      'angles in the incident medium, each required',
    ),
    [0],
  ),
  polarization: v.optional(word(['mean', 's', 'p'], 'mean: unpolarized light'), 'mean'),
  weight: v.optional(quantity('', { above: 0, max: 1e6 }, 'relative weight in the search'), 1),
});

/** The schema of a requirement: a sentence in numbers. Parsing fills the defaults in. */
export const requirement = v.pipe(
  fields,
  v.transform((given): Requirement => ({ ...given, sense: given.sense ?? usualSense(given.quantity) })),
);

/** A requirement on a coated surface; the limit in percent, angles in degrees in the incident medium. */
export interface Requirement {
  readonly quantity: SpectralQuantity;
  readonly statistic: 'mean' | 'max' | 'min';
  readonly limit: number;
  readonly sense: 'below' | 'above';
  readonly bandNm: readonly [number, number];
  readonly incidenceDeg: readonly number[];
  readonly polarization: 'mean' | 's' | 'p';
  readonly weight: number;
}

/** Less is good in what is lost, more in what gets through. */
export function usualSense(quantity: SpectralQuantity): 'below' | 'above' {
  return quantity === 'T' ? 'above' : 'below';
}

/** The requirement as a short line: "R mean ≤ 0.4 %, 430–670 nm, 0° and 25°". */
export function describeRequirement(requirement: Requirement): string {
  const { quantity, statistic, limit, sense, bandNm, incidenceDeg, polarization } = requirement;
  const [from, to] = bandNm;
  const isLine = from === to;
  const what = isLine ? quantity : `${quantity} ${statistic}`;
  const band = isLine ? `${from} nm` : `${from}–${to} nm`;
  const angles = listed(incidenceDeg.map((angle) => `${angle}°`));
  const light = polarization === 'mean' ? '' : `, ${polarization} polarized`;
  return `${what} ${sense === 'below' ? '≤' : '≥'} ${limit} %, ${band}, ${angles}${light}`;
}
