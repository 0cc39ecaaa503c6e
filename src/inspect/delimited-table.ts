import Papa from 'papaparse';
import { InputError } from '../base/errors.ts';
import { shown } from '../base/schema.ts';
import { type DecimalMark, readNumber } from './read-number.ts';

/** How the columns of a text are separated and its numbers written. */
export interface Dialect {
  readonly delimiter: 'tab' | 'semicolon' | 'comma' | 'bar' | 'spaces';
  readonly decimalMark: DecimalMark;
}

/** A table of numbers found in a text. */
export interface DelimitedTable {
  readonly dialect: Dialect;
  /** One a column; '' where the text names none. */
  readonly headings: readonly string[];
  /** What stands before the numbers, line by line. */
  readonly preamble: readonly string[];
  readonly rows: readonly TableRow[];
  /** Numbers of the lines among the rows or after them that are no row of numbers, counted from 1. */
  readonly strayLines: readonly number[];
}

export interface TableRow {
  /** Counted from 1. */
  readonly line: number;
  /** `undefined` where a cell holds no number. */
  readonly cells: readonly (number | undefined)[];
}

const SEPARATORS: Readonly<Record<Exclude<Dialect['delimiter'], 'spaces'>, string>> = {
  tab: '\t',
  semicolon: ';',
  bar: '|',
  comma: ',',
};
/** In the order in which equally good ones are preferred. */
const DIALECTS: readonly Dialect[] = (['tab', 'semicolon', 'bar', 'comma', 'spaces'] as const).flatMap(
  (delimiter) => [
    { delimiter, decimalMark: '.' as const },
    { delimiter, decimalMark: ',' as const },
  ],
);
const COMMENT = /^\s*(?:#|%|!|;|\/\/|\*)+\s*/;
const MOST_LINES = 500_000;

/**
 * Finds the table of numbers in a text whatever its delimiter and decimal mark: the dialect is taken in which
 * most lines are rows of at least two numbers and fewest cells are left over.
 * @throws InputError where no dialect makes at least two rows of two numbers.
 */
export function findTable(text: string): DelimitedTable {
  const lines = text.split(/\r\n|\n|\r/);
  if (lines.length > MOST_LINES)
    throw new InputError('', `the file has ${lines.length} lines, more than ${MOST_LINES}`);
  let best: DelimitedTable | undefined;
  for (const dialect of DIALECTS) {
    const table = tableIn(lines, dialect);
    if (table !== undefined && (best === undefined || isBetter(table, best))) best = table;
  }
  if (best === undefined) throw new InputError('', noTable(lines));
  return best;
}

function isBetter(one: DelimitedTable, other: DelimitedTable): boolean {
  const more = one.rows.length - other.rows.length;
  return more > 0 || (more === 0 && gapsIn(one) < gapsIn(other));
}

function gapsIn({ rows }: DelimitedTable): number {
  return rows.reduce((sum, { cells }) => sum + cells.filter((cell) => cell === undefined).length, 0);
}

function noTable(lines: readonly string[]): string {
  const first = lines.find((line) => line.trim() !== '');
  if (first === undefined) return 'the file is empty';
  const lone = lines.flatMap((line, i) =>
    DIALECTS.some((dialect) => hasOneNumber(line, dialect)) ? [i] : [],
  );
  if (lone.length >= 2)
    return (
      `${lone.length} lines hold a number and no value beside it, the first being line ${lone[0]! + 1}, ${shown(lines[lone[0]!]!.trim().slice(0, 50))}; ` +
      'the column of values is empty or was not exported: export wavelength and value side by side'
    );
  return `the text has no two lines with a wavelength and a value; it begins with ${shown(first.trim().slice(0, 50))}`;
}

/** Cells that are empty do not count. */
function hasOneNumber(line: string, dialect: Dialect): boolean {
  const cells = splitCells(line, dialect).filter((cell) => cell.trim() !== '');
  return cells.length === 1 && readNumber(cells[0]!, dialect.decimalMark) !== undefined;
}

function tableIn(lines: readonly string[], dialect: Dialect): DelimitedTable | undefined {
  const rows: TableRow[] = [];
  const strayLines: number[] = [];
  let firstRowAt = -1;
  for (const [i, text] of lines.entries()) {
    if (text.trim() === '') continue;
    const cells = splitCells(text, dialect).map((cell) => readNumber(cell, dialect.decimalMark));
    const isRow = cells.filter((cell) => cell !== undefined).length >= 2;
    if (isRow) {
      if (firstRowAt < 0) firstRowAt = i;
      rows.push({ line: i + 1, cells });
    } else if (firstRowAt >= 0 && !COMMENT.test(text)) strayLines.push(i + 1);
  }
  if (rows.length < 2) return undefined;
  const columnCount = commonLength(rows);
  const preamble = lines.slice(0, firstRowAt).filter((line) => line.trim() !== '');
  return {
    dialect,
    headings: headingsIn(preamble, dialect, columnCount),
    preamble,
    rows: rows.map(({ line, cells }) => ({
      line,
      cells: Array.from({ length: columnCount }, (_, column) => cells[column]),
    })),
    strayLines,
  };
}

/** The number of columns that most rows have, empty ones at the end not counted. */
function commonLength(rows: readonly TableRow[]): number {
  const counts = new Map<number, number>();
  for (const { cells } of rows) {
    const length = cells.findLastIndex((cell) => cell !== undefined) + 1;
    counts.set(length, (counts.get(length) ?? 0) + 1);
  }
  return [...counts].reduce((best, next) => (next[1] > best[1] ? next : best))[0];
}

/** The last line before the numbers that has a text for every column; '' for each where there is none. */
function headingsIn(preamble: readonly string[], dialect: Dialect, columnCount: number): string[] {
  const none = Array.from({ length: columnCount }, () => '');
  const last = preamble.at(-1);
  if (last === undefined) return none;
  const cells = (line: string) => splitCells(line.replace(COMMENT, ''), dialect).map((cell) => cell.trim());
  const own = cells(last);
  if (own.length < columnCount) return none;
  const names = cells(preamble.at(-2) ?? '');
  // A line of bare units below a line of names: both belong to the heading.
  const isUnits = own.every((cell) => cell.length <= 8) && names.length === own.length;
  return none.map((_, i) => (isUnits ? `${names[i]} ${own[i]}`.trim() : own[i]!));
}

function splitCells(line: string, { delimiter }: Dialect): string[] {
  if (delimiter === 'spaces') return line.trim().split(/\s+/);
  const separator = SEPARATORS[delimiter];
  if (!line.includes('"')) return line.split(separator);
  return Papa.parse<string[]>(line, { delimiter: separator }).data[0]!;
}
