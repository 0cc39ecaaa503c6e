import { describe, expect, it } from 'vitest';
import { COLOUR_WAVELENGTHS_NM, colourOf, spectrumForColour } from '../../src/optics/colour.ts';

const flat = (value: number) => COLOUR_WAVELENGTHS_NM.map(() => value);

/** From XYZ to linear sRGB (IEC 61966-2-1, from memory). */
const screen = [
  [3.2406, -1.5372, -0.4986],
  [-0.9689, 1.8758, 0.0415],
  [0.0557, -0.204, 1.057],
];
const times = (rows: number[][], vector: number[]) =>
  rows.map((row) => row.reduce((sum, value, i) => sum + value * vector[i]!, 0));
const shown = (srgb: string) => [1, 3, 5].map((at) => Number.parseInt(srgb.slice(at, at + 2), 16));

describe('a colour', () => {
  it.each([
    // Sums over the tables of colour-science/colour, commit 9d743142 (CIE 015); D65 is widely quoted as
    // 95.047, 108.883: the difference is the cut at 380 and 780 nm and the step of 5 nm.
    ['D65', 95.043, 108.8801],
    ['A', 109.849, 35.5825],
  ] as const)('of perfect white under %s is the illuminant: X %f, Y 100, Z %f', (illuminant, X, Z) => {
    const white = colourOf(flat(1), illuminant);
    expect(white.X).toBeCloseTo(X, 3);
    expect(white.Y).toBeCloseTo(100, 12);
    expect(white.Z).toBeCloseTo(Z, 3);
    expect([white.L, white.a, white.b]).toEqual([100, 0, 0]);
    expect(white.srgb).toBe('#ffffff');
    expect(white.outOfGamut).toBe(false);
  });

  it('of equal energy has chromaticity one third, one third (CIE 1931, by construction of its functions)', () => {
    const white = colourOf(flat(1), 'E');
    expect(white.x).toBeCloseTo(1 / 3, 4);
    expect(white.y).toBeCloseTo(1 / 3, 4);
  });

  it('of an even grey of 18.4 % has L* 50 and no hue, whatever the light', () => {
    for (const illuminant of ['D65', 'A', 'E'] as const) {
      const grey = colourOf(flat((66 / 116) ** 3), illuminant);
      // L* = 116 (Y/Yn)^(1/3) − 16: 50 at (66 / 116)³ (CIE 1976).
      expect(grey.L).toBeCloseTo(50, 4);
      expect(grey.a).toBeCloseTo(0, 10);
      expect(grey.b).toBeCloseTo(0, 10);
      // sRGB of L* = 50, R = G = B (IEC 61966-2-1 computed by hand: 0.4663 · 255 = 119).
      expect(grey.srgb).toBe('#777777');
    }
  });

  it('of black keeps the chromaticity of the light', () => {
    const black = colourOf(flat(0), 'D65');
    expect([black.X, black.Y, black.Z, black.L]).toEqual([0, 0, 0, 0]);
    expect(black.x).toBeCloseTo(0.3127, 3);
    expect(black.srgb).toBe('#000000');
  });

  it.each([
    // CIE 1931 chromaticities of the spectral locus (standard table, from memory).
    [450, 0.1566, 0.0177],
    [520, 0.0743, 0.8338],
    [600, 0.627, 0.3725],
  ])('of light at %i nm lies on the spectral locus and outside of what a screen shows', (only, x, y) => {
    const pure = colourOf(
      COLOUR_WAVELENGTHS_NM.map((nm) => (nm === only ? 1 : 0)),
      'E',
    );
    expect(pure.x).toBeCloseTo(x, 4);
    expect(pure.y).toBeCloseTo(y, 4);
    expect(pure.outOfGamut).toBe(true);
  });

  it('on a screen under equal energy is adapted by Bradford’s published matrix from E to D65', () => {
    // B. Lindbloom's table of chromatic adaptation matrices, and the curve of IEC 61966-2-1: from memory.
    const adaptation = [
      [0.9531874, -0.0265906, 0.0238731],
      [-0.0382467, 1.0288406, 0.009406],
      [0.0026068, -0.0030332, 1.0892565],
    ];
    for (const rising of [true, false]) {
      const spectrum = COLOUR_WAVELENGTHS_NM.map((nm) => 0.25 + ((rising ? 1 : -1) * (nm - 580)) / 900);
      const { X, Y, Z, srgb, outOfGamut } = colourOf(spectrum, 'E');
      expect(outOfGamut).toBe(false);
      const linear = times(screen, times(adaptation, [X / 100, Y / 100, Z / 100]));
      linear.forEach((value, channel) => {
        const curved = value <= 0.0031308 ? 12.92 * value : 1.055 * value ** (1 / 2.4) - 0.055;
        expect(Math.abs(shown(srgb)[channel]! - 255 * curved)).toBeLessThan(1);
      });
    }
  });

  it.each([
    // CIE 1976: L* = (24389/27) Y/Yn up to Y/Yn = 216/24389; IEC 61966-2-1: 12.92 times the linear value up to 0.0031308.
    [0.002, 1.806593, '#070707'],
    [0.005, 4.516481, '#101010'],
    [0.0088, 7.949008, '#171717'],
    [0.00886, 8.003192, '#181818'],
  ])('of a dark grey of %f has L* %f and is %s', (value, L, srgb) => {
    const grey = colourOf(flat(value), 'D65');
    expect(grey.L).toBeCloseTo(L, 4);
    expect(grey.a).toBeCloseTo(0, 10);
    expect(grey.srgb).toBe(srgb);
  });

  it('keeps a*, b* of what is dark in the straight part of the curve: 500 and 200 times κ/116 of the ratios’ differences', () => {
    const dark = COLOUR_WAVELENGTHS_NM.map((nm) => (0.004 * (nm - 380)) / 400);
    const [here, white] = [colourOf(dark, 'A'), colourOf(flat(1), 'A')];
    const ratio = (of: 'X' | 'Y' | 'Z') => ((24389 / 27 / 116) * here[of]) / white[of];
    expect(here.a).toBeCloseTo(500 * (ratio('X') - ratio('Y')), 12);
    expect(here.b).toBeCloseTo(200 * (ratio('Y') - ratio('Z')), 12);
    expect(here.a).toBeGreaterThan(0.1);
    expect(here.b).toBeGreaterThan(0.1);
  });

  it('under incandescent light is adapted to daylight by Bradford’s published matrix from A to D65', () => {
    // B. Lindbloom's table of chromatic adaptation matrices: from memory.
    const adaptation = [
      [0.8446965, -0.1179225, 0.3948108],
      [-0.1366303, 1.1041226, 0.1291718],
      [0.0798489, -0.1348999, 3.1924009],
    ];
    const spectrum = COLOUR_WAVELENGTHS_NM.map((nm) => 0.2 + (nm - 380) / 1000);
    const { X, Y, Z, srgb } = colourOf(spectrum, 'A');
    const linear = times(screen, times(adaptation, [X / 100, Y / 100, Z / 100]));
    linear.forEach((value, channel) => {
      expect(Math.abs(shown(srgb)[channel]! - 255 * (1.055 * value ** (1 / 2.4) - 0.055))).toBeLessThan(1);
    });
  });

  it('leaves the screen’s range only beyond 0.001 of it, which the rounding of tables makes', () => {
    for (const [value, isOut] of [
      [1.0007, false],
      [1.0013, true],
    ] as const)
      expect(colourOf(flat(value), 'E').outOfGamut).toBe(isOut);
    // Light of 520 nm on grey: red is less than nothing by so much.
    const narrow = COLOUR_WAVELENGTHS_NM.map((nm) => (nm === 520 ? 1 : 0));
    const red = ({ X, Y, Z }: { X: number; Y: number; Z: number }) =>
      times(screen, [X / 100, Y / 100, Z / 100])[0]!;
    const [less, grey] = [red(colourOf(narrow, 'D65')), red(colourOf(flat(1), 'D65'))];
    for (const [wanted, isOut] of [
      [-0.0008, false],
      [-0.0012, true],
    ] as const) {
      const level = (wanted - 0.3 * less) / grey;
      const mixed = colourOf(
        narrow.map((value) => 0.3 * value + level),
        'D65',
      );
      expect(mixed.outOfGamut).toBe(isOut);
      expect(mixed.srgb.slice(1, 3)).toBe('00');
    }
  });

  it('brighter than the screen’s white in one channel is out of its range, as one darker than black is', () => {
    const red = colourOf(
      COLOUR_WAVELENGTHS_NM.map((nm) => (nm >= 570 ? 1 : 0.6)),
      'D65',
    );
    expect(red.srgb.slice(1, 3)).toBe('ff');
    expect(red.outOfGamut).toBe(true);
  });

  it('adds as light does: X, Y, Z of a sum are the sums', () => {
    const slope = COLOUR_WAVELENGTHS_NM.map((nm) => (nm - 380) / 400);
    const rest = slope.map((value) => 1 - value);
    const [one, other] = [colourOf(slope, 'D65'), colourOf(rest, 'D65')];
    expect(one.X + other.X).toBeCloseTo(95.043, 3);
    expect(one.Y + other.Y).toBeCloseTo(100, 10);
  });

  it('takes a spectrum on its own wavelengths by straight lines, and refuses one that is too short', () => {
    const nm = Float64Array.of(300, 500, 800);
    expect(spectrumForColour(nm, Float64Array.of(0, 0.2, 0.5))[24]).toBeCloseTo(0.2, 14);
    expect(spectrumForColour(nm, Float64Array.of(0, 0.2, 0.5))[25]).toBeCloseTo(0.205, 14);
    expect(() => spectrumForColour(Float64Array.of(400, 700), Float64Array.of(0, 0))).toThrow(
      'wavelengthNm: the spectrum reaches from 400 to 700 nm; colour needs 380 to 780 nm',
    );
    expect(() => spectrumForColour(Float64Array.of(381, 780), Float64Array.of(0, 0))).toThrow(
      'wavelengthNm: the spectrum reaches from 381 to 780 nm; colour needs 380 to 780 nm',
    );
    expect(spectrumForColour(Float64Array.of(380, 780), Float64Array.of(0, 1))[80]).toBe(1);
    expect(() => spectrumForColour(Float64Array.of(300, 300, 800), Float64Array.of(0, 0, 0))).toThrow(
      'wavelengthNm[1]: 300 nm is not above 300 nm, the wavelength before it',
    );
    expect(() => colourOf(flat(-0.1), 'D65')).toThrow('spectrum[0]: -0.1 is below 0');
  });
});
