import { describe, expect, it } from 'vitest';
import { SPECTRAL_LINE_NM } from '../../src/base/constants.ts';
import { allMaterials, loadWholeLibrary } from '../../src/materials/library.ts';
import { materialCurves } from '../../src/materials/material-curves.ts';
import type { MaterialRecord } from '../../src/materials/record.ts';

await loadWholeLibrary();
const glasses = allMaterials().filter((record) => record.bulk?.nd !== undefined);
const coded = glasses.filter((record) => record.bulk?.glassCode !== undefined);

/** nd and the Abbe number (nd − 1)/(nF − nC). */
function lineIndices(record: MaterialRecord): [number, number] {
  const { n } = materialCurves(record);
  const [nd, nF, nC] = [n(SPECTRAL_LINE_NM.d), n(SPECTRAL_LINE_NM.F), n(SPECTRAL_LINE_NM.C)];
  return [nd, (nd - 1) / (nF - nC)];
}

describe('a glass', () => {
  it('stands for many in the library', () => {
    expect(coded.length).toBeGreaterThanOrEqual(18);
  });

  // nd and Abbe number as the reference gives them, from the catalogues' dispersion
  it.each(glasses)('$id has its index at the d line and its Abbe number', (record) => {
    const [nd, abbe] = lineIndices(record);
    expect(Math.abs(nd - record.bulk!.nd!)).toBeLessThan(6e-6);
    expect(Math.abs(abbe - record.bulk!.abbeNumber!)).toBeLessThan(0.006);
  });

  it.each(coded)('$id has the six digits that its index and Abbe number make', (record) => {
    const { id, bulk } = record;
    const [nd, abbe] = lineIndices(record);
    const digits = `${Math.round((nd - 1) * 1000)}${Math.round(abbe * 10)}`;
    expect(bulk!.glassCode).toBe(digits);
    // the sheet glass goes by its usual name, its table is too coarse for the last digit (see its caution)
    if (/^\d{6}/.test(id) && id !== '523585') expect(digits).toBe(id.slice(0, 6));
  });
});
