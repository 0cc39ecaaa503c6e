import { describe, expect, it } from 'vitest';
import type { DesignProblem } from '../../src/design/design-problem.ts';
import { startingStacks } from '../../src/design/starting-stacks.ts';
import { suggestStack } from '../../src/design/suggest-stack.ts';
import { matrixReflectance } from './support/matrix-reflectance.ts';
import { AIR, FILMS, GLASS, reflectance } from './support/yardstick.ts';

const place = { incidentIndex: 1, substrateIndex: 1.52, wavelengthNm: 540 };
const at = Float64Array.of(540);
const indexOf = (id: string) => FILMS.find((film) => film.id === id)!.index(at).n[0]!;
const problem: DesignProblem = {
  incident: AIR,
  substrate: GLASS,
  pool: FILMS,
  requirements: [reflectance({ limit: 0.4 })],
  maxLayers: 6,
  minNm: 5,
};

describe('startingStacks', () => {
  const stacks = startingStacks(FILMS, place);

  it('give every kind that the materials allow, each with its source', () => {
    expect(new Set(stacks.map(({ kind }) => kind))).toEqual(
      new Set([
        'quarter-wave',
        'two-layer-zero',
        'quarter-half-quarter',
        'equivalent-period',
        'four-layer-thin-pair',
      ]),
    );
    for (const { source, layers } of stacks) {
      expect(source.length).toBeGreaterThan(10);
      for (const { thicknessNm } of layers) expect(thicknessNm).toBeGreaterThan(0);
    }
  });

  it('reflect nothing at their wavelength where their closed form says so', () => {
    const zero = stacks.filter(({ kind }) => kind !== 'quarter-wave' && kind !== 'quarter-half-quarter');
    expect(zero.length).toBeGreaterThan(5);
    for (const { layers, name } of zero) {
      const film = layers.map(({ material, thicknessNm }) => ({ n: indexOf(material), thicknessNm }));
      expect(matrixReflectance(540, 1, film, 1.52), name).toBeLessThan(1e-9);
    }
  });

  it('take the one material that there is', () => {
    const one = startingStacks(FILMS.slice(0, 1), place);
    expect(one.map(({ kind }) => kind)).toEqual(['quarter-wave']);
    expect(startingStacks([], place)).toEqual([]);
  });
});

describe('suggestStack', () => {
  it('takes the fewest layers that meet everything', () => {
    const easy = suggestStack({ ...problem, requirements: [reflectance({ limit: 1.6 })] })!;
    expect(easy.layers).toHaveLength(1);
    expect(easy.achieved[0]!.met).toBe(true);
    const harder = suggestStack(problem)!;
    expect(harder.layers.length).toBeGreaterThan(1);
    expect(harder.achieved[0]!.met).toBe(true);
    expect(harder.reason).toContain('meets every requirement with the fewest layers');
  });

  it('comes as near as the closed forms can where they can’t meet everything', () => {
    const { achieved, reason } = suggestStack({ ...problem, requirements: [reflectance({ limit: 0.01 })] })!;
    expect(achieved[0]!.met).toBe(false);
    expect(achieved[0]!.value).toBeLessThan(0.3);
    expect(reason).toContain('a search can do better');
  });

  it('keeps within layers and pockets', () => {
    const { layers } = suggestStack({ ...problem, maxLayers: 3, maxMaterials: 2 })!;
    expect(layers.length).toBeLessThanOrEqual(3);
    expect(new Set(layers.map(({ material }) => material)).size).toBeLessThanOrEqual(2);
  });
});
