import { InputError } from '../base/errors.ts';
import { shown } from '../base/schema.ts';
import { type HeadingMeaning, readHeading } from './column-heading.ts';
import { type DelimitedTable, findTable, type TableRow } from './delimited-table.ts';
import type { FoundColumn, RawSpectrum, ReadingChoices } from './measured-spectrum.ts';
import { runsOneWay } from './order-points.ts';

/** A raw spectrum from columns of text, with all that was noticed on the way. */
export interface ReadColumns {
  readonly raw: RawSpectrum;
  readonly table: DelimitedTable;
  readonly columns: readonly FoundColumn[];
  readonly warnings: readonly string[];
}

/**
 * Reads the spectral axis and one column of values from delimited text.
 * @throws InputError where there is no table, no such column, or no numbers in it.
 */
export function readColumns(text: string, choices: ReadingChoices): ReadColumns {
  const table = findTable(text);
  const meanings = table.headings.map(readHeading);
  const warnings: string[] = [];

  const xColumn = axisColumn(meanings, table.rows);
  const { rows, more } = firstBlock(table.rows, xColumn);
  if (more > 0)
    warnings.push(
      `The file holds spectra one below another; the first, up to line ${rows.at(-1)!.line}, was read, ` +
        `${more} further rows were not.`,
    );
  const yColumn = valueColumn(table.headings, meanings, rows, xColumn, choices, warnings);

  const isWhole = ({ cells }: TableRow) => cells[xColumn] !== undefined && cells[yColumn] !== undefined;
  const kept = rows.filter(isWhole);
  const gaps = rows.filter((row) => !isWhole(row)).map(({ line }) => line);
  if (kept.length < 2)
    throw new InputError(
      'column',
      `${columnName(table.headings, yColumn)} has ${kept.length === 0 ? 'no numbers' : 'one number only'}; choose another column`,
    );
  noteLeftOut(table, gaps, rows, more > 0, warnings);

  const value = meanings[yColumn]!;
  return {
    raw: {
      x: kept.map(({ cells }) => cells[xColumn]!),
      y: kept.map(({ cells }) => cells[yColumn]!),
      xUnit: meanings[xColumn]!.xUnit ?? unitInPreamble(table.preamble),
      quantity: value.quantity,
      scale: value.scale,
    },
    table,
    columns: table.headings.map((heading, i) => ({
      number: i + 1,
      heading,
      role: i === xColumn ? 'x' : i === yColumn ? 'value' : meanings[i]!.role,
      isUsed: i === xColumn || i === yColumn,
    })),
    warnings,
  };
}

/** The rows up to where the spectral axis starts over, and how many follow. */
function firstBlock(rows: readonly TableRow[], xColumn: number): { rows: readonly TableRow[]; more: number } {
  const x = rows.map(({ cells }) => cells[xColumn] ?? Number.NaN);
  const direction = Math.sign(x[1]! - x[0]!);
  const turn = x.findIndex((value, i) => Math.sign(value - x[i - 1]!) === -direction);
  if (turn < 0) return { rows, more: 0 };
  const span = Math.abs(x[turn - 1]! - x[0]!);
  // Starting over means going back by most of the way and on as before; a jumbled list does not.
  const isRestart =
    Math.abs(x[turn]! - x[turn - 1]!) > 0.8 * span && Math.sign(x[turn + 1]! - x[turn]!) === direction;
  return isRestart && runsOneWay(x.slice(0, turn))
    ? { rows: rows.slice(0, turn), more: rows.length - turn }
    : { rows, more: 0 };
}

/** The column that names a wavelength, else the first whose numbers run one way, else the first. */
function axisColumn(meanings: readonly HeadingMeaning[], rows: readonly TableRow[]): number {
  const named = meanings.findIndex(({ role }) => role === 'x');
  if (named >= 0) return named;
  const ordered = meanings.findIndex((_, column) => {
    const values = rows.map(({ cells }) => cells[column] ?? Number.NaN);
    return new Set(values).size > 1 && runsOneWay(values);
  });
  return Math.max(0, ordered);
}

function valueColumn(
  headings: readonly string[],
  meanings: readonly HeadingMeaning[],
  rows: readonly TableRow[],
  xColumn: number,
  { column }: ReadingChoices,
  warnings: string[],
): number {
  const others = headings.map((_, i) => i).filter((i) => i !== xColumn && meanings[i]!.role !== 'x');
  if (column !== undefined) return chosenColumn(headings, column, xColumn);
  const named = others.filter((i) => meanings[i]!.role === 'value');
  const candidates = (named.length > 0 ? named : others).filter((i) =>
    rows.some(({ cells }) => cells[i] !== undefined),
  );
  const [first] = candidates;
  if (first === undefined)
    throw new InputError('', 'beside the spectral axis there is no column with numbers in it');
  if (candidates.length > 1) {
    const names = candidates.map((i) => columnName(headings, i)).join(', ');
    warnings.push(
      `The file has ${candidates.length} columns of values (${names}); the first was read. ` +
        'To read another, choose its column.',
    );
  }
  return first;
}

function chosenColumn(headings: readonly string[], column: number | string, xColumn: number): number {
  const names = headings.map((_, i) => columnName(headings, i)).join(', ');
  const at =
    typeof column === 'number'
      ? column - 1
      : headings.findIndex((heading) => heading.toLowerCase() === column.trim().toLowerCase());
  if (headings[at] === undefined)
    throw new InputError('column', `there is no column ${shown(column)}; the file has ${names}`);
  if (at === xColumn)
    throw new InputError('column', `column ${shown(column)} is the spectral axis; the file has ${names}`);
  return at;
}

function columnName(headings: readonly string[], column: number): string {
  const heading = headings[column];
  return heading ? `column ${column + 1} "${heading}"` : `column ${column + 1}`;
}

function noteLeftOut(
  table: DelimitedTable,
  gaps: readonly number[],
  rows: readonly TableRow[],
  goesOn: boolean,
  warnings: string[],
): void {
  const end = rows.at(-1)!.line;
  const strays = table.strayLines.filter((line) => line <= end);
  const lines = [...gaps, ...strays].sort((a, b) => a - b);
  if (lines.length > 0) {
    if (lines.length > rows.length)
      throw new InputError(
        '',
        `${lines.length} of ${lines.length + rows.length} lines are no row of numbers; line ${lines[0]} is the first`,
      );
    const list = lines.length > 5 ? `${lines.slice(0, 5).join(', ')}, ...` : lines.join(', ');
    warnings.push(
      lines.length === 1
        ? `Line ${list} was left out: it has no pair of numbers.`
        : `${lines.length} lines were left out, because they have no pair of numbers: ${list}.`,
    );
  }
  const after = table.strayLines.length - strays.length;
  if (after > 0 && !goesOn)
    warnings.push(`${after === 1 ? 'One line' : `${after} lines`} of text after the numbers: not read.`);
}

/** A unit of the spectral axis that stands in the lines above the table ("XUNITS: nm"). */
function unitInPreamble(preamble: readonly string[]): HeadingMeaning['xUnit'] {
  for (const line of preamble) {
    if (!/unit|wave|lambda|λ/i.test(line)) continue;
    const { xUnit } = readHeading(line);
    if (xUnit !== undefined) return xUnit;
  }
  return undefined;
}
