import { describe, expect, it } from 'vitest';
import { resolveIndex } from '../../../src/materials/index-spec.ts';
import { allMaterials, findMaterial } from '../../../src/materials/library.ts';
import { makeVariant } from '../../../src/materials/own/make-variant.ts';
import {
  exportMaterialJson,
  importMaterialJson,
  prepareMaterials,
  readOwnMaterial,
} from '../../../src/materials/own/own-material.ts';
import { prepareFor } from '../../../src/materials/prepare.ts';
import type { MaterialRecord } from '../../../src/materials/record.ts';

// invented for these tests
const ours = {
  id: 'our-oxide',
  name: 'Our oxide',
  role: 'film',
  kind: 'film',
  rangeNm: [400, 900],
  dispersion: { form: 'expression', n: '2 + 0.02/um^2' },
  source: { cites: 'measured in our shop, invented', provenance: 'invented' },
};

describe("a shop's own material", () => {
  it('is read, computed and used under its id', async () => {
    const record = await readOwnMaterial(ours);
    await prepareMaterials([record]);
    const { n, label, source } = resolveIndex('our-oxide', Float64Array.of(500), [record]);
    expect(n[0]).toBeCloseTo(2.08, 14);
    expect(label).toBe('Our oxide');
    expect(source).toBe('measured in our shop, invented (invented)');
  });

  it('goes before the material of the library that has its id', async () => {
    const record = await readOwnMaterial({ ...ours, id: 'tio2' });
    expect(resolveIndex('tio2', Float64Array.of(500), [record]).n[0]).toBeCloseTo(2.08, 14);
  });

  it('comes back from its file as it was, and so does every material of the library', async () => {
    const own = await readOwnMaterial(ours);
    for (const record of [own, ...allMaterials().slice(0, 20)])
      expect(await importMaterialJson(exportMaterialJson(record))).toEqual({
        material: record,
        warnings: [],
      });
  });

  it.each([
    ['not JSON', 'the file is not JSON; it begins with "not JSON"'],
    ['null', 'null is not an object'],
    ['[]', 'id: is missing'],
    ['"text"', '"text" is not an object'],
    [`{"__proto__": {"role": "film"}, ${JSON.stringify(ours).slice(1)}`, 'unknown field "__proto__"'],
    ['{}', 'id: is missing'],
    [JSON.stringify({ ...ours, id: 'Ours!' }), 'id: "Ours!" is not an id'],
    [JSON.stringify({ ...ours, id: '__proto__' }), 'id: "__proto__" is not an id'],
    [JSON.stringify({ ...ours, role: 'paint' }), 'role: "paint" is not one of "film", "metal", "substrate"'],
    [JSON.stringify({ ...ours, rangeNm: [900, 400] }), 'rangeNm: the range begins at 900 nm'],
    [JSON.stringify({ ...ours, extra: 1 }), 'extra: unknown field "extra"'],
    [
      JSON.stringify({ ...ours, dispersion: { form: 'magic' } }),
      'dispersion: {"form":"magic"} has no known "form"',
    ],
    [JSON.stringify({ ...ours, dispersion: { form: '__proto__' } }), 'has no known "form"'],
    [
      JSON.stringify({ ...ours, dispersion: { form: 'expression', n: 'import("fs")' } }),
      'dispersion.n: the expression "import(\\"fs\\")" calls "import"',
    ],
    [
      JSON.stringify({ ...ours, dispersion: { form: 'expression', n: '0.5 - um' } }),
      'the dispersion gives n =',
    ],
    [
      JSON.stringify({ ...ours, dispersion: { form: 'sellmeier', terms: [] } }),
      'dispersion.terms: the list has no entries; it needs at least 1',
    ],
  ])('%s is refused with one sentence', async (content, sentence) => {
    const result = await importMaterialJson(content);
    expect('fault' in result ? result.fault : 'accepted').toContain(sentence);
  });
});

describe("a variant with an id of the shop's own", () => {
  const titania = findMaterial('tio2')!;
  const naming = { id: 'our-titania', name: 'Our titania' };

  it('computes like the variant of an index and carries its data with it', async () => {
    const change = {
      packing: { density: 0.9, voids: 'water', rule: 'bruggeman' },
      indexScale: 1.02,
      addedK: 1e-4,
    } as const;
    const record = makeVariant(titania, naming, change);
    const wavelengthNm = Float64Array.of(450, 550, 800);
    const [own, spec] = [
      resolveIndex('our-titania', wavelengthNm, [record]),
      resolveIndex({ variantOf: 'tio2', ...change }, wavelengthNm),
    ];
    expect([own.n, own.k]).toEqual([spec.n, spec.k]);
    expect(own.caution).toBe(spec.caution);
    expect(record.film).toEqual(titania.film);
    expect(record.description).toBe(
      'Titanium dioxide as deposited here: packing 0.9 with water, n × 1.02, k + 0.0001',
    );
    expect(await importMaterialJson(exportMaterialJson(record))).toEqual({ material: record, warnings: [] });
  });

  it('may be changed further, but packed only once', () => {
    const porous = makeVariant(titania, naming, {
      packing: { density: 0.9, voids: 'vacuum', rule: 'linear' },
    });
    const lower = makeVariant(makeVariant(porous, naming, { indexScale: 0.98 }), naming, { indexScale: 0.5 });
    expect(lower.variant).toEqual({ packing: porous.variant?.packing, indexScale: 0.49, addedK: 0 });
    expect(() =>
      makeVariant(porous, naming, { packing: { density: 1, voids: 'vacuum', rule: 'linear' } }),
    ).toThrow('packing: the material has a packing already');
  });

  it.each([
    [{ ...naming, id: 'No' }, {}, 'id: "No" is not an id'],
    [naming, { indexScale: 3 }, 'variant.indexScale: 3 is above 2'],
    [naming, { addedK: -1 }, 'variant.addedK: -1 is below 0'],
  ])('%j with %j is refused with one sentence', (name, change, sentence) => {
    expect(() => makeVariant(titania, name, change)).toThrow(sentence);
  });
});

describe('a document that carries an expression', () => {
  it('is prepared by itself', async () => {
    await prepareFor({ materials: [ours] });
    const { n } = resolveIndex('our-oxide', Float64Array.of(1000), [ours as MaterialRecord]);
    expect(n[0]).toBeCloseTo(2 + 0.02 / 0.81, 14); // held at 900 nm, the end of its range
  });
});
