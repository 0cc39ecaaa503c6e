import { describe, expect, it } from 'vitest';
import {
  draftOf,
  type MaterialDraft,
  newDraft,
  readDraft,
  textKind,
} from '../../src/app/pages/materials/material-draft.ts';
import { findMaterial } from '../../src/materials/library.ts';
import { materialCurves } from '../../src/materials/material-curves.ts';
import { exportMaterialJson } from '../../src/materials/own/own-material.ts';
import type { MaterialRecord } from '../../src/materials/record.ts';

async function made(draft: MaterialDraft): Promise<MaterialRecord> {
  const result = await readDraft({ ...draft, id: draft.id || 'own', name: draft.name || 'Own' }, []);
  if ('fault' in result) throw new Error(result.fault);
  return result.material;
}

const nAt = (record: MaterialRecord, nm: number) => materialCurves(record).n(nm);

describe('a material that is made', () => {
  it('of a Cauchy series has n = A + B/λ² + C/λ⁴ with λ in µm', async () => {
    const record = await made({ ...newDraft('cauchy', undefined), cauchy: [1.5, 0.01, 0.001] });
    expect(nAt(record, 500)).toBeCloseTo(1.5 + 0.01 / 0.25 + 0.001 / 0.0625, 12);
  });

  it('of Sellmeier terms has n² − 1 = Σ B λ²/(λ² − C)', async () => {
    const record = await made({
      ...newDraft('sellmeier', undefined),
      sellmeier: [
        { strength: 1, resonanceUm2: 0.01 },
        { strength: 0.5, resonanceUm2: 100 },
      ],
    });
    expect(nAt(record, 500) ** 2).toBeCloseTo(1 + 0.25 / 0.24 + (0.5 * 0.25) / (0.25 - 100), 12);
  });

  it('takes density and hazards of the film that it is likened to', async () => {
    const record = await made({ ...newDraft('cauchy', undefined), propertiesOf: 'sio2' });
    expect(record.film).toEqual(findMaterial('sio2')?.film);
    expect(record.hazards).toEqual(findMaterial('sio2')?.hazards);
  });

  it('as a variant carries the data of its base', async () => {
    const base = findMaterial('mgf2');
    const record = await made({ ...newDraft('variant', base), packing: 0.8, indexScale: 1.1 });
    // linear mixture of the solid and empty voids, then the factor
    expect(nAt(record, 587.6)).toBeCloseTo(
      1.1 * (0.8 * (base === undefined ? 0 : nAt(base, 587.6)) + 0.2),
      12,
    );
    expect(record.film).toEqual(base?.film);
  });
});

describe('a material that is edited', () => {
  const drafts: MaterialDraft[] = [
    newDraft('cauchy', undefined),
    newDraft('sellmeier', undefined),
    { ...newDraft('expression', undefined), k: 'nm < 500 ? 0.01 : 0' },
    { ...newDraft('variant', findMaterial('tio2')), packing: 0.85, voids: 'water', addedK: 1e-4 },
    { ...newDraft('text', undefined), text: 'nm n k\n400 1.5 0.1\n500 1.4 0\n' },
  ];

  it.each(drafts.map((draft) => [draft.kind, draft] as const))(
    'and kept without a change stays what it was (%s)',
    async (_, draft) => {
      const before = await made(draft);
      const again = draftOf(before);
      expect(again.kind).toBe(draft.kind);
      const after = await made(again);
      const { source, ...rest } = after;
      expect(rest).toEqual(Object.fromEntries(Object.entries(before).filter(([key]) => key !== 'source')));
      expect(source.cites).toBe(before.source.cites);
    },
  );

  it('keeps what the form does not show', async () => {
    const before = { ...(await made(newDraft('cauchy', undefined))), temperatureC: 25, caution: 'thin' };
    const after = await made({ ...draftOf(before), cauchy: [1.6, 0, 0] });
    expect(after).toMatchObject({ temperatureC: 25, caution: 'thin' });
    expect(nAt(after, 500)).toBeCloseTo(1.6, 12);
  });
});

describe('a material that cannot be', () => {
  const faults: readonly (readonly [string, MaterialDraft, RegExp])[] = [
    ['has no name', { ...newDraft('cauchy', undefined), name: ' ' }, /needs a name/],
    ['has a range from end to start', { ...newDraft('cauchy', undefined), fromNm: 900, toNm: 400 }, /900 nm/],
    ['has an index below 0', { ...newDraft('cauchy', undefined), cauchy: [-1, 0, 0] }, /n = -/],
    ['has an id with blanks', { ...newDraft('cauchy', undefined), id: 'My Film' }, /"My Film"/],
    ['is packed above 1', { ...newDraft('variant', findMaterial('mgf2')), packing: 1.2 }, /1.2 is above 1/],
    [
      'changes what nobody has',
      { ...newDraft('variant', undefined), baseId: 'unobtainium' },
      /"unobtainium"/,
    ],
    ['reaches for the page', { ...newDraft('expression', undefined), n: 'document' }, /document/],
    ['is an empty text', newDraft('text', undefined), /nothing to read yet/],
  ];

  it.each(faults)('because it %s is refused with one sentence', async (_, draft, sentence) => {
    const result = await readDraft({ ...draft, id: draft.id || 'own', name: draft.name || 'Own' }, []);
    expect('fault' in result && result.fault).toMatch(sentence);
  });
});

describe('a text', () => {
  it('is told apart by its start and by the ending of its file', () => {
    expect(textKind('nm;n\n400;1.5')).toBe('table');
    expect(textKind('REFERENCES: "x"\nDATA:\n  - type: formula 1')).toBe('dataset');
    expect(textKind('anything', 'a.yml')).toBe('dataset');
    expect(textKind(exportMaterialJson(findMaterial('mgf2') as MaterialRecord))).toBe('record');
  });
});
