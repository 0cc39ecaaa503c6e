import { readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it, vi } from 'vitest';
import { allMaterials, findMaterial, libraryIds, loadWholeLibrary } from '../../src/materials/library.ts';
import { materialCurves } from '../../src/materials/material-curves.ts';

const folder = fileURLToPath(new URL('../../materials', import.meta.url));
// A library as it is when first loaded, whatever the tests before have fetched into theirs.
vi.resetModules();
const usual = (await import('../../src/materials/library.ts')).libraryIds();
await loadWholeLibrary();
const materials = allMaterials();

describe('the library', () => {
  it('lists every file of the folder under its own name', () => {
    const names = readdirSync(folder).map((file) => file.replace(/\.json$/, ''));
    expect(libraryIds()).toEqual(names.sort());
  });

  it('has at least 24 films, 24 substrates and the four metals', () => {
    const count = (role: string) => materials.filter((record) => record.role === role).length;
    expect(count('film')).toBeGreaterThanOrEqual(24);
    expect(count('substrate')).toBeGreaterThanOrEqual(24);
    for (const id of ['cr', 'al', 'ag', 'ni']) expect(findMaterial(id)?.role).toBe('metal');
  });

  it('has the usual materials at once, among them at least 24 films and metals and 24 substrates', () => {
    const roles = usual.map((id) => findMaterial(id)?.role);
    expect(roles.filter((role) => role !== 'substrate').length).toBeGreaterThanOrEqual(24);
    expect(roles.filter((role) => role === 'substrate').length).toBeGreaterThanOrEqual(24);
    expect(usual.length).toBeLessThan(materials.length);
  });

  it('gives undefined for an id that it does not have', () => {
    expect(findMaterial('nosuch')).toBeUndefined();
    expect(findMaterial('constructor')).toBeUndefined();
  });

  it('says how to deposit every film and metal', () => {
    for (const { id, role, film } of materials) if (role !== 'substrate') expect(film, id).toBeDefined();
  });

  it('gives every value of a film its provenance, and keeps the value within its usual range', () => {
    for (const { id, film, hazards } of materials) {
      for (const [name, entry] of Object.entries(film ?? {})) {
        if (typeof entry === 'string') continue;
        expect(entry.provenance, `${id} ${name}`).not.toBe('');
        if (!('range' in entry) || entry.range === undefined) continue;
        expect(entry.value, `${id} ${name}`).toBeGreaterThanOrEqual(entry.range[0]);
        expect(entry.value, `${id} ${name}`).toBeLessThanOrEqual(entry.range[1]);
      }
      for (const { fact, provenance } of hazards ?? []) expect([fact, provenance], id).not.toContain('');
    }
  });

  it('reminds of the hazards of every film and metal', () => {
    for (const { id, role, hazards } of materials)
      if (role !== 'substrate') expect(hazards?.length, id).toBeGreaterThanOrEqual(1);
  });

  it('has the crystal ratios that handbooks of quartz monitors give', () => {
    // Z-ratios in common use (from memory): aluminium 1.08, silver 0.529, nickel 0.331, chromium 0.305
    const ratio = (id: string) => findMaterial(id)?.film?.zRatio;
    expect([ratio('al')?.value, ratio('ag')?.value, ratio('ni')?.value, ratio('cr')?.value]).toEqual([
      1.08, 0.529, 0.331, 0.305,
    ]);
    expect(ratio('hfo2')).toMatchObject({ value: 1, known: false });
  });

  it.each(materials)('$id meets its own check values', (record) => {
    const { n, k } = materialCurves(record);
    for (const check of record.checks ?? []) {
      // n is printed with six decimals, k with four digits
      expect(Math.abs(n(check.wavelengthNm) - check.n)).toBeLessThan(5.001e-7);
      if (check.k !== undefined)
        expect(Math.abs(k(check.wavelengthNm) - check.k)).toBeLessThanOrEqual(5.001e-4 * check.k);
    }
    expect(record.checks?.length).toBeGreaterThanOrEqual(1);
  });
});
