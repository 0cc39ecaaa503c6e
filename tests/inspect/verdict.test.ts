import { describe, expect, it } from 'vitest';
import { parse } from '../../src/base/schema.ts';
import { requirement } from '../../src/design/requirement.ts';
import { judge, type MeasuredCurve } from '../../src/inspect/verdict.ts';
import { startingWith } from '../support/refusals.ts';

const need = (fields: object) =>
  parse(requirement, { quantity: 'R', statistic: 'max', limit: 0.5, bandNm: [450, 650], ...fields });
const curve = (change: Partial<MeasuredCurve> = {}): MeasuredCurve => ({
  wavelengthNm: Float64Array.of(400, 500, 600, 700),
  values: Float64Array.of(0.008, 0.002, 0.002, 0.008),
  quantity: 'R',
  incidenceDeg: 0,
  polarization: 'mean',
  uncertaintyPercent: 0.05,
  ...change,
});

describe('the verdict on a requirement', () => {
  it('takes the statistic over the band, its ends included', () => {
    expect(judge(need({ limit: 1 }), curve())).toEqual({
      kind: 'pass',
      value: 0.5,
      limit: 1,
      expandedUncertainty: 0.1,
      worstWavelengthNm: 450,
    });
    // Trapezoids: 50 nm at (0.5 + 0.2) / 2, 100 nm at 0.2, 50 nm at 0.35.
    expect(judge(need({ statistic: 'mean', limit: 1 }), curve())).toMatchObject({ value: 0.275 });
    expect(judge(need({ bandNm: [550, 550] }), curve())).toMatchObject({ worstWavelengthNm: 550 });
    expect(judge(need({ bandNm: [400, 700], limit: 1 }), curve())).toMatchObject({
      kind: 'pass',
      value: 0.8,
    });
  });

  it.each([
    [0.61, 'pass'],
    [0.59, 'too-close'],
    [0.5, 'too-close'],
    [0.41, 'too-close'],
    [0.39, 'fail'],
  ])('against a limit of %f % with 0.1 % of expanded uncertainty is %s', (limit, kind) => {
    expect(judge(need({ limit }), curve())).toMatchObject({ kind });
  });

  it('is no pass without a stated uncertainty, and a fail where the limit is missed as read', () => {
    const unstated = curve({ uncertaintyPercent: 0 });
    expect(judge(need({ limit: 0.5 }), unstated)).toMatchObject({ kind: 'no-uncertainty', value: 0.5 });
    expect(judge(need({ limit: 0.49 }), unstated)).toMatchObject({ kind: 'fail' });
  });

  it('turns round where more is good', () => {
    const t = curve({ quantity: 'T', values: Float64Array.of(0.9, 0.99, 0.99, 0.9) });
    const wanted = (limit: number) => need({ quantity: 'T', statistic: 'min', limit });
    expect(judge(wanted(94), t)).toMatchObject({ kind: 'pass', value: 94.5 });
    expect(judge(wanted(95), t)).toMatchObject({ kind: 'fail' });
  });

  it('is reached at the limit itself by exactly the whole uncertainty', () => {
    // Of 0.25 % of expanded uncertainty; 0.5 % and its neighbours are exact in binary.
    const exact = curve({ uncertaintyPercent: 0.125 });
    expect(judge(need({ limit: 0.75 }), exact)).toMatchObject({ kind: 'pass', expandedUncertainty: 0.25 });
    expect(judge(need({ limit: 0.25 }), exact)).toMatchObject({ kind: 'too-close' });
    expect(judge(need({ limit: 0.2499 }), exact)).toMatchObject({ kind: 'fail' });
  });

  it('is taken between the points and at the last of them', () => {
    const whole = (fields: object) => judge(need({ limit: 1, bandNm: [400, 700], ...fields }), curve());
    // Trapezoids: twice 100 nm at (0.8 + 0.2) / 2 and 100 nm at 0.2.
    expect(whole({ statistic: 'mean' })).toMatchObject({ value: expect.closeTo(0.4, 12) });
    expect(whole({ statistic: 'mean' })).not.toHaveProperty('worstWavelengthNm');
    expect(judge(need({ bandNm: [425, 475] }), curve())).toMatchObject({
      value: expect.closeTo(0.65, 12),
      worstWavelengthNm: 425,
    });
    expect(judge(need({ bandNm: [600, 650], statistic: 'mean' }), curve())).toMatchObject({
      value: expect.closeTo(0.35, 12),
    });
    const single = curve({ wavelengthNm: Float64Array.of(550), values: Float64Array.of(0.002) });
    for (const statistic of ['mean', 'max', 'min'])
      for (const measured of [curve(), single])
        expect(judge(need({ bandNm: [550, 550], statistic, limit: 1 }), measured)).toEqual({
          ...{ kind: 'pass', value: 0.2, limit: 1, expandedUncertainty: 0.1, worstWavelengthNm: 550 },
        });
  });

  it('names the first wavelength where the worst is reached', () => {
    const bumpy = curve({ values: Float64Array.of(0.002, 0.008, 0.001, 0.008) });
    expect(judge(need({ bandNm: [400, 700] }), bumpy)).toMatchObject({ value: 0.8, worstWavelengthNm: 500 });
    expect(judge(need({ bandNm: [400, 700], statistic: 'min' }), bumpy)).toMatchObject({
      value: 0.1,
      worstWavelengthNm: 600,
    });
    const flat = curve({ values: new Float64Array(4).fill(0.002) });
    for (const statistic of ['max', 'min'])
      expect(judge(need({ statistic }), flat)).toMatchObject({ worstWavelengthNm: 450 });
  });

  it('takes an angle for the same up to half a degree', () => {
    const at = (incidenceDeg: number) => judge(need({ incidenceDeg: [0, 8] }), curve({ incidenceDeg })).kind;
    for (const same of [0.5, 7.5, 8.5]) expect(at(same)).not.toBe('not-measured');
    for (const other of [0.51, 7.49, 8.51]) expect(at(other)).toBe('not-measured');
  });

  it('needs an uncertainty from 0', () => {
    for (const wrong of [-0.1, Number.NaN])
      expect(() => judge(need({}), curve({ uncertaintyPercent: wrong }))).toThrow(
        startingWith(`uncertaintyPercent: ${wrong} % is below 0 %`),
      );
  });

  it.each([
    [{ quantity: 'T' }, {}, 'the requirement is on T, measured was R'],
    [{ bandNm: [380, 650] }, {}, 'measured was 400 to 700 nm, the requirement needs 380 to 650 nm'],
    [{ incidenceDeg: [25, 30] }, {}, 'the requirement is at 25° and 30°, measured was 0°'],
    [{ polarization: 's' }, {}, 'the requirement is for s polarized light, measured was unpolarized light'],
    [{}, { polarization: 'p' }, 'the requirement is for unpolarized light, measured was p polarized light'],
    [
      { bandNm: [420, 650] },
      { wavelengthNm: Float64Array.of(410.123456, 500, 600, 640.5) },
      'measured was 410.123 to 640.5 nm, the requirement needs 420 to 650 nm',
    ],
  ] as [object, Partial<MeasuredCurve>, string][])(
    'is withheld where it was not measured: %j',
    (fields, change, reason) => {
      expect(judge(need(fields), curve(change))).toEqual({ kind: 'not-measured', reason });
    },
  );
});
