import { describe, expect, it } from 'vitest';
import { type Exercise, exerciseKey, exerciseWords } from '../../../src/app/stations/monitor/exercise.ts';

const plain: Exercise = {
  batchId: 'field-lens',
  lot: 'LW-1',
  side: 'front',
  mishap: 'none',
  mishapLayer: undefined,
  speed: 10,
};

describe('an exercise', () => {
  it('keeps its best score apart from every other lot, side, mishap, layer and speed', () => {
    const others: Partial<Exercise>[] = [
      {},
      { batchId: 'prism' },
      { side: 'back' },
      { mishap: 'spit' },
      { mishap: 'spit', mishapLayer: 1 },
      { mishap: 'spit', mishapLayer: 2 },
      { speed: 60 },
    ];
    const keys = others.map((change) => exerciseKey({ ...plain, ...change }));
    expect(new Set(keys).size).toBe(others.length);
  });

  it('is one and the same wherever nothing is scripted', () => {
    expect(exerciseKey({ ...plain, mishapLayer: 2 })).toBe(exerciseKey(plain));
  });

  it('is said in words', () => {
    expect(exerciseWords(plain)).toBe('front of lot LW-1, nothing scripted, 10 ×');
    expect(exerciseWords({ ...plain, mishap: 'spit' })).toBe(
      'front of lot LW-1, a spit of the source in any layer, 10 ×',
    );
    expect(exerciseWords({ ...plain, mishap: 'lamp-drift', mishapLayer: 1, side: 'back' })).toBe(
      'back of lot LW-1, the lamp drifts in layer 2, 10 ×',
    );
  });
});
