import { InputError } from '../../../base/errors.ts';

/** A measured curve as read from a file. */
export interface ReadSpectrum {
  readonly wavelengthNm: readonly number[];
  /** Fractions. */
  readonly values: readonly number[];
  readonly quantity: 'R' | 'T' | 'A';
  /** What was assumed on the way, a sentence each. */
  readonly warnings: readonly string[];
}

/** Above this a column of wavelengths is in nm and one below is in µm; a visible spectrum never starts at 40 nm or below. */
const LEAST_NM = 40;
/** Values beyond this cannot be fractions and are read as per cent. */
const GREATEST_FRACTION = 1.5;

/**
 * Reads two columns of numbers, wavelength and value, from delimited text: comma, semicolon, tab or spaces between them, a
 * decimal comma where another mark separates, % or fraction, nm or µm, ascending or descending, headings skipped.
 * @throws InputError with one sentence where no spectrum is found.
 */
export function readSpectrum(text: string): ReadSpectrum {
  const lines = text
    .split(/\r\n?|\n/)
    .map((line) => line.trim())
    .filter((line) => line !== '');
  const rows = lines.map(numbersOf).filter((row): row is [number, number] => row !== undefined);
  if (rows.length < 2)
    throw new InputError(
      '',
      `no spectrum was found: ${rows.length === 1 ? 'one line holds' : 'no line holds'} two numbers, and at least 2 lines must`,
    );
  const heading = lines.filter((line) => numbersOf(line) === undefined).join(' ');
  const warnings: string[] = [];
  const isUm = rows.every(([x]) => x < LEAST_NM) || /[µμ]m|micron/i.test(heading);
  if (isUm) warnings.push('The wavelengths were read as µm.');
  const isPercent = /%|percent/i.test(heading) || rows.some(([, y]) => Math.abs(y) > GREATEST_FRACTION);
  warnings.push(isPercent ? 'The values were read as per cent.' : 'The values were read as fractions.');
  const quantity = /transm|%\s*T\b|\bT\s*[(%[]/i.test(heading) ? 'T' : 'R';
  warnings.push(`They are taken for ${quantity === 'T' ? 'transmittance' : 'reflectance'}.`);
  const sorted = rows
    .map(([x, y]): [number, number] => [isUm ? x * 1000 : x, isPercent ? y / 100 : y])
    .sort(([a], [b]) => a - b);
  const unique = sorted.filter(([x], index) => index === 0 || x !== sorted[index - 1]![0]);
  if (unique.length < sorted.length)
    warnings.push(
      `${sorted.length - unique.length} wavelengths stood there twice; the first value of each is kept.`,
    );
  const [[least] = [0], [most] = [0]] = [unique[0]!, unique.at(-1)!];
  if (least < 100 || most > 50_000)
    throw new InputError('', `the wavelengths reach from ${least} to ${most} nm, beyond 100 to 50000 nm`);
  return {
    wavelengthNm: unique.map(([x]) => x),
    values: unique.map(([, y]) => y),
    quantity,
    warnings,
  };
}

/** The first two numbers of a line, or undefined where it has not two. */
function numbersOf(line: string): [number, number] | undefined {
  const separator = line.includes(';')
    ? ';'
    : line.includes('\t')
      ? '\t'
      : /\d\s+[-+.\d]/.test(line)
        ? /\s+/
        : ',';
  const cells = line
    .split(separator)
    .map((cell) => cell.trim())
    .filter((cell) => cell !== '');
  const [x, y] = cells.map((cell) => Number(cell.replace(/%$/, '').replace(',', '.')));
  if (x === undefined || y === undefined || !Number.isFinite(x) || !Number.isFinite(y)) return undefined;
  return [x, y];
}
