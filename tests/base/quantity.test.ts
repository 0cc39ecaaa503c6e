import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { convertAnyUnit } from '../../src/base/any-unit.ts';
import { convertKnownUnit, unitSpelling } from '../../src/base/known-units.ts';
import { readQuantity, stepLastDigit } from '../../src/base/quantity.ts';
import { readInUnit } from '../../src/base/read-in-unit.ts';

describe('a typed quantity', () => {
  it.each([
    ['92.1', 92.1, ''],
    ['92,1', 92.1, ''],
    ['1.2 um', 1.2, 'um'],
    ['12 angstrom/s', 12, 'angstrom/s'],
    ['2e-5 mbar', 2e-5, 'mbar'],
    ['2·10⁻⁵ mbar', 2e-5, 'mbar'],
    ['2 × 10^-5 mbar', 2e-5, 'mbar'],
    ['−3,5 °C', -3.5, '°C'],
    ['1.234,5', 1234.5, ''],
    ['1,234.5', 1234.5, ''],
    ['12 000 Hz', 12000, 'Hz'],
    ['5 mm', 5, 'mm'],
    ['.5', 0.5, ''],
    ['1,2eV', 1.2, 'eV'],
    ['1.234.567', 1234567, ''],
  ])('"%s" is %d with the unit "%s"', (text, number, unit) => {
    expect(readQuantity(text)).toEqual({ number, unit });
  });

  it.each([
    ['', 'nothing is typed'],
    ['  ', 'nothing is typed'],
    ['about 5', '"about 5" does not start with a number'],
    ['1.2.3', '"1.2.3" is not a number'],
    ['1 2', '"1 2" is not a number'],
    ['1,2,3.4', '"1,2,3.4" is not a number'],
    [',', '"," is not a number'],
    ['1e999', '"1e999" is too large a number'],
  ])('"%s" is refused with a sentence', (text, fault) => {
    expect(readQuantity(text)).toEqual({ fault });
  });

  it('comes back from any printed number, with point or comma', () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
        const number = Object.is(value, -0) ? 0 : value;
        expect(readQuantity(String(number))).toEqual({ number, unit: '' });
        expect(readQuantity(String(number).replace('.', ','))).toEqual({ number, unit: '' });
      }),
    );
  });
});

describe('stepping the last digit', () => {
  it.each([
    ['92.10', 1, '92.11'],
    ['120', -1, '119'],
    ['2e-5', 1, '3e-5'],
    ['0,9', 1, '1.0'],
    ['1.2 um', 10, '2.2 um'],
    ['-0.1', 1, '0.0'],
    ['none', 1, 'none'],
  ])('"%s" by %d gives "%s"', (text, steps, moved) => {
    expect(stepLastDigit(text, steps)).toBe(moved);
  });
});

describe('units', () => {
  it.each([
    ['Å/s', 'angstrom/s'],
    ['µm', 'um'],
    ['g/cm3', 'g/cm^3'],
    ['Pa m³ / s', 'Pa m^3/s'],
    ['mTorr', 'mtorr'],
    ['°C', 'degC'],
  ])('"%s" is spelled "%s"', (unit, spelling) => {
    expect(unitSpelling(unit)).toBe(spelling);
  });

  it.each([
    [1.2, 'um', 'nm', 1200],
    [12, 'Å/s', 'nm/s', 1.2],
    [1, 'Torr', 'Pa', 101325 / 760],
    [2e-5, 'mbar', 'Pa', 2e-3],
    [25, '°C', 'K', 298.15],
    [300, 'K', '°C', 26.85],
    [2, 'h', 's', 7200],
  ])('%d %s is in %s %d', (value, from, to, expected) => {
    expect(convertKnownUnit(value, from, to)).toBeCloseTo(expected, 10);
  });

  it('agree between the everyday table and mathjs, whose torr is rounded to six digits', () => {
    const pairs = [
      'pm nm',
      'in mm',
      'angstrom um',
      'h min',
      'mbar Pa',
      'torr Pa',
      'kg mg',
      'MHz Hz',
      'arcmin deg',
    ];
    for (const pair of pairs) {
      const [from = '', to = ''] = pair.split(' ');
      const known = convertKnownUnit(3.7, from, to) as number;
      expect(Math.abs((convertAnyUnit(3.7, from, to) as number) / known - 1), pair).toBeLessThan(4e-6);
    }
  });

  it('that are no everyday ones are converted once the library is there', async () => {
    expect(await readInUnit('3 mil', 'um')).toBeCloseTo(76.2, 9);
    expect(await readInUnit('77 degF', '°C')).toBeCloseTo(25, 9);
    expect(await readInUnit('1 mbar l/s', 'Pa m3/s')).toBeCloseTo(0.1, 12);
  });

  it('that do not fit are named in the sentence', async () => {
    expect(await readInUnit('5 s', 'nm')).toEqual({ fault: '"s" does not measure what nm measures' });
    expect(await readInUnit('5 bananas', 'nm')).toEqual({ fault: '"bananas" is not a unit' });
    expect(readInUnit('5 nm', '')).toEqual({
      fault: '"nm" is not expected here: a plain number is asked for',
    });
  });

  it('may be left out, and then the shop’s preferred one counts', () => {
    expect(readInUnit('12', 'nm/s', 'Å/s')).toBe(1.2);
    expect(readInUnit('0.4', '%')).toBe(0.4);
    expect(readInUnit('0.4 %', '%')).toBe(0.4);
  });
});
