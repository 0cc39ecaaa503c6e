import { describe, expect, it } from 'vitest';
import { orderPoints, runsOneWay } from '../../src/inspect/order-points.ts';
import { checkFractions, fractions, likelyScale } from '../../src/inspect/value-axis.ts';
import { likelyUnit, wavelengthsNm } from '../../src/inspect/x-axis.ts';
import { startingWith } from '../support/refusals.ts';

describe('a spectral axis', () => {
  it.each([
    ['nm', 632.8, 632.8],
    ['um', 1.064, 1064],
    ['angstrom', 6328, 632.8],
    ['cm-1', 20_000, 500],
    ['eV', 2, 619.920992], // h c / e = 1239.841984 eV nm (CODATA 2018)
  ] as const)('in %s has its wavelengths in nm', (unit, value, nm) => {
    expect(wavelengthsNm([value], unit)[0]).toBeCloseTo(nm, 6);
  });

  it('has no wavelength of 0 or below', () => {
    expect(wavelengthsNm([1e-9], 'nm')).toEqual([1e-9]);
    for (const wrong of [0, -500])
      expect(() => wavelengthsNm([400, wrong], 'cm-1')).toThrow(
        startingWith(`${wrong} is not above 0 on the spectral axis (read as cm-1)`),
      );
  });

  it.each([
    [[0.1, 50], 'um'],
    [[0.0999, 50], 'nm'],
    [[0.1, 50.1], 'nm'],
    [[200, 5000], 'nm'],
    [[200, 5001], 'cm-1'],
    [[5001, 400], 'cm-1'],
    [[2.5, 0.4], 'um'],
  ])('without a unit that goes from %j is most likely in %s', (x, unit) => {
    expect(likelyUnit(x)).toBe(unit);
  });
});

describe('values', () => {
  it('are fractions as they stand, percent over 100, and 10 to the power of minus the absorbance', () => {
    expect(fractions([0.5, 1], 'fraction')).toEqual([0.5, 1]);
    expect(fractions([50, 1], 'percent')).toEqual([0.5, 0.01]);
    expect(fractions([0, 2], 'absorbance')).toEqual([1, 0.01]);
  });

  it('without a scale are percent from above 1.5', () => {
    expect(likelyScale([0.1, 1.5, 0.2])).toBe('fraction');
    expect(likelyScale([0.1, 1.51, 0.2])).toBe('percent');
  });

  const nm = [400, 500.1234, 600];

  it('stray beyond 0 or 1 by 2 % at most, and the farthest is named', () => {
    expect(checkFractions([0, 0.5, 1], nm, 'T')).toEqual([]);
    expect(checkFractions([1.01, 1.0156, -0.01], nm, 'T')).toEqual([
      'T is 101.6 % at 500.123 nm, above 100 % by noise or by the reference; the values are kept as they are.',
    ]);
    expect(checkFractions([-0.02, 1.01, 0.5], nm, 'R')).toEqual([
      'R is -2 % at 400 nm, below 0 % by noise or by the reference; the values are kept as they are.',
    ]);
    expect(checkFractions([0.1, 0.5, 1.02], nm, 'R')).toHaveLength(1);
  });

  it('that stray farther are refused', () => {
    expect(() => checkFractions([0.5, 1.0201, 0], nm, 'T')).toThrow(
      startingWith(
        'T is 102 % at 500.123 nm, above 100 %; check the reference and the scale (fraction, percent or absorbance)',
      ),
    );
    expect(() => checkFractions([0.5, 0.5, -0.0201], nm, 'T')).toThrow('T is -2.01 % at 600 nm, below 0 %;');
  });
});

describe('the points of a spectrum', () => {
  it('are put in ascending order, which is said where they were in none', () => {
    expect(orderPoints([600, 500, 400], [3, 2, 1])).toEqual({
      x: Float64Array.of(400, 500, 600),
      y: Float64Array.of(1, 2, 3),
      warnings: [],
    });
    expect(orderPoints([500, 400, 600], [2, 1, 3])).toEqual({
      x: Float64Array.of(400, 500, 600),
      y: Float64Array.of(1, 2, 3),
      warnings: ['The spectral axis goes back and forth; its points were sorted.'],
    });
  });

  it('that share a wavelength are one, the mean of them', () => {
    expect(orderPoints([400, 400, 400, 500, 500, 600], [0.1, 0.2, 0.6, 0.1, 0.2, 1])).toEqual({
      x: Float64Array.of(400, 500, 600),
      y: Float64Array.of((0.1 + 0.2 + 0.6) / 3, (0.1 + 0.2) / 2, 1),
      warnings: [
        '2 wavelengths stand in the file more than once, with values up to 50 % apart; their mean was taken.',
      ],
    });
    expect(orderPoints([400, 500, 500], [0.1, 0.25, 0.12659]).warnings).toEqual([
      'One wavelength stands in the file more than once, with values up to 12.3 % apart; their mean was taken.',
    ]);
    expect(orderPoints([400, 400, 500], [0.1, 0.1, 0.2]).warnings).toEqual([
      'One wavelength stands in the file more than once, with the same value.',
    ]);
  });

  it.each([
    [[1, 2, 2, 3], true],
    [[3, 2, 2, 1], true],
    [[1, 2, 1], false],
    [[2, 1, 2], false],
    [[1, Number.NaN, 3], false],
    [[5], true],
  ])('%j run one way: %s', (x, expected) => {
    expect(runsOneWay(x)).toBe(expected);
  });
});
