import { describe, expect, it } from 'vitest';
import { chartCsv, chartRows } from '../../src/elements/line-chart/chart-csv.ts';
import { figureText, tickText } from '../../src/elements/line-chart/figure-text.ts';
import { withoutStillGhosts } from '../../src/elements/line-chart/moved-ghosts.ts';
import { lastNotAbove, nearestX, sampleAt } from '../../src/elements/line-chart/sample-at.ts';
import { panned, zoomed } from '../../src/elements/line-chart/view-range.ts';

describe('samples', () => {
  const x = [1, 2, 4, 8];
  it('are found by bisection', () => {
    expect([0, 1, 3, 8, 9].map((at) => lastNotAbove(x, at))).toEqual([-1, 0, 1, 3, 3]);
    expect([0, 2.9, 3.1, 20].map((at) => nearestX(x, at))).toEqual([1, 2, 4, 8]);
    expect(nearestX([], 3)).toBeUndefined();
  });

  it('are joined by straight lines and by nothing beyond their ends or at gaps', () => {
    expect(sampleAt(x, [10, 20, 40, 80], 3)).toBe(30);
    expect(sampleAt(x, [10, 20, 40, 80], 8)).toBe(80);
    expect(sampleAt(x, [10, 20, 40, 80], 8.1)).toBeUndefined();
    expect(sampleAt(x, [10, 20, 40, 80], 0.9)).toBeUndefined();
    expect(sampleAt(x, [10, Number.NaN, 40, 80], 3)).toBeUndefined();
  });
});

describe('ghosts', () => {
  const curve = { name: 'R', x: [1, 2], y: [3, Number.NaN] };

  it('are left out where their curve still lies, and stay where it moved or is gone', () => {
    const still = { ...curve, y: [3, Number.NaN], ghost: true };
    const moved = { ...curve, y: [4, Number.NaN], ghost: true };
    const gone = { ...still, name: 'T' };
    expect(withoutStillGhosts([curve, still, moved, gone])).toEqual([curve, moved, gone]);
  });
});

describe('the view', () => {
  const whole = { min: 400, max: 700 };
  it('zooms about a place and never leaves the whole', () => {
    expect(zoomed(whole, whole, 550, 0.5)).toEqual({ min: 475, max: 625 });
    expect(zoomed({ min: 400, max: 500 }, whole, 400, 2)).toEqual({ min: 400, max: 600 });
    expect(zoomed({ min: 400, max: 600 }, whole, 500, 2)).toBeUndefined();
    const narrow = zoomed({ min: 500, max: 500.7 }, whole, 500.35, 0.01)!;
    expect(narrow.max - narrow.min).toBeCloseTo(0.6, 9);
  });

  it('moves by shares of itself and stops at the ends', () => {
    expect(panned({ min: 450, max: 550 }, whole, 0.5)).toEqual({ min: 500, max: 600 });
    expect(panned({ min: 450, max: 550 }, whole, -3)).toEqual({ min: 400, max: 500 });
    expect(panned({ min: 450, max: 550 }, whole, 3)).toEqual({ min: 600, max: 700 });
  });
});

describe('figures', () => {
  it.each([
    [0.12345, '0.1235'],
    [-12.3, '−12.30'],
    [0, '0'],
    [2e-5, '2.000·10⁻⁵'],
    [12345678, '1.235·10⁷'],
    [Number.NaN, '–'],
    [undefined, '–'],
  ])('%s reads %s', (value, text) => {
    expect(figureText(value)).toBe(text);
  });

  it('of ticks have the decimals of their step', () => {
    expect(tickText(0.3, 0.1)).toBe('0.3');
    expect(tickText(0.30000000000000004, 0.05)).toBe('0.30');
    expect(tickText(450, 50)).toBe('450');
    expect(tickText(-2, 1)).toBe('−2');
    expect(tickText(1e-5, 1e-5)).toBe('10⁻⁵');
  });
});

describe('the table of a chart', () => {
  const series = [
    { name: 'R, new', x: [400, 500, 600], y: [1, 2, 3] },
    { name: 'R', x: [400, 600], y: [2, 4], ghost: true },
    { name: 'yield', x: [400, 600], y: [5, 7], lower: [0, 1] },
  ];
  const rows = chartRows(series, { title: 'Wavelength', unit: 'nm' }, { title: 'R', unit: '%' }, 400, 500);

  it('holds every curve at every sample in view', () => {
    expect(rows.headings).toEqual([
      'Wavelength / nm',
      'R, new / %',
      'R (before) / %',
      'yield, lower / %',
      'yield, upper / %',
    ]);
    expect(rows.rows).toEqual([
      [400, 1, 2, 0, 5],
      [500, 2, 3, 0.5, 6],
    ]);
  });

  it('disarms a name that a spreadsheet would compute', () => {
    expect(chartCsv({ headings: ['x', '=1+1'], rows: [[-1, undefined]] })).toBe('x,"\'=1+1"\r\n-1,\r\n');
  });

  it('is quoted where a name has a comma', () => {
    expect(chartCsv(rows).split('\r\n')).toEqual([
      'Wavelength / nm,"R, new / %",R (before) / %,"yield, lower / %","yield, upper / %"',
      '400,1,2,0,5',
      '500,2,3,0.5,6',
      '',
    ]);
  });
});
