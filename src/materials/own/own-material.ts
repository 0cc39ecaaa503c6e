import { InputError } from '../../base/errors.ts';
import { parse, shown } from '../../base/schema.ts';
import { prepareExpressions } from '../forms/expression.ts';
import { materialCurves } from '../material-curves.ts';
import { type MaterialRecord, materialRecord } from '../record.ts';

/** The most characters that a file of a material may have. */
export const MOST_MATERIAL_CHARACTERS = 4_000_000;

/** What an import gives: a material with remarks, or what is wrong with the file. */
export type ImportResult =
  | { readonly material: MaterialRecord; readonly warnings: readonly string[] }
  | { readonly fault: string };

const PROBES = 257;

/**
 * Loads what the materials need to be computed: the reader of expressions where one of them has an
 * expression. To be awaited once before own materials are used; the library needs nothing.
 */
export async function prepareMaterials(own: readonly MaterialRecord[]): Promise<void> {
  const needed = own.some(
    ({ dispersion, extinction }) => dispersion.form === 'expression' || extinction?.form === 'expression',
  );
  if (needed) await prepareExpressions();
}

/**
 * Reads one of the shop's own materials from a value that JSON gave, and tries it over its whole range.
 * @throws InputError at the first fault: of shape, of order, or where n is not above 0 or k is below 0.
 */
export async function readOwnMaterial(input: unknown): Promise<MaterialRecord> {
  const record = parse(materialRecord, input);
  await prepareMaterials([record]);
  tryMaterial(record);
  return record;
}

/**
 * Computes n and k at 257 wavelengths over the range of a record, so that a bad formula is found now.
 * @throws InputError where n is not finite and above 0, or k not finite and at least 0.
 */
export function tryMaterial(record: MaterialRecord): void {
  const [from, to] = record.rangeNm;
  const { n, k } = materialCurves(record);
  for (let i = 0; i < PROBES; i++) {
    const nm = from + ((to - from) * i) / (PROBES - 1);
    const value = { n: n(nm), k: k(nm) };
    if (!(value.n > 0 && value.n < Infinity))
      throw new InputError('dispersion', `n is ${value.n} at ${nm} nm; it must be finite and above 0`);
    if (!(value.k >= 0 && value.k < Infinity))
      throw new InputError('extinction', `k is ${value.k} at ${nm} nm; it must be finite and not below 0`);
  }
}

/** A material as the text of a file, which `importMaterialJson` reads back. */
export function exportMaterialJson(record: MaterialRecord): string {
  return `${JSON.stringify(record, undefined, 2)}\n`;
}

/** Reads a file that `exportMaterialJson` wrote, or one of the library's. */
export async function importMaterialJson(content: string): Promise<ImportResult> {
  return asResult(async () => {
    requireShort(content);
    let input: unknown;
    try {
      input = JSON.parse(content);
    } catch {
      throw new InputError('', `the file is not JSON; it begins with ${shown(content.slice(0, 30))}`);
    }
    return { material: await readOwnMaterial(input), warnings: [] };
  });
}

/** Turns an `InputError` into a result; any other error stays one. */
export async function asResult(
  work: () => Promise<Exclude<ImportResult, { fault: string }>>,
): Promise<ImportResult> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof InputError) return { fault: error.message };
    throw error;
  }
}

/** @throws InputError where a file is longer than any material's. */
export function requireShort(content: string): void {
  if (content.length > MOST_MATERIAL_CHARACTERS)
    throw new InputError(
      '',
      `the file has ${content.length} characters, more than ${MOST_MATERIAL_CHARACTERS}`,
    );
}
