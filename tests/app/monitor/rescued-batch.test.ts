import { describe, expect, it } from 'vitest';
import { coatedAs, putRescued } from '../../../src/app/stations/monitor/rescued-batch.ts';
import type { Batch } from '../../../src/batch/document.ts';
import { newBatch } from '../../../src/batch/new-batch.ts';
import { layerSettings } from '../../../src/batch/plan/monitored-layers.ts';

/** A batch (invented) whose back is coated as the front, with a layer that has its own way of being monitored. */
function batch(): Batch {
  const made = structuredClone(newBatch('one')) as Batch;
  const front = made.surfaces.front as { layers: unknown };
  front.layers = [
    { id: 'f1', material: 'al2o3', thicknessNm: 80 },
    { id: 'f2', material: 'mgf2', thicknessNm: 100 },
  ];
  made.surfaces.back = 'same';
  made.monitor.layers = { f2: { wavelengthNm: 480, rule: 'swing' } };
  return made;
}
const rescued = [
  { material: 'al2o3', thicknessNm: 84.123, planned: 0 },
  { material: 'mgf2', thicknessNm: 95, planned: 1 },
  { material: 'al2o3', thicknessNm: 7, planned: -1 },
];
const nm = (layers: readonly { thicknessNm: number }[]) => layers.map(({ thicknessNm }) => thicknessNm);

describe('rescued layers', () => {
  it('of the second side leave the first one as planned', () => {
    const draft = batch();
    putRescued(draft, 'back', rescued);
    expect(nm(draft.surfaces.front.layers)).toEqual([80, 100]);
    expect(nm(coatedAs(draft, 'back').layers)).toEqual([84.12, 95, 7]);
  });

  it('of the first side leave the second one as planned, with a coating of its own', () => {
    const draft = batch();
    putRescued(draft, 'front', rescued);
    expect(nm(draft.surfaces.front.layers)).toEqual([84.12, 95, 7]);
    expect(draft.surfaces.back).toBeTypeOf('object');
    expect(nm(coatedAs(draft, 'back').layers)).toEqual([80, 100]);
  });

  it('have names of their own and are monitored as they were planned to be', () => {
    const draft = batch();
    putRescued(draft, 'back', rescued);
    const all = [...draft.surfaces.front.layers, ...coatedAs(draft, 'back').layers].map(({ id }) => id);
    expect(new Set(all).size).toBe(5);
    const [first, second, added] = coatedAs(draft, 'back').layers;
    expect(layerSettings(draft.monitor, second!.id)).toMatchObject({ wavelengthNm: 480, rule: 'swing' });
    for (const one of [first!, added!])
      expect(layerSettings(draft.monitor, one.id).wavelengthNm).toBe(draft.monitor.wavelengthNm);
  });

  it('go to a bare back nowhere', () => {
    const draft = batch();
    draft.surfaces.back = 'uncoated';
    putRescued(draft, 'back', rescued);
    expect(draft.surfaces.back).toBe('uncoated');
    expect(nm(draft.surfaces.front.layers)).toEqual([80, 100]);
  });
});
