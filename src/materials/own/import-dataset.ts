import { parseDocument } from 'yaml';
import { InputError } from '../../base/errors.ts';
import { shown } from '../../base/schema.ts';
import type { Dispersion, Extinction } from '../dispersion.ts';
import { MOST_TABLE_POINTS } from '../forms/table.ts';
import { datasetFormula } from './dataset-formulas.ts';
import { type ImportNaming, kindOf } from './import-naming.ts';
import { asResult, type ImportResult, readOwnMaterial, requireShort } from './own-material.ts';

/** A part of a record's DATA, read. */
interface Part {
  readonly rangeNm: readonly [number, number];
  readonly dispersion?: Dispersion;
  readonly extinction?: Extinction;
}

/**
 * Imports a record of the open refractive-index dataset: YAML with REFERENCES, DATA of type "formula 1" to
 * "formula 9", "tabulated n", "tabulated nk", "tabulated k", and CONDITIONS or SPECS.
 */
export async function importDatasetYaml(content: string, naming: ImportNaming): Promise<ImportResult> {
  return asResult(async () => {
    requireShort(content);
    const record = readYaml(content);
    const warnings: string[] = [];
    const data = field(record, 'DATA');
    if (!Array.isArray(data) || data.length === 0) throw new InputError('DATA', 'is missing or not a list');
    const parts = data.map((part, i) => readPart(part, `DATA[${i}]`, warnings));
    const main = parts.find((part) => part.dispersion !== undefined);
    if (main === undefined) throw new InputError('DATA', 'holds no refractive index n');
    if (parts.filter((part) => part.dispersion !== undefined).length > 1)
      warnings.push('The record holds more than one n; the first was taken.');
    const extinction = parts.find((part) => part.extinction !== undefined)?.extinction;
    const temperatureC = temperatureOf(record);
    const relativeToAir = conditionOf(record, 'n_is_absolute') === false;
    const material = await readOwnMaterial({
      id: naming.id,
      name: naming.name,
      role: naming.role,
      kind: kindOf(naming.role),
      rangeNm: main.rangeNm,
      dispersion: main.dispersion,
      ...(extinction === undefined ? {} : { extinction }),
      ...(relativeToAir ? { relativeTo: 'air' } : {}),
      ...(temperatureC === undefined ? {} : { temperatureC }),
      source: {
        cites: plainText(field(record, 'REFERENCES')) || naming.cites || 'record without references',
        dataset: 'refractive-index dataset, record imported by the shop',
        provenance: 'imported by the shop',
      },
    });
    return { material, warnings };
  });
}

/** Plain data only: no aliases (which could swell), no tags of classes, every key once. */
function readYaml(content: string): unknown {
  try {
    const document = parseDocument(content, { schema: 'core', uniqueKeys: true, logLevel: 'silent' });
    const fault = document.errors[0] ?? document.warnings[0];
    if (fault !== undefined)
      throw new InputError('', `the file is not plain YAML: ${firstLine(fault.message)}`);
    return document.toJS({ maxAliasCount: 0 });
  } catch (error) {
    if (error instanceof InputError) throw error;
    const why = error instanceof ReferenceError ? 'it uses aliases' : 'it is nested too deeply';
    throw new InputError('', `the file is not plain YAML: ${why}`);
  }
}

/** Longest part of the YAML reader's message that is handed on: it quotes what it stumbled over, however long that is. */
const MOST_QUOTED = 160;

function firstLine(message: string): string {
  const line = (message.split('\n')[0] ?? '').replace(/:$/, '');
  return line.length > MOST_QUOTED ? `${line.slice(0, MOST_QUOTED)} …` : line;
}

function readPart(part: unknown, path: string, warnings: string[]): Part {
  const type = String(field(part, 'type') ?? '').trim();
  const formula = /^formula ([0-9]+)$/.exec(type);
  if (formula !== null) return readFormula(part, Number(formula[1]), path);
  if (type === 'tabulated n') return tablePart(readRows(part, 2, path), true);
  if (type === 'tabulated nk') return tablePart(readRows(part, 3, path), true);
  if (type === 'tabulated k') return tablePart(readRows(part, 2, path), false);
  warnings.push(`A part of type ${shown(type)} was left out.`);
  return { rangeNm: [0, 0] };
}

function readFormula(part: unknown, formula: number, path: string): Part {
  const range = numbers(field(part, 'wavelength_range') ?? field(part, 'range'), `${path}.wavelength_range`);
  const [from, to] = range;
  if (range.length !== 2 || from === undefined || to === undefined)
    throw new InputError(`${path}.wavelength_range`, `${range.length} numbers are not a range`);
  const coefficients = numbers(field(part, 'coefficients'), `${path}.coefficients`);
  return { rangeNm: [toNm(from), toNm(to)], dispersion: datasetFormula(formula, coefficients) };
}

function readRows(part: unknown, width: number, path: string): number[][] {
  const data = field(part, 'data');
  if (typeof data !== 'string') throw new InputError(`${path}.data`, 'is missing or not a text of rows');
  const lines = data.split('\n').filter((line) => line.trim() !== '');
  if (lines.length === 0 || lines.length > MOST_TABLE_POINTS)
    throw new InputError(`${path}.data`, `${lines.length} rows are not within 1 to ${MOST_TABLE_POINTS}`);
  const rows = lines.map((line, i) => {
    const row = numbers(line, `${path}.data, row ${i + 1}`);
    if (row.length !== width)
      throw new InputError(`${path}.data, row ${i + 1}`, `${row.length} numbers stand where ${width} belong`);
    return row;
  });
  const rising = rows.sort((a, b) => a[0]! - b[0]!);
  return rising.filter((row, i) => row.some((value, j) => value !== rising[i - 1]?.[j]));
}

function tablePart(rows: readonly (readonly number[])[], hasN: boolean): Part {
  const wavelengthNm = rows.map((row) => toNm(row[0]!));
  const column = (index: number) => rows.map((row) => row[index]!);
  const rangeNm = [wavelengthNm[0]!, wavelengthNm.at(-1)!] as const;
  const common = { form: 'table', interpolation: 'monotone-cubic', wavelengthNm } as const;
  if (!hasN) return { rangeNm, extinction: { ...common, k: column(1) } };
  const k = rows[0]?.length === 3 ? { k: column(2) } : {};
  return { rangeNm, dispersion: { ...common, n: column(1), ...k } };
}

/** Numbers between blanks; a list of numbers or one number alone is taken too. */
function numbers(given: unknown, path: string): number[] {
  const words = Array.isArray(given)
    ? given.map(String)
    : String(given ?? '')
        .trim()
        .split(/\s+/);
  return words.map((word) => {
    const value = word === '' ? Number.NaN : Number(word);
    if (!Number.isFinite(value)) throw new InputError(path, `${shown(word)} is not a number`);
    return value;
  });
}

/** µm to nm without the noise of a binary product. */
function toNm(um: number): number {
  return Number((um * 1000).toPrecision(15));
}

function field(holder: unknown, key: string): unknown {
  if (typeof holder !== 'object' || holder === null || !Object.hasOwn(holder, key)) return undefined;
  return (holder as Readonly<Record<string, unknown>>)[key];
}

function conditionOf(record: unknown, key: string): unknown {
  return field(field(record, 'CONDITIONS'), key) ?? field(field(record, 'SPECS'), key);
}

/** CONDITIONS give kelvin as a number, SPECS a text such as "20.0 °C". */
function temperatureOf(record: unknown): number | undefined {
  const kelvin = field(field(record, 'CONDITIONS'), 'temperature');
  if (typeof kelvin === 'number') return Number((kelvin - 273.15).toFixed(2));
  const celsius = /^\s*(-?\d+(?:\.\d+)?)\s*°?\s*C/.exec(
    String(field(field(record, 'SPECS'), 'temperature') ?? ''),
  );
  return celsius === null ? undefined : Number(celsius[1]);
}

/** References carry a little HTML; what is left is text. */
function plainText(given: unknown): string {
  return String(given ?? '')
    .replace(/<[^>]*>/g, ' ')
    .replace(/&nbsp;/g, ' ')
    .replace(/&amp;/g, '&')
    .replace(/\s+/g, ' ')
    .trim()
    .slice(0, 1000);
}
