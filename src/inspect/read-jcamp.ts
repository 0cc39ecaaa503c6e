import { InputError } from '../base/errors.ts';
import { counted } from '../base/format.ts';
import { shown } from '../base/schema.ts';
import { readHeading } from './column-heading.ts';
import { decodeOrdinates, MOST_POINTS } from './jcamp-ordinates.ts';
import type { FoundColumn, RawSpectrum, ReadingChoices } from './measured-spectrum.ts';

/** A raw spectrum from a JCAMP-DX file. */
export interface ReadJcamp {
  readonly raw: RawSpectrum;
  readonly title: string;
  /** The blocks of the file that hold a spectrum. */
  readonly columns: readonly FoundColumn[];
  readonly warnings: readonly string[];
}

/** One block: its labelled records, the label in capitals without spaces, dashes, slashes and underlines. */
type Block = ReadonlyMap<string, string>;

const DATA_LABELS = ['XYDATA', 'XYPOINTS', 'PEAKTABLE'] as const;

/** Whether a text is a JCAMP-DX file: its first record is the title. */
export function isJcamp(text: string): boolean {
  return /^\s*(?:\$\$[^\n]*\n\s*)*##\s*TITLE\s*=/i.test(text.slice(0, 5000));
}

/**
 * Reads a spectrum from a JCAMP-DX 4.24 file (R. S. McDonald, P. A. Wilks, Appl. Spectrosc. 42, 151 (1988)).
 * @throws InputError where it holds no spectrum of light, or one that is damaged.
 */
export function readJcamp(text: string, { column }: ReadingChoices): ReadJcamp {
  const blocks = blocksOf(text).filter((block) => DATA_LABELS.some((label) => block.has(label)));
  const titles = blocks.map((block) => block.get('TITLE')!.split('\n')[0]!.trim());
  if (blocks.length === 0)
    throw new InputError('', 'the JCAMP-DX file has no spectrum in the form XYDATA or XYPOINTS');
  const chosen = column === undefined ? 0 : chosenBlock(titles, column);
  const warnings: string[] = [];
  if (blocks.length > 1 && column === undefined)
    warnings.push(
      `The file has ${blocks.length} spectra (${titles.map(shown).join(', ')}); the first was read. ` +
        'To read another, choose its column.',
    );
  const block = blocks[chosen]!;
  refuseOtherKinds(block);
  const [x, y] = pointsOf(block, warnings);
  const meaningOf = (label: string) => readHeading(block.get(label) ?? '');
  const { xUnit } = meaningOf('XUNITS');
  const { quantity, scale } = meaningOf('YUNITS');
  return {
    raw: { x, y, xUnit, quantity, scale },
    title: titles[chosen]!,
    columns: titles.map((heading, i) => ({ number: i + 1, heading, role: 'value', isUsed: i === chosen })),
    warnings,
  };
}

function chosenBlock(titles: readonly string[], column: number | string): number {
  const at = typeof column === 'number' ? column - 1 : titles.indexOf(column.trim());
  if (titles[at] === undefined)
    throw new InputError(
      'column',
      `there is no spectrum ${shown(column)}; the file has ${titles.map(shown).join(', ')}`,
    );
  return at;
}

/** Every block of the file, those inside a link block too. */
function blocksOf(text: string): Block[] {
  const blocks: Block[] = [];
  const open: Map<string, string>[] = [];
  const plain = text.replace(/\$\$[^\r\n]*/g, '').replace(/\r\n?/g, '\n');
  for (const record of plain.split(/^[ \t]*##/m)) {
    const equals = record.indexOf('=');
    if (equals < 0) continue;
    const label = record
      .slice(0, equals)
      .replace(/[\s\-/_]/g, '')
      .toUpperCase();
    const data = record.slice(equals + 1).trim();
    if (label === 'TITLE') {
      const block = new Map([['TITLE', data]]);
      open.push(block);
      blocks.push(block);
    } else if (label === 'END') open.pop();
    else open.at(-1)?.set(label, data);
  }
  return blocks;
}

function refuseOtherKinds(block: Block): void {
  const kind = block.get('DATATYPE') ?? '';
  if (/NMR|MASS|ESR|EPR|MOBILITY|CHROMATO/i.test(kind))
    throw new InputError(
      '',
      `the file holds ${shown(kind)}, not a spectrum of reflected or transmitted light`,
    );
}

function pointsOf(block: Block, warnings: string[]): [number[], number[]] {
  const factorX = numberOf(block, 'XFACTOR') ?? 1;
  const factorY = numberOf(block, 'YFACTOR') ?? 1;
  const series = block.get('XYDATA');
  if (series === undefined) {
    const pairs = (block.get('XYPOINTS') ?? block.get('PEAKTABLE'))!;
    return pairsOf(linesAfterForm(pairs, /\(\s*XY\s*\.\.\s*XY\s*\)/i), factorX, factorY);
  }
  const { y, checks } = decodeOrdinates(linesAfterForm(series, /\(\s*X\+\+\s*\(Y\.\.Y\)\s*\)/i));
  const firstX = requiredNumber(block, 'FIRSTX');
  const lastX = requiredNumber(block, 'LASTX');
  const promised = requiredNumber(block, 'NPOINTS');
  if (promised < 2 || y.length > promised)
    throw new InputError('', `the file announces ${promised} points and has ${y.length}`);
  if (y.length < promised)
    warnings.push(`The file announces ${promised} points and has ${y.length}; it may have been cut off.`);
  const step = (lastX - firstX) / (promised - 1);
  const off = checks.filter(({ x, point }) => Math.abs(x * factorX - firstX - point * step) > Math.abs(step));
  if (off.length > 0)
    warnings.push(
      `${off.length} of ${checks.length} lines begin with an abscissa that does not fit FIRSTX, LASTX and NPOINTS.`,
    );
  const gaps = y.filter((value) => value === undefined).length;
  if (gaps > 0) warnings.push(`Marked as missing and left out: ${counted(gaps, 'point')}.`);
  const kept = y
    .map((value, i) => [firstX + i * step, value] as const)
    .filter(([, value]) => value !== undefined);
  return [kept.map(([x]) => x), kept.map(([, value]) => value! * factorY)];
}

/** The lines below the record's form, which is checked. */
function linesAfterForm(data: string, form: RegExp): string[] {
  const [head, ...lines] = data.split('\n') as [string, ...string[]];
  if (!form.test(head)) throw new InputError('', `the form ${shown(head.trim())} of JCAMP-DX is not read`);
  return lines;
}

function pairsOf(lines: readonly string[], factorX: number, factorY: number): [number[], number[]] {
  const words = lines
    .join(' ')
    .split(/[\s,;]+/)
    .filter((word) => word !== '');
  if (words.length > 2 * MOST_POINTS)
    throw new InputError('', `the spectrum has more than ${MOST_POINTS} points`);
  const numbers = words.map((word) => {
    const value = Number(word);
    if (!Number.isFinite(value))
      throw new InputError('', `${shown(word)} is no number in the list of points`);
    return value;
  });
  if (numbers.length % 2 !== 0)
    throw new InputError('', `the list of points has ${numbers.length} numbers, which make no pairs`);
  return [
    numbers.filter((_, i) => i % 2 === 0).map((x) => x * factorX),
    numbers.filter((_, i) => i % 2 === 1).map((y) => y * factorY),
  ];
}

function numberOf(block: Block, label: string): number | undefined {
  const text = block.get(label);
  if (text === undefined || text === '') return undefined;
  const value = Number(text);
  if (!Number.isFinite(value)) throw new InputError('', `${label} is ${shown(text)}, not a number`);
  return value;
}

function requiredNumber(block: Block, label: string): number {
  const value = numberOf(block, label);
  if (value === undefined) throw new InputError('', `the JCAMP-DX file lacks ${label}`);
  return value;
}
