import * as v from 'valibot';
import { describe, expect, it } from 'vitest';
import { parse } from '../../src/base/schema.ts';
import { expandGrid, wavelengthGrid } from '../../src/compute/grid.ts';

const request = v.strictObject({ wavelengthNm: wavelengthGrid });
const read = (wavelengthNm: unknown) => Array.from(parse(request, { wavelengthNm }).wavelengthNm);

describe('a grid', () => {
  it('keeps a list as it is', () => {
    expect(read([550, 400, 400])).toEqual([550, 400, 400]);
  });

  it('includes both ends of a range', () => {
    expect(read({ from: 400, to: 410, step: 5 })).toEqual([400, 405, 410]);
    expect(read({ from: 400, to: 400, step: 5 })).toEqual([400]);
  });

  it('ends with `to` even where the step does not divide the range', () => {
    expect(read({ from: 400, to: 411, step: 5 })).toEqual([400, 405, 410, 411]);
    expect(read({ from: 400, to: 403, step: 5 })).toEqual([400, 403]);
  });

  it('gathers no rounding errors along a range', () => {
    const points = expandGrid({ from: 0, to: 1000, step: 0.1 });
    expect(points.length).toBe(10_001);
    expect(points[3]).toBe(0.3);
    expect(points[9999]).toBe(999.9);
  });

  it.each([
    [550, 'wavelengthNm: 550 is neither a list of points nor a range {"from", "to", "step"}'],
    [[], 'wavelengthNm: the list has no entries; it needs at least 1'],
    [[400, 0], 'wavelengthNm[1]: 0 nm is below 1 nm'],
    [{ from: 400, to: 300, step: 5 }, 'wavelengthNm: the range begins at 400 nm, above its end at 300 nm'],
    [{ from: 400, to: 500, step: 0 }, 'wavelengthNm.step: 0 nm is not above 0 nm'],
    [{ from: 400, to: 500, step: 1e-9 }, 'wavelengthNm: the range has 100000000001 points, more than 20000'],
    [{ from: 400, to: 500 }, 'wavelengthNm.step: is missing'],
    [{ from: 400, to: 500, step: 5, unit: 'nm' }, 'wavelengthNm.unit: unknown field "unit"'],
  ])('%j is refused with one sentence', (input, sentence) => {
    expect(() => read(input)).toThrow(sentence);
  });
});
