import { describe, expect, it } from 'vitest';
import { findMaterial, loadWholeLibrary } from '../../src/materials/library.ts';
import { hasExtinction } from '../../src/materials/material-curves.ts';
import { headlineIndex, listMaterials, sampleMaterial } from '../../src/materials/material-list.ts';
import { temperatureNote } from '../../src/materials/temperature-note.ts';

await loadWholeLibrary();
const titania = findMaterial('tio2')!;

describe('the list of materials', () => {
  it('has every id once, the own before that of the library', () => {
    const own = { ...titania, name: 'Our titania' };
    const list = listMaterials([own]);
    expect(list.filter((record) => record.id === 'tio2')).toEqual([own]);
    expect(new Set(list.map((record) => record.id)).size).toBe(list.length);
  });

  it('shows an index by which people know a material', () => {
    expect(headlineIndex(findMaterial('517642')!)).toMatchObject({ wavelengthNm: 587.5618 });
    expect(headlineIndex(findMaterial('517642')!).n).toBeCloseTo(1.5168, 5);
    expect(headlineIndex(findMaterial('germanium')!).wavelengthNm).toBe(10_600);
    // handbooks give 4.00 for germanium at 10.6 µm (from memory)
    expect(headlineIndex(findMaterial('germanium')!).n).toBeCloseTo(4, 2);
  });
});

describe('the curve of a material', () => {
  it('meets both ends of its range', () => {
    const { wavelengthNm, inRange } = sampleMaterial(titania);
    expect([wavelengthNm[0], wavelengthNm.at(-1)]).toEqual(titania.rangeNm);
    expect(inRange.every(Boolean)).toBe(true);
  });

  it('goes beyond the range where asked, flagged', () => {
    const { n, inRange } = sampleMaterial(titania, 100, 20_000, 11);
    expect([inRange[0], inRange[10]]).toEqual([false, false]);
    expect(n.every(Number.isFinite)).toBe(true);
  });

  it('refuses limits in the wrong order', () => {
    expect(() => sampleMaterial(titania, 500, 400)).toThrow('toNm: 400 nm is not above 500 nm');
    expect(() => sampleMaterial(titania, 400, 500, 1)).toThrow('points: 1 is below 2');
  });
});

describe('the extinction', () => {
  it('is known or taken as 0', () => {
    const known = (id: string) => hasExtinction(findMaterial(id)!);
    expect([known('tio2'), known('517642'), known('zro2'), known('sapphire')]).toEqual([
      true,
      true,
      false,
      false,
    ]);
  });
});

describe('the note on temperature', () => {
  it('stands where the data are of another temperature', () => {
    expect(temperatureNote(findMaterial('silicon-visible')!, 20)).toBeUndefined();
    expect(temperatureNote(findMaterial('silicon-visible')!, 250)).toContain(
      'of 27 °C and is not corrected to 250 °C',
    );
    expect(temperatureNote(titania, 250)).toContain('taken to be of 20 °C');
  });
});
