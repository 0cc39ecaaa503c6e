import { InputError } from '../base/errors.ts';
import { decodeText } from './decode-text.ts';
import type {
  FoundColumn,
  MeasuredSpectrum,
  RawSpectrum,
  ReadingChoices,
  Understanding,
} from './measured-spectrum.ts';
import { orderPoints } from './order-points.ts';
import { readColumns } from './read-columns.ts';
import { isJcamp, readJcamp } from './read-jcamp.ts';
import { checkFractions, fractions, likelyScale } from './value-axis.ts';
import { likelyUnit, wavelengthsNm } from './x-axis.ts';

/**
 * Reads a measured spectrum from the bytes of a file or from text: columns in any dialect, or JCAMP-DX. What
 * had to be guessed is said in `warnings` and can be corrected by `choices`; nothing is left out in silence.
 * @throws InputError with what was found where it is no spectrum.
 */
export function readSpectrum(source: Uint8Array | string, choices: ReadingChoices = {}): MeasuredSpectrum {
  const decoded = typeof source === 'string' ? { text: source } : decodeText(source);
  const encoding = 'encoding' in decoded ? { encoding: decoded.encoding } : {};
  const text = decoded.text.replace(/^\ufeff/, '');
  if (isJcamp(text)) {
    const { raw, title, columns, warnings } = readJcamp(text, choices);
    return inOurUnits(raw, choices, columns, { format: 'JCAMP-DX', title, ...encoding }, warnings);
  }
  const { raw, table, columns, warnings } = readColumns(text, choices);
  const { delimiter, decimalMark } = table.dialect;
  return inOurUnits(
    raw,
    choices,
    columns,
    { format: 'columns', delimiter, decimalMark, ...encoding },
    warnings,
  );
}

function inOurUnits(
  raw: RawSpectrum,
  choices: ReadingChoices,
  columns: readonly FoundColumn[],
  understood: Omit<Understanding, 'xUnit' | 'scale'>,
  before: readonly string[],
): MeasuredSpectrum {
  if (raw.y.length === 0) throw new InputError('', 'the file announces a spectrum and has no point of it');
  const warnings = [...before];
  const xUnit = choices.xUnit ?? raw.xUnit ?? likelyUnit(raw.x);
  if ((choices.xUnit ?? raw.xUnit) === undefined)
    warnings.push(`The spectral axis names no unit; it was taken as ${xUnit} from its size.`);
  const named = choices.scale ?? raw.scale ?? choices.usualScale;
  const scale = named ?? likelyScale(raw.y);
  if (named === undefined) warnings.push(scaleGuess(scale));
  if (scale === 'absorbance')
    warnings.push(
      'Absorbance was turned into a fraction as 10 to the power of −A, reflection losses included.',
    );
  const quantity = choices.quantity ?? raw.quantity ?? 'R';
  if ((choices.quantity ?? raw.quantity) === undefined)
    warnings.push('The file does not say whether it is R or T; it was taken as R.');

  const wavelength = wavelengthsNm(raw.x, xUnit);
  const values = fractions(raw.y, scale);
  const strays = checkFractions(values, wavelength, quantity);
  const points = orderPoints(wavelength, values);
  if (points.x.length < 2)
    throw new InputError('', 'the spectrum has one wavelength only; at least two are needed');
  return {
    wavelengthNm: points.x,
    quantity,
    values: points.y,
    columns,
    understood: { ...understood, xUnit, scale },
    warnings: [...warnings, ...strays, ...points.warnings],
  };
}

function scaleGuess(scale: string): string {
  return scale === 'percent'
    ? 'The values name no scale; they were taken as percent, because some are above 1.5.'
    : 'The values name no scale; they were taken as fractions of 1, because none is above 1.5. Choose percent if they are.';
}
