import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { chamberScene, turnsOf } from '../../src/app/stations/load/load-scene.ts';
import { chamberSideScene } from '../../src/app/stations/load/side-scene.ts';
import type { Batch, MotionKind } from '../../src/batch/document.ts';
import { planLoad } from '../../src/batch/plan/load-plan.ts';
import { readBatch } from '../../src/batch/read-batch.ts';

const demo = readBatch(readFileSync('demo/eyepiece-field-lens.json', 'utf8'));

function moving(motion: MotionKind): Batch {
  return { ...demo, fixture: { ...demo.fixture, motion } };
}

describe('the pictures of a load', () => {
  it('show every motion as it is: planets around the axis, one rack on it, a rack at rest that goes nowhere', () => {
    const seen = (motion: MotionKind) => {
      const batch = moving(motion);
      const load = planLoad(batch);
      const { racks, carrierRadiusMm } = chamberScene(batch, load);
      const { surface } = chamberSideScene(batch);
      return [racks.length, carrierRadiusMm, turnsOf(load.motion) === 0, surface.kind];
    };
    const { racks, carrierRadiusMm } = demo.fixture;
    expect(seen('planetary')).toEqual([racks, carrierRadiusMm, false, 'planetary']);
    expect(seen('rotating')).toEqual([1, 0, true, 'plane']);
    expect(seen('dome')).toEqual([1, 0, true, 'dome']);
    expect(seen('fixed')).toEqual([1, undefined, true, 'plane']);
  });

  it('turn planets as their gears do', () => {
    const load = planLoad({ ...demo, fixture: { ...demo.fixture, gearRatio: -2.4 } });
    expect(turnsOf(load.motion)).toBe(-2.4);
  });

  it('that lag behind the batch, because it has no plan, keep the lenses that they were planned with', () => {
    const load = planLoad(demo);
    const later = { ...demo, order: { ...demo.order, lens: { ...demo.order.lens, diameterMm: 340 } } };
    const lenses = chamberScene(later, load).racks.flatMap(({ parts }) =>
      parts.filter(({ role }) => role === 'part').map(({ diameterMm }) => diameterMm),
    );
    expect(new Set(lenses)).toEqual(new Set([demo.order.lens.diameterMm]));
  });
});
