import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  carryInto,
  correctionsFor,
  isTelling,
  sensorsOf,
} from '../../../src/app/stations/inspect/carry-corrections.ts';
import { fitRequest } from '../../../src/app/stations/inspect/fit-request.ts';
import { readBatch } from '../../../src/batch/read-batch.ts';

const demo = () =>
  readBatch(readFileSync(new URL('../../../demo/eyepiece-field-lens.json', import.meta.url), 'utf8'));
const FACTORS = [1, 1.02, 0.98].map((thicknessFactor) => ({ thicknessFactor, sigma: 0.002 }));

describe('corrections of the tooling', () => {
  it('go to the sensor that ended the layers', () => {
    const batch = demo();
    expect(sensorsOf(batch, batch.surfaces.front, 'zro2')).toEqual(['witness']);
    expect(sensorsOf(batch, batch.surfaces.front, 'mgf2')).toEqual(['crystal']);
  });

  it('divide the tooling by the thickness factor and are kept with their run', () => {
    const batch = demo();
    const all = correctionsFor(batch, batch.surfaces.front, FACTORS);
    const before = batch.process.materials.zro2!.witnessTooling;
    expect(all[1]).toMatchObject({ material: 'zro2', sensor: 'witness', before });
    expect(all[1]!.after).toBeCloseTo(before / 1.02, 12);
    const draft = structuredClone(batch);
    draft.runs.push({ id: 'run-1', number: 1, side: 'front', startedAt: '', operator: '', spectra: [] });
    carryInto(draft, batch, 'run-1', all);
    expect(draft.process.materials.zro2!.witnessTooling).toBeCloseTo(before / 1.02, 12);
    expect(draft.process.materials.zro2!.crystalTooling).toBe(batch.process.materials.zro2!.crystalTooling);
    expect(readBatch(JSON.stringify(draft)).runs[0]!.corrections).toEqual(all);
  });

  it('are worth while beyond twice the doubt of the factor', () => {
    expect(FACTORS.map(isTelling)).toEqual([false, true, true]);
  });
});

describe('the request of a fit', () => {
  it('refuses an absorptance with a sentence', () => {
    const batch = demo();
    const spectrum = {
      id: 'a',
      name: 'a',
      side: 'front' as const,
      quantity: 'A' as const,
      incidenceDeg: 0,
      wavelengthNm: [500],
      values: [0],
    };
    expect(() =>
      fitRequest(batch, batch.surfaces.front, spectrum, { free: 'materials', indexScale: false }),
    ).toThrow('an absorptance cannot be fitted');
  });
});
