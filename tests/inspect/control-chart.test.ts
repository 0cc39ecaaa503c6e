import { describe, expect, it } from 'vitest';
import { controlChart } from '../../src/inspect/control-chart.ts';

/** Ten points that jump to and fro by 1 and alarm nobody. */
const QUIET = [0, 1, 0, 1, 0, 1, 0, 1, 0, 1];
const alarms = (values: readonly number[]) =>
  controlChart(values)!.alarms.map(({ point, kind, sentence }) => [point, kind, sentence]);
const mirrored = (values: readonly number[]) => values.map((value) => -value);

describe('the alarms of a control chart', () => {
  it('name a point above or below the limits, and the jump to it, with the number of the run', () => {
    for (const values of [[...QUIET, 20], mirrored([...QUIET, 20])]) {
      const found = alarms(values);
      expect(found).toContainEqual([10, 'outside', 'run 11 lies outside the control limits']);
      expect(found).toContainEqual([10, 'jump', 'run 11 jumps further from the one before than usual']);
    }
  });

  it('stay silent on points that lie on the limits, which coincide where nothing moves', () => {
    expect(alarms([3, 3, 3, 3, 3, 3, 3, 3, 3, 3])).toEqual([]);
  });

  it('stay silent on a point and a jump at their very limits', () => {
    // Moving ranges 4, 4, 4, 4: limits at 2.66 times their mean about 0.
    const chart = controlChart([2, -2, 2, -2, 2, -2])!;
    expect(chart.upper).toBeGreaterThan(2);
    expect(chart.alarms).toEqual([]);
  });

  it('name nine points in a row on one side of the centre, on either', () => {
    const values = [...QUIET.map((value) => value - 5), ...QUIET];
    for (const shifted of [values, mirrored(values)])
      expect(alarms(shifted).filter(([, kind]) => kind === 'one-sided')).toEqual([
        [8, 'one-sided', '9 runs up to run 9 lie on one side of the centre'],
        [18, 'one-sided', '9 runs up to run 19 lie on one side of the centre'],
      ]);
  });

  it('count a row on one side anew from a point on the other side or on the centre', () => {
    const eight = [1, 2, 1, 2, 1, 2, 1, 2];
    // The means are 0: eight above, one below, eight above; and one on the centre in between.
    for (const between of [-24, 0]) {
      const rest = between === 0 ? [-12, -12] : [];
      const values = [...eight, between, ...eight, ...rest];
      expect(values.reduce((sum, value) => sum + value, 0)).toBe(0);
      expect(alarms(values).filter(([, kind]) => kind === 'one-sided')).toEqual([]);
    }
  });

  it('name six points that keep rising or falling, and no five', () => {
    const rising = [1, 0, 1, 0, 2, 3, 4, 5];
    const trends = (values: readonly number[]) => alarms(values).filter(([, kind]) => kind === 'trend');
    expect(trends([...rising, 6])).toEqual([[8, 'trend', '6 runs up to run 9 keep rising']]);
    expect(trends(mirrored([...rising, 6]))).toEqual([[8, 'trend', '6 runs up to run 9 keep falling']]);
    expect(trends([1, 1, 2, 3, 4, 5, 1, 2, 2, 3, 4])).toEqual([]);
    expect(trends([1, 2, 3, 4, 5, 5, 6, 7, 8, 9])).toEqual([]);
    expect(trends([9, 1, 2, 3, 4, 5, 6, 7])).toEqual([[6, 'trend', '6 runs up to run 7 keep rising']]);
    expect(trends([1, 2, 3, 4, 5, 6, 0])).toEqual([[5, 'trend', '6 runs up to run 6 keep rising']]);
  });
});

describe('a control chart', () => {
  it('has its scatter from the mean moving range over d2 = 1.128 (published constant)', () => {
    expect(controlChart([10, 12, 11, 13, 9])!.sigma).toBeCloseTo(2.25 / 1.128, 12);
    expect(controlChart([10, 12, 11, 13, 9])!.lower).toBeCloseTo(11 - 2.66 * 2.25, 12);
    expect(controlChart([10, 12, 11, 13, 9])!.upperRange).toBeCloseTo(3.267 * 2.25, 12);
  });

  it('refuses a value that is no finite number, the first too', () => {
    expect(() => controlChart([Number.NaN, 1, 2, 3, 4])).toThrow('[0]: NaN is not a finite number');
    expect(() => controlChart([1, 2, Number.POSITIVE_INFINITY])).toThrow(
      '[2]: Infinity is not a finite number',
    );
  });
});
