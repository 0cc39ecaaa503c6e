import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { carryMaterials } from '../../src/batch/carry-materials.ts';
import { computePlan } from '../../src/batch/plan/plan.ts';
import { readBatch, writeBatch } from '../../src/batch/read-batch.ts';

const batch = readBatch(readFileSync('demo/eyepiece-field-lens.json', 'utf8'));

it('a batch that carries its materials has each once, is valid and computes the same', () => {
  const carried = carryMaterials(batch);
  expect(carried.materials.map(({ id }) => id).sort()).toEqual(['517642', 'al2o3', 'mgf2', 'zro2']);
  expect(carryMaterials(carried)).toBe(carried);
  const again = readBatch(writeBatch(carried));
  expect(computePlan(again)).toEqual(computePlan(batch));
});

it("a carried material goes before the library's of the same name", () => {
  const carried = structuredClone(carryMaterials(batch));
  const glass = carried.materials.find(({ id }) => id === '517642')!;
  const other = { ...glass, dispersion: { form: 'cauchy', constant: 1.9, terms: [] } };
  const changed = {
    ...carried,
    materials: carried.materials.map((record) => (record === glass ? other : record)),
  };
  const reflectance = (document: unknown) =>
    computePlan(readBatch(JSON.stringify(document))).surfaces[0]!.bare[0];
  expect(reflectance(changed)).toBeCloseTo((0.9 / 2.9) ** 2, 12);
  expect(reflectance(carried)).toBeLessThan(0.05);
});
