import { InputError } from '../../../base/errors.ts';
import { findMaterial } from '../../../materials/library.ts';
import { makeVariant } from '../../../materials/own/make-variant.ts';
import {
  asResult,
  exportMaterialJson,
  type ImportResult,
  importMaterialJson,
  readOwnMaterial,
} from '../../../materials/own/own-material.ts';
import type { MaterialRecord, MaterialRole } from '../../../materials/record.ts';
import type { Variant } from '../../../materials/variant.ts';

/** How a material of the shop's own comes about. */
export type DraftKind = 'variant' | 'cauchy' | 'sellmeier' | 'expression' | 'text';

/** A material while it is being made or edited: all that the form holds, legal or not. */
export interface MaterialDraft {
  readonly kind: DraftKind;
  readonly name: string;
  /** Empty: made of the name. */
  readonly id: string;
  readonly role: MaterialRole;
  readonly cites: string;
  /** The record that is edited; undefined for a new material. */
  readonly edited: MaterialRecord | undefined;
  /** The film whose density, source and hazards a new film takes over; '' for none. */
  readonly propertiesOf: string;
  readonly baseId: string;
  readonly packed: boolean;
  readonly packing: number;
  readonly voids: 'vacuum' | 'water';
  readonly rule: NonNullable<Variant['packing']>['rule'];
  readonly indexScale: number;
  readonly addedK: number;
  readonly fromNm: number;
  readonly toNm: number;
  /** A, B, C of n = A + B/λ² + C/λ⁴, λ in µm. */
  readonly cauchy: readonly [number, number, number];
  /** B and C (µm²) of up to three terms of n² − 1 = Σ B λ²/(λ² − C). */
  readonly sellmeier: readonly { readonly strength: number; readonly resonanceUm2: number }[];
  readonly n: string;
  readonly k: string;
  /** A table, a record of the open dataset or a material's own file. */
  readonly text: string;
  readonly fileName: string;
}

const EMPTY: MaterialDraft = {
  kind: 'variant',
  name: '',
  id: '',
  role: 'film',
  cites: 'measured by the shop',
  edited: undefined,
  propertiesOf: '',
  baseId: 'mgf2',
  packed: true,
  packing: 0.9,
  voids: 'vacuum',
  rule: 'linear',
  indexScale: 1,
  addedK: 0,
  fromNm: 380,
  toNm: 1100,
  cauchy: [1.45, 0.0035, 0],
  sellmeier: [{ strength: 1.1, resonanceUm2: 0.01 }],
  n: '1.45 + 0.0035 / um^2',
  k: '0',
  text: '',
  fileName: '',
};

/** A new draft: a variant of `base`, or of the usual magnesium fluoride. */
export function newDraft(kind: DraftKind, base: MaterialRecord | undefined): MaterialDraft {
  if (base === undefined) return { ...EMPTY, kind };
  const isDense = base.variant?.packing === undefined;
  return {
    ...EMPTY,
    kind,
    role: kind === 'variant' ? base.role : 'film',
    baseId: base.id,
    packed: isDense && base.role === 'film',
    name: kind === 'variant' ? `${base.name}, this chamber` : '',
    cites: kind === 'variant' ? '' : EMPTY.cites,
  };
}

/** The draft that makes a record again; what has no form of its own is edited as the text of its file. */
export function draftOf(record: MaterialRecord): MaterialDraft {
  const { id, name, role, rangeNm, dispersion, extinction, variant, source } = record;
  const draft: MaterialDraft = {
    ...EMPTY,
    id,
    name,
    role,
    cites: source.cites,
    edited: record,
    fromNm: rangeNm[0],
    toNm: rangeNm[1],
    fileName: '',
  };
  if (variant !== undefined)
    return {
      ...draft,
      kind: 'variant',
      packed: variant.packing !== undefined,
      packing: variant.packing?.density ?? 1,
      voids: variant.packing?.voids ?? 'vacuum',
      rule: variant.packing?.rule ?? 'linear',
      indexScale: variant.indexScale,
      addedK: variant.addedK,
    };
  if (dispersion.form === 'expression' && (extinction === undefined || extinction.form === 'expression'))
    return { ...draft, kind: 'expression', n: dispersion.n, k: extinction?.k ?? '0' };
  if (dispersion.form === 'cauchy' && extinction === undefined) {
    const at = (power: number) => dispersion.terms.find((term) => term.power === power)?.coefficient ?? 0;
    if (dispersion.terms.every(({ power }) => power === -2 || power === -4))
      return { ...draft, kind: 'cauchy', cauchy: [dispersion.constant, at(-2), at(-4)] };
  }
  if (dispersion.form === 'sellmeier' && extinction === undefined && dispersion.constant === 0) {
    const terms = dispersion.terms.flatMap((term) => ('resonanceUm2' in term ? [term] : []));
    if (terms.length === dispersion.terms.length && terms.length <= 3)
      return { ...draft, kind: 'sellmeier', sellmeier: terms };
  }
  return { ...draft, kind: 'text', text: exportMaterialJson(record) };
}

/**
 * What a draft makes: a material with remarks, or the sentence why not. Readers of tables and of the dataset's records are
 * loaded when they are wanted.
 * @param own the batch's own materials, among which the base is looked for first.
 */
export async function readDraft(draft: MaterialDraft, own: readonly MaterialRecord[]): Promise<ImportResult> {
  if (draft.kind === 'text') return readText(draft);
  return asResult(async () => {
    requireName(draft);
    if (draft.kind === 'variant') return { material: await variantOf(draft, own), warnings: [] };
    const { id, name, role, fromNm, toNm, cites } = draft;
    const made = await readOwnMaterial({
      id,
      name,
      role,
      kind: role === 'substrate' ? 'glass' : 'film',
      rangeNm: [fromNm, toNm],
      ...formulaOf(draft),
      source: { cites, provenance: 'entered by the shop' },
    });
    return { material: withProperties(made, draft), warnings: [] };
  });
}

async function variantOf(draft: MaterialDraft, own: readonly MaterialRecord[]): Promise<MaterialRecord> {
  const base = draft.edited === undefined ? findMaterial(draft.baseId, own) : bareOf(draft.edited);
  if (base === undefined) throw new InputError('', `there is no material "${draft.baseId}" to change`);
  const change = {
    ...(draft.packed ? { packing: { density: draft.packing, voids: draft.voids, rule: draft.rule } } : {}),
    indexScale: draft.indexScale,
    addedK: draft.addedK,
  };
  const { propertiesOf: _, ...made } = makeVariant(base, { id: draft.id, name: draft.name }, change);
  const description = draft.edited?.description;
  return readOwnMaterial(
    description === undefined ? made : { ...made, description: edited(description, made) },
  );
}

/** The record as it was before it was changed, its name taken back from "… as deposited here". */
function bareOf({ variant: _, caution, ...record }: MaterialRecord): MaterialRecord {
  const kept = caution
    ?.split('; ')
    .filter((part) => !part.startsWith('absorption of the water in the voids'))
    .join('; ');
  return kept ? { ...record, caution: kept } : record;
}

/** "Magnesium fluoride as deposited here: …" with the first half of what stood there and the new changes. */
function edited(before: string, { description = '' }: MaterialRecord): string {
  const [base] = before.split(' as deposited here: ');
  const [, changes] = description.split(' as deposited here: ');
  return before.includes(' as deposited here: ') ? `${base} as deposited here: ${changes}` : description;
}

function formulaOf({ kind, cauchy: [a, b, c], sellmeier, n, k }: MaterialDraft): object {
  if (kind === 'cauchy')
    return {
      dispersion: {
        form: 'cauchy',
        constant: a,
        terms: [
          { coefficient: b, power: -2 },
          { coefficient: c, power: -4 },
        ],
      },
    };
  if (kind === 'sellmeier') return { dispersion: { form: 'sellmeier', constant: 0, terms: sellmeier } };
  const absorbs = k.trim() !== '' && k.trim() !== '0';
  return {
    dispersion: { form: 'expression', n },
    ...(absorbs ? { extinction: { form: 'expression', k } } : {}),
  };
}

async function readText(draft: MaterialDraft): Promise<ImportResult> {
  const { text, fileName, edited: before, id, name, role, cites } = draft;
  if (text.trim() === '')
    return {
      fault: 'nothing to read yet: choose a file, drop one here, or paste a table of wavelength, n and k',
    };
  const kind = textKind(text, fileName);
  if (kind === 'record') return importMaterialJson(text);
  if (name.trim() === '') return { fault: 'the material needs a name' };
  const naming = { id, name, role, ...(cites === '' ? {} : { cites }) };
  const result =
    kind === 'dataset'
      ? await (await import('../../../materials/own/import-dataset.ts')).importDatasetYaml(text, naming)
      : await (await import('../../../materials/own/import-table.ts')).importIndexTable(text, naming);
  if ('fault' in result) return result;
  return asResult(async () => ({
    material: withProperties(result.material, { ...draft, edited: before }),
    warnings: result.warnings,
  }));
}

/** What a text is: a material's own file (JSON), a record of the open dataset (YAML), or a table. */
export function textKind(text: string, fileName = ''): 'record' | 'dataset' | 'table' {
  if (/^\uFEFF?\s*\{/.test(text) || /\.json$/i.test(fileName)) return 'record';
  if (/\.ya?ml$/i.test(fileName) || /^(REFERENCES|COMMENTS|DATA|CONDITIONS|SPECS)\s*:/m.test(text))
    return 'dataset';
  return 'table';
}

/** A record with the film's properties and hazards: those it had, else those of the film that it is likened to. */
function withProperties(
  record: MaterialRecord,
  { edited: before, propertiesOf }: MaterialDraft,
): MaterialRecord {
  const model = before ?? (propertiesOf === '' ? undefined : findMaterial(propertiesOf));
  if (model === undefined) return record;
  const { formula, film, hazards } = model;
  const told = before === undefined ? {} : keptOf(before);
  return {
    ...record,
    ...told,
    ...(formula === undefined ? {} : { formula }),
    ...(film === undefined || record.role === 'substrate' ? {} : { film }),
    ...(hazards === undefined ? {} : { hazards }),
  };
}

function keptOf({ description, caution, bulk, temperatureC }: MaterialRecord) {
  return {
    ...(description === undefined ? {} : { description }),
    ...(caution === undefined ? {} : { caution }),
    ...(bulk === undefined ? {} : { bulk }),
    ...(temperatureC === undefined ? {} : { temperatureC }),
  };
}

function requireName({ name }: MaterialDraft): void {
  if (name.trim() === '') throw new InputError('', 'the material needs a name');
}
