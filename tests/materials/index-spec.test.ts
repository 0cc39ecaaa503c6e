import { describe, expect, it } from 'vitest';
import { parse } from '../../src/base/schema.ts';
import { type IndexSpec, indexSpec, resolveIndex } from '../../src/materials/index-spec.ts';
import { allMaterials, findMaterial, loadWholeLibrary } from '../../src/materials/library.ts';

await loadWholeLibrary();
const resolve = (spec: IndexSpec, ...wavelengthNm: number[]) =>
  resolveIndex(spec, Float64Array.from(wavelengthNm));

describe('an index resolved', () => {
  it('is finite, n above 0 and k not below 0 for every material from 100 nm to 30 µm', () => {
    const wavelengthNm = Float64Array.from({ length: 400 }, (_, i) => 100 * 300 ** (i / 399));
    for (const { id } of allMaterials()) {
      const { n, k, inRange, warnings } = resolveIndex(id, wavelengthNm);
      expect(
        n.every((value) => value > 0 && value < 100),
        id,
      ).toBe(true);
      expect(
        k.every((value) => value >= 0 && value < 300),
        id,
      ).toBe(true);
      expect(inRange.includes(true) && inRange.includes(false), id).toBe(true);
      expect(warnings.length, id).toBe(1);
    }
  });

  it('counts both ends of the range as inside', () => {
    expect(resolve('517642', 299.999, 300, 2500, 2500.001).inRange).toEqual([false, true, true, false]);
  });

  it('names one wavelength outside by itself', () => {
    expect(resolve('ta2o5', 500, 2000).warnings[0]).toContain(
      '2000 nm lies outside its data (350 to 1800 nm)',
    );
  });

  it('is refused where nobody knows the id, with the id that was perhaps meant', () => {
    expect(() => resolve('TiO2', 500)).toThrow('"TiO2" is not a known material; "tio2" is');
    expect(() => resolve('unobtainium', 500)).toThrow(/^"unobtainium" is not a known material$/);
  });

  it('cites the paper, and the provenance where there is none', () => {
    expect(resolve('mgf2', 500).source).toContain('Appl. Surf. Sci. 421');
    expect(resolve('yf3', 500).source).toBe('no page opened (from memory)');
  });

  it('reflects 91.5 % from bare aluminium at 550 nm', () => {
    // index of the evaporated set, linear interpolation: n = 1.015, k = 6.627, R = 0.91538 (reference facts)
    const { n, k } = resolve('al', 550);
    const [n0, k0] = [n[0]!, k[0]!];
    expect(n0).toBeCloseTo(1.015, 3);
    expect(((n0 - 1) ** 2 + k0 ** 2) / ((n0 + 1) ** 2 + k0 ** 2)).toBeCloseTo(0.91538, 4);
  });
});

describe('a variant', () => {
  const variant = (input: unknown) => parse(indexSpec, input);

  it('changes n and k as the shop says', () => {
    const plain = resolve('ta2o5', 550);
    const spec = variant({ variantOf: 'ta2o5', indexScale: 0.98, addedK: 1e-4 });
    const changed = resolve(spec, 550);
    expect(changed.n[0]).toBe(plain.n[0]! * 0.98);
    expect(changed.k[0]).toBe(plain.k[0]! + 1e-4);
    expect(changed.label).toBe('Tantalum pentoxide, n × 0.98, k + 0.0001');
    expect(changed.source).toBe(plain.source);
  });

  it('is the thing itself where it changes nothing', () => {
    for (const id of ['ta2o5', 'al', '517642']) {
      const [plain, same] = [resolve(id, 500, 700), resolve(variant({ variantOf: id }), 500, 700)];
      expect([same.n, same.k, same.label]).toEqual([plain.n, plain.k, plain.label]);
    }
  });

  it('is porous, with its voids empty or full of water', () => {
    const solid = resolve(1.38, 550).n[0]!;
    const porous = (voids: string) =>
      resolve(variant({ variantOf: 1.38, packing: { density: 0.8, voids } }), 550);
    expect(porous('vacuum').n[0]).toBeCloseTo(0.8 * solid + 0.2, 14);
    expect(porous('water').n[0]).toBeCloseTo(0.8 * solid + 0.2 * 1.333, 14);
    expect(porous('water').caution).toContain('absorption of the water');
    expect(porous('vacuum').label).toBe('1.38, packing 0.8 with empty voids');
  });

  it('keeps the range of its material', () => {
    expect(resolve(variant({ variantOf: 'ta2o5', indexScale: 1.01 }), 200).inRange).toEqual([false]);
  });
});

describe('another data set of a film', () => {
  it('has the density, process and hazards of the film', () => {
    const [film, other] = [findMaterial('tio2')!, findMaterial('tio2-ald-siefke')!];
    expect(other.film).toEqual(film.film);
    expect(other.hazards).toEqual(film.hazards);
    expect(other.dispersion).not.toEqual(film.dispersion);
  });
});
