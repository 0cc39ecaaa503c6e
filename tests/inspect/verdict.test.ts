import { describe, expect, it } from 'vitest';
import { parse } from '../../src/base/schema.ts';
import { requirement } from '../../src/design/requirement.ts';
import { judge, type MeasuredCurve } from '../../src/inspect/verdict.ts';

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

  it.each([
    [{ quantity: 'T' }, {}, 'the requirement is on T, measured was R'],
    [{ bandNm: [380, 650] }, {}, 'measured was 400 to 700 nm, the requirement needs 380 to 650 nm'],
    [{ incidenceDeg: [25, 30] }, {}, 'the requirement is at 25° and 30°, measured was 0°'],
    [{ polarization: 's' }, {}, 'the requirement is for s polarized light, measured was unpolarized light'],
  ])('is withheld where it was not measured: %j', (fields, change, reason) => {
    expect(judge(need(fields), curve(change))).toEqual({ kind: 'not-measured', reason });
  });
});
