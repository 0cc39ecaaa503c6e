import { InputError } from '../base/errors.ts';
import { interpolateLinearly } from '../math/linear-interpolation.ts';

/** A line that the instrument wrote, as fractions at ascending wavelengths. */
export interface BaselineLine {
  readonly name: string;
  readonly wavelengthNm: ArrayLike<number>;
  readonly values: ArrayLike<number>;
}

/** What the instrument shows without light, with the reference, and what the reference truly has. */
export interface Baseline {
  /** Left out: 0 everywhere. */
  readonly zero?: BaselineLine | undefined;
  /** Left out: 1 everywhere. */
  readonly full?: BaselineLine | undefined;
  /** True fraction of what stood in the beam for `full`, a number or a line; left out: 1. */
  readonly reference?: number | BaselineLine | undefined;
}

/** Between its 0 % and its 100 % line an instrument must show at least this much of full scale. */
const LEAST_SPAN = 0.005;

/**
 * Puts readings on the scale of a reference: reference × (reading − zero) / (full − zero), the two-point scale of a
 * ratio-recording instrument (textbook relation). Lines are interpolated between their points.
 * @throws InputError where a line does not cover the spectrum, or zero and full lie too close together.
 */
export function correctBaseline(
  wavelengthNm: Float64Array,
  values: Float64Array,
  { zero, full, reference = 1 }: Baseline,
): Float64Array {
  const zeroAt = reader(zero, 0, wavelengthNm);
  const fullAt = reader(full, 1, wavelengthNm);
  const referenceAt = typeof reference === 'number' ? () => reference : reader(reference, 1, wavelengthNm);
  return values.map((value, w) => {
    const nm = wavelengthNm[w]!;
    const span = fullAt(nm) - zeroAt(nm);
    if (!(span >= LEAST_SPAN))
      throw new InputError(
        'baseline',
        `at ${Number(nm.toPrecision(5))} nm the 100 % line lies ${(100 * span).toFixed(2)} % above the 0 % line; it must be at least ${100 * LEAST_SPAN} %`,
      );
    return (referenceAt(nm) * (value - zeroAt(nm))) / span;
  });
}

function reader(
  line: BaselineLine | undefined,
  otherwise: number,
  wavelengthNm: Float64Array,
): (nm: number) => number {
  if (line === undefined) return () => otherwise;
  const x = Float64Array.from(line.wavelengthNm);
  const y = Float64Array.from(line.values);
  const [from, to] = [wavelengthNm[0]!, wavelengthNm.at(-1)!];
  if (x.length < 2 || x[0]! > from || x.at(-1)! < to)
    throw new InputError(
      'baseline',
      `${line.name} covers ${x[0]} to ${x.at(-1)} nm, and the spectrum needs ${from} to ${to} nm`,
    );
  return (nm) => interpolateLinearly(x, y, nm);
}
