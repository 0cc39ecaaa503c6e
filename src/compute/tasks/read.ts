import * as v from 'valibot';
import { InputError } from '../../base/errors.ts';
import { choice, count, text, word } from '../../base/schema.ts';
import { VALUE_SCALES, X_UNITS } from '../../inspect/column-heading.ts';
import { readSpectrum } from '../../inspect/read-spectrum.ts';
import { defineTask } from '../task.ts';

const columnNumber = count({ min: 1, max: 10_000 }, 'number of the column, from 1');
const columnHeading = text(200, 'heading of the column');
const columnChoice = choice<typeof columnNumber | typeof columnHeading>(
  [columnNumber, columnHeading],
  (input) => (typeof input === 'number' ? columnNumber : columnHeading),
  'the column of values to read; in JCAMP-DX the number or title of the spectrum',
);

export default defineTask({
  name: 'read',
  summary: 'A measured spectrum from a file or text: columns in any dialect, or JCAMP-DX.',
  request: v.strictObject({
    file: v.exactOptional(text(4000, 'path of the file; or give "text"')),
    text: v.exactOptional(text(50_000_000, 'the text itself')),
    column: v.exactOptional(columnChoice),
    xUnit: v.exactOptional(word(X_UNITS, 'unit of the spectral axis where the file does not name it')),
    scale: v.exactOptional(word(VALUE_SCALES, 'how the values are written, where the file does not say')),
    quantity: v.exactOptional(word(['R', 'T', 'A'], 'what was measured, where the file does not say')),
  }),
  example: { text: 'Wavelength (nm);R (%)\n450;0,31\n550;0,12\n650;0,28\n' },
  async run({ file, text: given, ...choices }, { readFile }) {
    if ((file === undefined) === (given === undefined))
      throw new InputError('', 'give either "file" or "text"');
    const source = given ?? (await bytesOf(file!, readFile));
    const { wavelengthNm, quantity, values, columns, understood, warnings } = readSpectrum(source, choices);
    return { wavelengthNm, quantity, values, columns, understood, warnings };
  },
});

async function bytesOf(
  path: string,
  readFile: ((path: string) => Promise<Uint8Array>) | undefined,
): Promise<Uint8Array> {
  if (readFile === undefined) throw new InputError('file', 'files cannot be read here; give "text"');
  try {
    return await readFile(path);
  } catch (error) {
    if (error instanceof InputError) throw error;
    const code = error instanceof Error && 'code' in error ? error.code : undefined;
    const why =
      code === 'ENOENT'
        ? 'there is no such file'
        : code === 'EISDIR'
          ? 'it is a folder'
          : 'it is not readable';
    throw new InputError('file', `"${path}" cannot be read: ${why}`);
  }
}
