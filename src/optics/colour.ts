import { InputError, requireEachWithin } from '../base/errors.ts';
import { interpolateLinearly } from '../math/linear-interpolation.ts';
import cie from './cie-1931.json' with { type: 'json' };

/** Daylight, incandescent light, and light of equal power at every wavelength. */
export type Illuminant = 'D65' | 'A' | 'E';

/** Tristimulus values; the illuminant itself has Y = 100. */
export interface Xyz {
  readonly X: number;
  readonly Y: number;
  readonly Z: number;
}

/** The colour of a surface as the CIE 1931 standard observer (2°) sees it. */
export interface Colour extends Xyz {
  /** Chromaticity; that of the illuminant where the surface is black. */
  readonly x: number;
  readonly y: number;
  /** CIE 1976 L*, a*, b* with the illuminant as white. */
  readonly L: number;
  readonly a: number;
  readonly b: number;
  /** For a screen: #rrggbb. See `srgbOf`. */
  readonly srgb: string;
  /** Whether a channel had to be cut to the range that a screen can show. */
  readonly outOfGamut: boolean;
}

/** The wavelengths over which colours are summed: 380 to 780 nm by 5 nm. */
export const COLOUR_WAVELENGTHS_NM: Float64Array = Float64Array.from(cie.rows, (row) => row[0]!);

/**
 * The colour of a spectrum given at COLOUR_WAVELENGTHS_NM, as fractions (0..1):
 * X = k Σ S x̄ R, … with k = 100 / Σ S ȳ (CIE 015).
 * @throws InputError where a value is not a finite number from 0.
 */
export function colourOf(spectrum: Float64Array, illuminant: Illuminant): Colour {
  if (spectrum.length !== COLOUR_WAVELENGTHS_NM.length)
    throw new InputError(
      'spectrum',
      `the spectrum has ${spectrum.length} values where ${COLOUR_WAVELENGTHS_NM.length} are needed, 380 to 780 nm by 5 nm`,
    );
  requireEachWithin('spectrum', spectrum, '', { min: 0 });
  const white = tristimulus(undefined, illuminant);
  const xyz = tristimulus(spectrum, illuminant);
  const sum = xyz.X + xyz.Y + xyz.Z;
  const toned = sum > 0 ? xyz : white;
  const all = toned.X + toned.Y + toned.Z;
  return {
    ...xyz,
    x: toned.X / all,
    y: toned.Y / all,
    ...labOf(xyz, white),
    ...srgbOf(xyz, white, illuminant),
  };
}

/**
 * A spectrum on its own wavelengths, brought to COLOUR_WAVELENGTHS_NM by straight lines between its points.
 * @throws InputError where the wavelengths do not ascend or do not reach from 380 to 780 nm.
 */
export function spectrumForColour(wavelengthNm: Float64Array, values: Float64Array): Float64Array {
  if (values.length !== wavelengthNm.length)
    throw new InputError('R', `there are ${values.length} values for ${wavelengthNm.length} wavelengths`);
  for (let i = 1; i < wavelengthNm.length; i++) {
    if (!(wavelengthNm[i]! > wavelengthNm[i - 1]!))
      throw new InputError(
        `wavelengthNm[${i}]`,
        `${wavelengthNm[i]} nm is not above ${wavelengthNm[i - 1]} nm, the wavelength before it`,
      );
  }
  const [first, last] = [wavelengthNm[0] ?? Number.NaN, wavelengthNm.at(-1) ?? Number.NaN];
  if (!(first <= 380 && last >= 780))
    throw new InputError(
      'wavelengthNm',
      `the spectrum reaches from ${first} to ${last} nm; colour needs 380 to 780 nm`,
    );
  return COLOUR_WAVELENGTHS_NM.map((nm) => interpolateLinearly(wavelengthNm, values, nm));
}

const ILLUMINANT_COLUMN = { D65: 4, A: 5, E: undefined } as const;

/** `spectrum` undefined stands for a perfect white. */
function tristimulus(spectrum: Float64Array | undefined, illuminant: Illuminant): Xyz {
  const column = ILLUMINANT_COLUMN[illuminant];
  let [X, Y, Z, white] = [0, 0, 0, 0];
  cie.rows.forEach((row, i) => {
    const power = column === undefined ? 1 : row[column]!;
    const value = power * (spectrum === undefined ? 1 : spectrum[i]!);
    X += value * row[1]!;
    Y += value * row[2]!;
    Z += value * row[3]!;
    white += power * row[2]!;
  });
  const k = 100 / white;
  return { X: k * X, Y: k * Y, Z: k * Z };
}

/** CIE 1976 L*a*b* (CIE 015, with the exact fractions of its 2004 edition: from memory). */
function labOf(xyz: Xyz, white: Xyz): { L: number; a: number; b: number } {
  const epsilon = 216 / 24389;
  const kappa = 24389 / 27;
  const root = (ratio: number) => (ratio > epsilon ? Math.cbrt(ratio) : (kappa * ratio + 16) / 116);
  const [fx, fy, fz] = [root(xyz.X / white.X), root(xyz.Y / white.Y), root(xyz.Z / white.Z)];
  return { L: 116 * fy - 16, a: 500 * (fx - fy), b: 200 * (fy - fz) };
}

/**
 * The colour on a screen (IEC 61966-2-1), matrix and curve from memory. Under another light than D65 the eye
 * is taken to be adapted to it: white stays white, by Bradford's cone responses (from memory). A channel
 * below 0 or above 1 is cut there, each by itself, and `outOfGamut` says so; rounding of the tables within
 * 0.001 does not count.
 */
function srgbOf(xyz: Xyz, white: Xyz, illuminant: Illuminant): { srgb: string; outOfGamut: boolean } {
  const adapted = illuminant === 'D65' ? xyz : adapt(xyz, white, tristimulus(undefined, 'D65'));
  const linear = times(SRGB_FROM_XYZ, [adapted.X / 100, adapted.Y / 100, adapted.Z / 100]);
  const hex = linear.map((value) => {
    const cut = Math.min(1, Math.max(0, value));
    const curved = cut <= 0.0031308 ? 12.92 * cut : 1.055 * cut ** (1 / 2.4) - 0.055;
    return Math.round(255 * curved)
      .toString(16)
      .padStart(2, '0');
  });
  return {
    srgb: `#${hex.join('')}`,
    outOfGamut: linear.some((value) => value < -0.001 || value > 1.001),
  };
}

type Triple = readonly [number, number, number];

const SRGB_FROM_XYZ: readonly [Triple, Triple, Triple] = [
  [3.2406, -1.5372, -0.4986],
  [-0.9689, 1.8758, 0.0415],
  [0.0557, -0.204, 1.057],
];

const BRADFORD: readonly [Triple, Triple, Triple] = [
  [0.8951, 0.2664, -0.1614],
  [-0.7502, 1.7135, 0.0367],
  [0.0389, -0.0685, 1.0296],
];

function times(matrix: readonly [Triple, Triple, Triple], [x, y, z]: Triple): Triple {
  const row = ([a, b, c]: Triple) => a * x + b * y + c * z;
  return [row(matrix[0]), row(matrix[1]), row(matrix[2])];
}

function adapt(xyz: Xyz, from: Xyz, to: Xyz): Xyz {
  const cones = ({ X, Y, Z }: Xyz) => times(BRADFORD, [X, Y, Z]);
  const [seen, dark, light] = [cones(xyz), cones(from), cones(to)];
  const scaled: Triple = [
    (seen[0] * light[0]) / dark[0],
    (seen[1] * light[1]) / dark[1],
    (seen[2] * light[2]) / dark[2],
  ];
  const [X, Y, Z] = solve3(BRADFORD, scaled);
  return { X, Y, Z };
}

/** Cramer's rule for three equations. */
function solve3([r1, r2, r3]: readonly [Triple, Triple, Triple], [u, v, w]: Triple): Triple {
  const det = (a: Triple, b: Triple, c: Triple) =>
    a[0] * (b[1] * c[2] - b[2] * c[1]) -
    a[1] * (b[0] * c[2] - b[2] * c[0]) +
    a[2] * (b[0] * c[1] - b[1] * c[0]);
  const whole = det(r1, r2, r3);
  const replaced = (column: 0 | 1 | 2) => {
    const put = (row: Triple, value: number) =>
      row.map((old, i) => (i === column ? value : old)) as unknown as Triple;
    return det(put(r1, u), put(r2, v), put(r3, w)) / whole;
  };
  return [replaced(0), replaced(1), replaced(2)];
}
