import Papa from 'papaparse';
import { InputError } from '../../base/errors.ts';
import { shown } from '../../base/schema.ts';
import { MOST_TABLE_POINTS } from '../forms/table.ts';
import { type ImportNaming, kindOf } from './import-naming.ts';
import { asResult, type ImportResult, readOwnMaterial, requireShort } from './own-material.ts';
import { columnsOf, requireWavelengths, unitOf, type WavelengthUnit } from './table-header.ts';

/** One line of the table: where it stands in the file and its cells. */
interface Line {
  readonly number: number;
  readonly cells: readonly string[];
}

/** Rows that belong together, with the words above them. */
interface Block {
  readonly header: readonly string[];
  readonly lines: readonly Line[];
}

interface Point {
  readonly wavelengthNm: number;
  readonly value: readonly number[];
}

/**
 * Imports a table of n, or n and k, against the wavelength from delimited text: separated by tabs,
 * semicolons, bars, commas or blanks, with decimal point or comma, in nm, µm or Å (from the header, else
 * from the size of the numbers, which is then remarked), rising or falling, k in a third column or in a
 * block of its own below.
 */
export async function importIndexTable(content: string, naming: ImportNaming): Promise<ImportResult> {
  return asResult(async () => {
    requireShort(content);
    const warnings: string[] = [];
    const blocks = blocksOf(readLines(content));
    const tables = blocks.map((block) => readBlock(block, warnings));
    const main = tables.find((table) => table.n !== undefined);
    if (main === undefined)
      throw new InputError('', 'the file has no rows of numbers with a wavelength and n');
    const own = main.k === undefined ? tables.find((table) => table.k !== undefined) : undefined;
    const material = await readOwnMaterial({
      id: naming.id,
      name: naming.name,
      role: naming.role,
      kind: kindOf(naming.role),
      rangeNm: [main.wavelengthNm[0], main.wavelengthNm.at(-1)],
      dispersion: {
        form: 'table',
        wavelengthNm: main.wavelengthNm,
        n: main.n,
        ...(main.k === undefined ? {} : { k: main.k }),
      },
      ...(own === undefined
        ? {}
        : { extinction: { form: 'table', wavelengthNm: own.wavelengthNm, k: own.k } }),
      source: { cites: naming.cites ?? 'table imported by the shop', provenance: 'imported by the shop' },
    });
    return { material, warnings };
  });
}

/** The separators that are tried, in order of preference; blanks are made tabs first. */
const SEPARATORS = ['\t', ';', '|', ','] as const;

function readLines(content: string): Line[] {
  const text = content.replace(/^\uFEFF/, '');
  const readings = SEPARATORS.map((separator) => split(text, separator));
  readings.push(split(text.replace(/^[^\S\r\n]+/gm, '').replace(/[^\S\r\n]+/g, '\t'), '\t'));
  const score = (lines: readonly Line[]) => lines.filter(isNumeric).length;
  return readings.reduce((best, next) => (score(next) > score(best) ? next : best));
}

function split(text: string, separator: string): Line[] {
  const { data } = Papa.parse<string[]>(text, { delimiter: separator, quoteChar: '"' });
  return data.map((cells, i) => ({
    number: i + 1,
    cells: cells.map((cell) => (separator === ',' ? cell.trim() : decimalPoint(cell.trim()))),
  }));
}

/** "1,52" is 1.52 wherever the comma does not separate. */
function decimalPoint(cell: string): string {
  return /^[-+]?\d*,\d+(e[-+]?\d+)?$/i.test(cell) ? cell.replace(',', '.') : cell;
}

const NUMBER = /^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?$/i;

function isNumeric({ cells }: Line): boolean {
  return cells.length >= 2 && NUMBER.test(cells[0] ?? '') && NUMBER.test(cells[1] ?? '');
}

function isEmpty({ cells }: Line): boolean {
  return cells.every((cell) => cell === '') || /^(#|\/\/|%)/.test(cells[0] ?? '');
}

/** Gathers rows of numbers; a line of words begins the next block, a broken row is refused. */
function blocksOf(lines: readonly Line[]): Block[] {
  const blocks: { header: string[]; lines: Line[] }[] = [];
  let header: string[] = [];
  for (const line of lines) {
    if (isNumeric(line)) {
      if (header.length > 0 || blocks.length === 0) blocks.push({ header, lines: [] });
      header = [];
      blocks.at(-1)?.lines.push(line);
    } else if (isEmpty(line)) {
      header = header.concat(line.cells.filter((cell) => /nm|um|µm|μm/i.test(cell)));
    } else if (NUMBER.test(line.cells[0] ?? '')) {
      throw new InputError(`line ${line.number}`, `${shown(line.cells.join(' '))} is not a row of numbers`);
    } else header = [...line.cells];
  }
  return blocks;
}

interface Table {
  readonly wavelengthNm: readonly number[];
  readonly n?: readonly number[];
  readonly k?: readonly number[];
}

function readBlock({ header, lines }: Block, warnings: string[]): Table {
  if (lines.length > MOST_TABLE_POINTS)
    throw new InputError('', `the table has ${lines.length} rows, more than ${MOST_TABLE_POINTS}`);
  const width = Math.min(...lines.map((line) => line.cells.filter((cell) => NUMBER.test(cell)).length));
  requireWavelengths(header);
  const columns = columnsOf(header, width);
  const points = lines.map((line) => readPoint(line, columns));
  const unit = unitOf(
    header,
    points.map((point) => point.wavelengthNm),
    warnings,
  );
  const rising = inOrder(points, unit, warnings);
  const column = (index: number | undefined) =>
    index === undefined ? undefined : rising.map((point) => point.value[index]!);
  const names = columns.slice(1).map(({ name }) => name);
  const [n, k] = [names.indexOf('n'), names.indexOf('k')].map((i) => column(i < 0 ? undefined : i));
  return {
    wavelengthNm: rising.map((point) => point.wavelengthNm),
    ...(n === undefined ? {} : { n }),
    ...(k === undefined ? {} : { k }),
  };
}

function readPoint(line: Line, columns: readonly { name: string; index: number }[]): Point {
  const [wavelengthNm = 0, ...value] = columns.map(({ name, index }) => {
    const cell = line.cells[index] ?? '';
    const number = NUMBER.test(cell) ? Number(cell) : Number.NaN;
    if (!Number.isFinite(number))
      throw new InputError(`line ${line.number}`, `${shown(cell)} is not a number for ${name}`);
    const least = name === 'k' ? number >= 0 : number > 0;
    if (!least)
      throw new InputError(
        `line ${line.number}`,
        `${name} is ${number}; it must ${name === 'k' ? 'not be below' : 'be above'} 0`,
      );
    return number;
  });
  return { wavelengthNm, value };
}

/** Points in nm with rising wavelength, exact repetitions left out. */
function inOrder(points: readonly Point[], unit: WavelengthUnit, warnings: string[]): Point[] {
  const sorted = points
    .map(({ wavelengthNm, value }) => ({ wavelengthNm: toNm(wavelengthNm, unit), value }))
    .sort((a, b) => a.wavelengthNm - b.wavelengthNm);
  const kept = sorted.filter((point, i) => {
    const before = sorted[i - 1];
    if (before?.wavelengthNm !== point.wavelengthNm) return true;
    if (before.value.some((number, j) => number !== point.value[j]))
      throw new InputError('', `${point.wavelengthNm} nm stands twice with different values`);
    return false;
  });
  if (kept.length < sorted.length)
    warnings.push(`${sorted.length - kept.length} repeated rows were left out.`);
  return kept;
}

function toNm(value: number, unit: WavelengthUnit): number {
  const nm = unit === 'nm' ? value : unit === 'µm' ? value * 1000 : value / 10;
  return Number(nm.toPrecision(15));
}
