import { describe, expect, it } from 'vitest';
import { readBest } from '../../../src/app/stations/monitor/best-scores.ts';
import {
  MISHAP_CHOICES,
  mishapSentence,
  mishapsOf,
} from '../../../src/app/stations/monitor/mishap-choice.ts';
import { checkMishaps } from '../../../src/monitor/mishap.ts';

const layers = [
  { thicknessNm: 82, turnNm: [80] },
  { thicknessNm: 0, turnNm: [] },
  { thicknessNm: 10, turnNm: [200] },
];

describe('mishaps for a rehearsal', () => {
  it('are within the range that a run takes, in a layer that grows, for every choice and seed', () => {
    for (const [choice] of MISHAP_CHOICES)
      for (let seed = 0; seed < 40; seed++) {
        const mishaps = mishapsOf(choice, undefined, seed, layers);
        checkMishaps(mishaps, layers.length);
        expect(mishaps).toHaveLength(choice === 'none' ? 0 : 1);
        for (const mishap of mishaps) {
          expect([0, 2]).toContain(mishap.layer);
          expect(mishapSentence(mishap)).toMatch(/layer [13].*\.$/);
        }
      }
  });

  it('follow from the seed, and a surprise is not always the same', () => {
    const kinds = Array.from(
      { length: 40 },
      (_, seed) => mishapsOf('surprise', undefined, seed, layers)[0]!.kind,
    );
    expect(new Set(kinds).size).toBe(4);
    expect(mishapsOf('surprise', undefined, 7, layers)).toEqual(mishapsOf('surprise', undefined, 7, layers));
  });

  it('stick the light over the first turning point', () => {
    const [mishap] = mishapsOf('missed-turning-point', 0, 1, layers);
    if (mishap?.kind !== 'missed-turning-point') throw new Error('another mishap came');
    expect((mishap.atPercent / 100) * 82).toBeLessThan(80);
    expect((mishap.untilPercent / 100) * 82).toBeGreaterThan(80);
  });
});

describe('the best scores', () => {
  it('are read from what the browser kept; what is damaged counts as none', () => {
    expect(readBest('{"a/front":712,"b":"x","c":null}')).toEqual({ 'a/front': 712 });
    for (const text of ['', '[', 'null', '3', undefined, null]) expect(readBest(text)).toEqual({});
  });
});
