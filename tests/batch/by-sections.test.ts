import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Batch } from '../../src/batch/document.ts';
import { bySections } from '../../src/batch/plan/by-sections.ts';
import { planDistribution } from '../../src/batch/plan/distribution-plan.ts';
import { planLoad } from '../../src/batch/plan/load-plan.ts';
import { computePlan, LOAD_SECTIONS } from '../../src/batch/plan/plan.ts';
import { readBatch } from '../../src/batch/read-batch.ts';

const batch = readBatch(readFileSync('demo/eyepiece-field-lens.json', 'utf8'));

/** The batch with its front's first layer as thick as this. */
function withFirstLayer(thicknessNm: number, from: Batch = batch): Batch {
  const { front } = from.surfaces;
  const [first, ...rest] = front.layers;
  const layers = [{ ...first!, thicknessNm }, ...rest];
  return { ...from, surfaces: { ...from.surfaces, front: { ...front, layers } } };
}

describe('a part of the plan that is kept by sections of the batch', () => {
  it('is computed again where a section or an argument is another object, and only there', () => {
    let count = 0;
    const part = bySections(['fixture'], (_: Batch, word: string) => ({ word, count: ++count }));
    const first = part(batch, 'one');
    expect(part(withFirstLayer(50), 'one')).toBe(first);
    expect(part(batch, 'two')).not.toBe(first);
    expect(part({ ...batch, fixture: { ...batch.fixture } }, 'one')).not.toBe(first);
    expect(part(batch, 'one')).toBe(first);
    expect(count).toBe(3);
  });

  it('throws its fault again each time', () => {
    const part = bySections(['fixture'], (): object => {
      throw new RangeError('no load');
    });
    for (let time = 0; time < 2; time += 1) expect(() => part(batch)).toThrow('no load');
  });
});

describe('load and film over it', () => {
  /** The batch, of which no section can be read but those that both are kept by. */
  const guarded = new Proxy(batch, {
    get(target, name) {
      if ((LOAD_SECTIONS as readonly PropertyKey[]).includes(name)) return Reflect.get(target, name);
      throw new Error(`the section ${String(name)} was read`);
    },
  });

  it('read no other section of the batch than those that they are kept by', () => {
    const { surfaces, distributions } = computePlan(batch);
    const load = planLoad(guarded);
    for (const [index, { side, layers }] of surfaces.entries())
      expect(planDistribution(guarded, side, layers, load)).toEqual(distributions[index]);
  });

  it('stay as they are when the stack is edited', () => {
    const before = computePlan(batch);
    const after = computePlan(withFirstLayer(50));
    expect(after.load).toBe(before.load);
    expect(after.distributions).toEqual(before.distributions);
    expect(after.surfaces).not.toEqual(before.surfaces);
  });
});

describe('a plan that takes parts over from the plan before', () => {
  it.each([
    ['another stack', withFirstLayer(50)],
    ['another rack', { ...batch, fixture: { ...batch.fixture, rackDiameterMm: 330 } }],
    ['another height', { ...batch, fixture: { ...batch.fixture, heightMm: batch.fixture.heightMm + 40 } }],
    ['another lens', { ...batch, order: { ...batch.order, lens: { ...batch.order.lens, diameterMm: 41 } } }],
  ])('is, for %s, the plan of a batch that was never seen', (_, edited) => {
    computePlan(batch);
    expect(computePlan(edited)).toEqual(computePlan(structuredClone(edited)));
  });
});
