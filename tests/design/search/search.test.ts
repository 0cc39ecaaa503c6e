import { describe, expect, it } from 'vitest';
import { type DesignProblem, searchProblem } from '../../../src/design/design-problem.ts';
import { Merit } from '../../../src/design/merit.ts';
import { Findings } from '../../../src/design/search/findings.ts';
import { helpfulInsertions } from '../../../src/design/search/helpful-insertions.ts';
import { isWithin, mutate, randomSketch } from '../../../src/design/search/moves.ts';
import { profileDistance } from '../../../src/design/search/profile-distance.ts';
import { runSearchJob } from '../../../src/design/search/search-job.ts';
import { type JobRunner, synthesize } from '../../../src/design/search/synthesize.ts';
import { isLike, tidy, withInsertion, withoutLayer } from '../../../src/design/search/tidy.ts';
import { Random } from '../../../src/math/random.ts';
import { AIR, FILMS, GLASS, reflectance } from '../support/yardstick.ts';

const problem: DesignProblem = {
  incident: AIR,
  substrate: GLASS,
  pool: FILMS,
  requirements: [reflectance()],
  maxLayers: 5,
  minNm: 5,
};
const search = searchProblem(problem);
const nm = (...values: number[]) => Float64Array.of(...values);

describe('tidy', () => {
  it('drops empty layers and merges neighbours of one material', () => {
    const { materials, thicknessNm } = tidy({ materials: [0, 1, 0, 0, 2], thicknessNm: nm(10, 0, 5, 7, 3) });
    expect(materials).toEqual([0, 2]);
    expect([...thicknessNm]).toEqual([22, 3]);
  });

  it('merges what a layer leaves behind', () => {
    const rest = withoutLayer({ materials: [3, 1, 3], thicknessNm: nm(10, 4, 20) }, 1);
    expect([...rest.thicknessNm]).toEqual([30]);
  });

  it('inserts a layer into a layer, or between two', () => {
    const host = { materials: [3, 1], thicknessNm: nm(10, 40) };
    const inside = withInsertion(host, 1, 0.25, 2, 6);
    expect(inside.materials).toEqual([3, 1, 2, 1]);
    expect([...inside.thicknessNm]).toEqual([10, 10, 6, 30]);
    expect(withInsertion(host, 1, 0, 2, 6).materials).toEqual([3, 2, 1]);
  });
});

describe('isLike', () => {
  const stack = { materials: [3, 0], thicknessNm: nm(20, 90) };

  it('overlooks layers thinner than what is negligible, and differences of up to 5 %', () => {
    const almost = { materials: [3, 1, 3, 0], thicknessNm: nm(10, 2, 10.5, 92) };
    expect(isLike(almost, stack, 3)).toBe(true);
    expect(isLike(almost, stack, 1)).toBe(false);
  });

  it('tells other thicknesses and other materials apart', () => {
    expect(isLike({ ...stack, thicknessNm: nm(22, 90) }, stack, 3)).toBe(false);
    expect(isLike({ ...stack, materials: [4, 0] }, stack, 3)).toBe(false);
  });
});

describe('profileDistance', () => {
  const index = [1.4, 2];
  const single = { materials: [0], thicknessNm: nm(100) };

  it('is the difference of index where one layer stands for the other', () => {
    expect(profileDistance(single, single, index, 1.5)).toBe(0);
    expect(profileDistance(single, { ...single, materials: [1] }, index, 1.5)).toBeCloseTo(0.6, 12);
  });

  it('counts from the outside in, with the substrate below the thinner stack', () => {
    const double = { materials: [1, 0], thicknessNm: nm(100, 100) };
    expect(profileDistance(single, double, index, 1.5)).toBeCloseTo(0.25, 12);
    expect(profileDistance(double, single, index, 1.5)).toBeCloseTo(0.25, 12);
  });
});

describe('helpfulInsertions', () => {
  const stack = { materials: [3, 0, 4, 0], thicknessNm: nm(18, 35, 120, 85) };

  it('gives the exact derivative of the merit for a layer that isn’t there yet', () => {
    const insertions = helpfulInsertions(search, stack, [0, 1, 2, 3, 4], 8);
    expect(insertions.length).toBeGreaterThan(3);
    const base = new Merit(search.grid, stack.materials).smooth(stack.thicknessNm, 8);
    for (const insertion of insertions.slice(0, 5)) {
      const value = (thickness: number) => {
        const { host, share, material } = insertion;
        const { materials, thicknessNm } = withInsertion(stack, host, share, material, thickness);
        return new Merit(search.grid, materials).smooth(thicknessNm, 8);
      };
      // One-sided second-order difference: a layer can't be thinner than nothing.
      const h = 0.01;
      const slope = (4 * value(h) - value(2 * h) - 3 * base) / (2 * h);
      expect(insertion.slope).toBeCloseTo(slope, 3);
      expect(insertion.slope).toBeLessThan(0);
    }
  });

  it('begins with the one that helps most', () => {
    const slopes = helpfulInsertions(search, stack, [0, 1, 2, 3, 4], 8).map(({ slope }) => slope);
    expect(slopes).toEqual([...slopes].sort((one, other) => one - other));
  });
});

describe('moves', () => {
  it('keep within layers and pockets over thousands of changes', () => {
    const narrow = { ...search, maxLayers: 6, maxMaterials: 3 };
    const random = new Random(8);
    let current = randomSketch(narrow, 6, random);
    for (let i = 0; i < 3000; i++) {
      const mate = randomSketch(narrow, 1 + random.integer(6), random);
      current = mutate(narrow, { ...current, merit: 0 }, { ...mate, merit: 0 }, random);
      expect(isWithin(narrow, current)).toBe(true);
      for (let layer = 0; layer < current.materials.length; layer++) {
        const thickness = current.thicknessNm[layer]!;
        if (!(thickness > 0 && thickness < 1e6)) expect(thickness).toBe('a thickness');
        if (layer > 0) expect(current.materials[layer]).not.toBe(current.materials[layer - 1]);
      }
      if (i % 50 === 0) current = randomSketch(narrow, 6, random);
    }
  });
});

describe('Findings', () => {
  it('keep the best of each sequence, in an order that doesn’t depend on who came first', () => {
    const drafts = [
      { materials: [0, 1], thicknessNm: nm(1, 2), merit: 2 },
      { materials: [0, 1], thicknessNm: nm(3, 4), merit: 1 },
      { materials: [1], thicknessNm: nm(5), merit: 1 },
    ];
    const order = (list: typeof drafts) => {
      const found = new Findings();
      for (const draft of list) found.add(draft);
      return found.best(9).map(({ materials, merit }) => `${materials} ${merit}`);
    };
    expect(order(drafts)).toEqual(['0,1 1', '1 1']);
    expect(order([...drafts].reverse())).toEqual(order(drafts));
  });

  it('give the best of those that are unlike one another', () => {
    const found = new Findings();
    [3, 1, 2].forEach((merit) => {
      found.add({ materials: Array(merit).fill(0), thicknessNm: new Float64Array(merit), merit });
    });
    const near = found.unlike(5, (one, other) => Math.abs(one.merit - other.merit) < 1.5);
    expect(near.map(({ merit }) => merit)).toEqual([1, 3]);
    expect(found.unlike(1, () => false)).toHaveLength(1);
  });
});

describe('synthesize', () => {
  const forward: JobRunner = async (shared, jobs) => {
    const findings = [];
    for (const job of jobs) findings.push(await runSearchJob(shared, job));
    return findings;
  };
  /** As if other threads had finished first: jobs run in another order, answers stand in theirs. */
  const backward: JobRunner = async (shared, jobs) => (await forward(shared, [...jobs].reverse())).reverse();
  const run = (seed: number, runJobs: JobRunner) => synthesize(search, { seed, work: 2e6, runJobs });

  it('gives the same stacks bit for bit in whatever order the jobs run', async () => {
    const [one, two] = [await run(3, forward), await run(3, backward)];
    expect(two).toEqual(one);
    expect(one.wasLate).toBe(false);
  });

  it('takes another way with another seed', async () => {
    const [one, two] = [await run(3, forward), await run(4, forward)];
    expect(two.work).not.toBe(one.work);
  });

  it('ends with what it has when its time is over, in the middle of a round', async () => {
    const result = await synthesize(search, { seed: 1, work: 2e9, runJobs: forward, untilMs: Date.now() });
    expect(result.wasLate).toBe(true);
    expect(result.work).toBeLessThan(2e8);
    expect(result.drafts.length).toBeGreaterThan(0);
  });

  it('keeps layers, thicknesses and pockets within their limits', async () => {
    const tight = searchProblem({ ...problem, maxLayers: 4, maxMaterials: 2, minNm: 15, maxNm: 130 });
    const { drafts } = await synthesize(tight, { seed: 2, work: 2e6, runJobs: forward });
    for (const { materials, thicknessNm } of drafts) {
      expect(materials.length).toBeLessThanOrEqual(4);
      expect(new Set(materials).size).toBeLessThanOrEqual(2);
      expect(Math.min(...thicknessNm)).toBeGreaterThanOrEqual(15);
      expect(Math.max(...thicknessNm)).toBeLessThanOrEqual(130);
    }
  });
});
