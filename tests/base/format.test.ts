import { describe, expect, it } from 'vitest';
import {
  clock,
  counted,
  duration,
  fixed,
  formula,
  listed,
  percent,
  significant,
} from '../../src/base/format.ts';

describe('figures for people', () => {
  it('have a true minus sign and no negative zero', () => {
    expect(fixed(-1.25, 1)).toBe('\u22121.3');
    expect(fixed(-0.001, 1)).toBe('0.0');
  });

  it('show a dash where a value is not finite', () => {
    expect([
      fixed(Number.NaN, 1),
      significant(Number.POSITIVE_INFINITY),
      duration(Number.NaN),
      clock(Number.NaN),
    ]).toEqual(['–', '–', '–', '–']);
  });

  it('keep the significant digits', () => {
    expect([
      significant(0),
      significant(1234.5),
      significant(0.01234),
      significant(3e-7),
      significant(-12.345),
    ]).toEqual(['0', '1235', '0.0123', '3.00e-7', '\u221212.3']);
  });

  it('tell durations in hours, minutes and seconds', () => {
    expect([
      duration(45),
      duration(90),
      duration(750),
      duration(10_290),
      duration(3599.8),
      duration(-60),
    ]).toEqual(['45 s', '1 min 30 s', '13 min', '2 h 52 min', '1 h 00 min', '\u22121 min']);
  });

  it('tell moments, percents, lists and counts', () => {
    expect(clock(3725)).toBe('1:02:05');
    expect(percent(0.00412)).toBe('0.41 %');
    expect(listed(['a', 'b', 'c'])).toBe('a, b and c');
    expect(listed([])).toBe('');
    expect([counted(1, 'lens', 'lenses'), counted(2, 'run')]).toEqual(['1 lens', '2 runs']);
  });

  it('set the numbers of a formula low', () => {
    expect([formula('Ta2O5'), formula('Na3AlF6'), formula('Si'), formula('517642')]).toEqual([
      'Ta₂O₅',
      'Na₃AlF₆',
      'Si',
      '517642',
    ]);
  });

  it('tell a shutter delay in tenths of a second', () => {
    expect([duration(0.4), duration(0), duration(9)]).toEqual(['0.40 s', '0 s', '9.0 s']);
  });
});
