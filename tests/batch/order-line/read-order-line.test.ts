import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readOrderLine } from '../../../src/batch/order-line/read-order-line.ts';
import { describeRequirement } from '../../../src/design/requirement.ts';

const goals = (text: string) => readOrderLine(text).requirements.map(describeRequirement);
const facts = (text: string) => readOrderLine(text).facts;

describe('an order line', () => {
  it('is understood as the trade writes it', () => {
    const line = readOrderLine('517642, d 32, R1 84.2 R2 -84.2, 400 pcs, AR R avg <= 0.4 % 430-670 nm 0-25');
    expect(line.facts).toEqual({
      substrate: '517642',
      diameterMm: 32,
      frontRadiusMm: 84.2,
      backRadiusMm: -84.2,
      quantity: 400,
    });
    expect(line.requirements.map(describeRequirement)).toEqual(['R mean ≤ 0.4 %, 430–670 nm, 0° and 25°']);
    expect([line.leftOut, line.faults]).toEqual([[], []]);
  });

  it('is understood with other words, units, signs and order alike', () => {
    const line = readOrderLine(
      '“Field lens” lot LW-7: qty 1 200; glass 620364; Ø 1.25 in; CA 30 mm, CT: 5,4; R1 84,2 CX, R2 plano; both faces; 0.43–0.67 µm Ravg ≤ 0,4 % at 0° and 25°; reserve 5 %',
    );
    expect(line.facts).toEqual({
      title: 'Field lens',
      lot: 'LW-7',
      quantity: 1200,
      substrate: '620364',
      diameterMm: 31.75,
      clearApertureMm: 30,
      centreThicknessMm: 5.4,
      frontRadiusMm: 84.2,
      backRadiusMm: 0,
      back: 'same',
      rejectReservePercent: 5,
    });
    expect(line.requirements.map(describeRequirement)).toEqual(['R mean ≤ 0.4 %, 430–670 nm, 0° and 25°']);
    expect([line.leftOut, line.faults]).toEqual([[], []]);
  });

  it.each([
    ['R1 50 CX', { frontRadiusMm: 50 }],
    ['R1 50 CC', { frontRadiusMm: -50 }],
    ['R2 CX 50', { backRadiusMm: -50 }],
    ['R2 CC 50', { backRadiusMm: 50 }],
    ['R1=-0,5in R2: inf', { frontRadiusMm: -12.7, backRadiusMm: 0 }],
    ['R2 −84.2', { backRadiusMm: -84.2 }],
  ])('takes the radii of "%s" with their signs', (text, expected) => {
    expect(facts(text)).toEqual(expected);
  });

  it.each([
    ['R < 0.2 % at 532 nm', ['R ≤ 0.2 %, 532 nm, 0°']],
    ['T avg > 99 % 450-650 nm s-pol AOI 45', ['T mean ≥ 99 %, 450–650 nm, 45°, s polarized']],
    ['R 400-700 nm < 1 %', []],
    [
      'R avg <= 0.4 %, R max <= 0.8 %, 430-670 nm, 0/15/30 deg',
      ['R mean ≤ 0.4 %, 430–670 nm, 0°, 15° and 30°', 'R max ≤ 0.8 %, 430–670 nm, 0°, 15° and 30°'],
    ],
    [
      'R max below 0.25% 527-537 nm, 450-650 nm average reflectance < 0.6 %',
      ['R max ≤ 0.25 %, 527–537 nm, 0°', 'R mean ≤ 0.6 %, 450–650 nm, 0°'],
    ],
    ['R abs < 0.5% 420 to 680 nm normal incidence', ['R max ≤ 0.5 %, 420–680 nm, 0°']],
  ])('takes the requirements of "%s"', (text, expected) => {
    if (expected.length > 0) expect(goals(text)).toEqual(expected);
    else expect(readOrderLine(text).faults).not.toEqual([]);
  });

  it.each([
    ['517642 d 32 d 34', 'Diameter is given twice: 32 mm and 34 mm.'],
    ['517643 400 pcs', '"517643" is no glass of the library; the nearest are 517642 (nd 1.517)'],
    ['glass butter', '"butter" is no glass of the library.'],
    ['R avg < 0.4 %', 'R <= 0.4 % has no band, such as 430-670 nm.'],
    ['430-670 nm', 'The band 430-670 nm has no limit, such as R avg <= 0.4 %.'],
    ['x'.repeat(2001), 'The line has 2001 characters; up to 2000 are read.'],
  ])('says in a sentence what is wrong with "%.30s"', (text, sentence) => {
    expect(readOrderLine(text).faults[0]).toContain(sentence);
  });

  it('names the words that it leaves out', () => {
    expect(readOrderLine('400 pcs, by next Friday please, d 25').leftOut).toEqual(['by next Friday please']);
  });

  it('ends with an answer whatever is typed, and makes no figure that is none', () => {
    const bits = [
      'R',
      'avg',
      '<=',
      '0,4',
      '%',
      '430',
      '-',
      '670 nm',
      '25°',
      'd',
      'R1',
      'cx',
      '"',
      'pcs',
      '1e9',
    ];
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          fc.array(fc.constantFrom(...bits), { maxLength: 30 }).map((some) => some.join(' ')),
        ),
        (text) => {
          const { facts: read, requirements } = readOrderLine(text);
          const figures = [
            ...Object.values(read),
            ...requirements.flatMap(({ limit, bandNm, incidenceDeg }) => [limit, ...bandNm, ...incidenceDeg]),
          ].filter((value) => typeof value === 'number');
          expect(figures.every(Number.isFinite)).toBe(true);
        },
      ),
      { seed: 20261125, numRuns: 400 },
    );
  });
});
