import { describe, expect, it } from 'vitest';
import { readHeading } from '../../src/inspect/column-heading.ts';
import { decodeText } from '../../src/inspect/decode-text.ts';
import { readNumber } from '../../src/inspect/read-number.ts';
import { startingWith } from '../support/refusals.ts';

const bytesOf = (text: string) => Uint8Array.from(text, (character) => character.charCodeAt(0));
const wide = (text: string) => Uint8Array.from(Buffer.from(text, 'utf16le'));
const swapped = (text: string) => Uint8Array.from(Buffer.from(text, 'utf16le').swap16());

describe('the encoding of a file', () => {
  const text = 'λ/µm;R ±\n';
  const columns = '400;0.5\n410;0.6\n';

  it.each<readonly [string, Uint8Array, string]>([
    ['UTF-8', new TextEncoder().encode(text), text],
    ['UTF-8', new TextEncoder().encode(`\ufeff${text}`), text],
    ['UTF-16', Uint8Array.of(0xff, 0xfe, ...wide(text)), text],
    ['UTF-16', Uint8Array.of(0xfe, 0xff, ...swapped(text)), text],
    ['UTF-16', Uint8Array.of(0xff, 0xfe, ...wide('λµ')), 'λµ'],
    ['UTF-16', Uint8Array.of(0xfe, 0xff, ...swapped('λµ')), 'λµ'],
    ['UTF-16', wide(columns), columns],
    ['UTF-16', swapped(columns), columns],
    ['Windows-1252', bytesOf('µm;R ±\n'), 'µm;R ±\n'],
    // Half of a byte order mark is a letter.
    ...['ÿ;1', '1þ', 'þ1', '1ÿ'].map((letters) => ['Windows-1252', bytesOf(letters), letters] as const),
  ])('is found (%s)', (encoding, bytes, expected) => {
    expect(decodeText(bytes)).toEqual({ encoding, text: expected });
  });

  it('is seen without a mark from five letters on, of which more than seven in ten are of the plain alphabet', () => {
    for (const [encode, how] of [
      [wide, 'low byte first'],
      [swapped, 'high byte first'],
    ] as const) {
      for (const readable of [
        '400;5',
        'λλ401;0.5',
        'nm;%R Ā\n400;0.5',
        `${'nm '.repeat(200)}${'λ'.repeat(900)}`,
      ])
        expect(decodeText(encode(readable)), how).toEqual({ encoding: 'UTF-16', text: readable });
      for (const doubtful of ['40;1', 'λλλ40;0.51'])
        expect(() => decodeText(encode(doubtful)), how).toThrow(startingWith('the file is not text'));
    }
  });

  // The first bytes of JPEG (ISO/IEC 10918-1), PNG (ISO/IEC 15948), GIF89a, TIFF 6.0 of either byte order, RIFF,
  // PDF (ISO 32000), ZIP (APPNOTE 4.3.7), compound files ([MS-CFB] 2.2) and gzip (RFC 1952).
  it.each([
    [[0xff, 0xd8, 0xff, 0xe0], 'a JPEG picture'],
    [[0x89, 0x50, 0x4e, 0x47, 13, 10], 'a PNG picture'],
    [bytesOf('GIF89a'), 'a GIF picture'],
    [bytesOf('II*\0'), 'a TIFF picture'],
    [bytesOf('MM\0*'), 'a TIFF picture'],
    [bytesOf('RIFF1234WAVE'), 'a picture or a sound'],
    [bytesOf('%PDF-1.7\n'), 'a PDF page'],
    [[0x50, 0x4b, 3, 4], 'a spreadsheet or another packed file'],
    [[0xd0, 0xcf, 0x11, 0xe0, 0xa1], 'an older office file'],
    [[0x1f, 0x8b, 8], 'a packed file'],
  ])('is not looked for in a file of another kind (%j), which is named', (bytes, what) => {
    expect(() => decodeText(Uint8Array.from(bytes))).toThrow(
      startingWith(`this is ${what}, not text; export the spectrum as text (columns) or JCAMP-DX`),
    );
  });

  it.each(['GI 4', 'II. nm', 'MM', 'RI 7', '% nm', 'PK 4', 'Ðnm', '\xff\xd8nm'])(
    'is looked for in a text that begins like another kind of file (%j)',
    (readable) => {
      expect(decodeText(bytesOf(readable)).text).toBe(readable);
    },
  );

  it.each([
    [new Uint8Array(0), 'the file is empty'],
    [new Uint8Array(50_000_001), 'the file has 50000001 bytes, more than 50000000 bytes'],
    [Uint8Array.of(1, 2, 3, 4, 5, 6, 7, 8), 'the file is not text; export the spectrum as text (columns)'],
    [bytesOf(`${'4'.repeat(97)}\0\x1f\x0b`), 'the file is not text'],
    [bytesOf(`${'é'.repeat(97)}\0\0\0`), 'the file is not text'],
    [new TextEncoder().encode(`${'4'.repeat(97)}\ufffd\ufffd\ufffd`), 'the file is not text'],
  ])('is not looked for in what is no text (%#)', (bytes, fault) => {
    expect(() => decodeText(bytes)).toThrow(startingWith(fault));
  });

  it('is that of a text with a stray control character in fifty, with tabs, feeds and what pads it at its end', () => {
    for (const readable of [
      `${'4'.repeat(98)}\0\x1f`,
      '\t\n\f\r'.repeat(9),
      `${'400;1\n'.repeat(700)}${'\0'.repeat(999)}`,
    ])
      expect(decodeText(bytesOf(readable))).toEqual({ encoding: 'UTF-8', text: readable });
  });
});

describe('a number in a cell', () => {
  it.each([
    ['400', '.', 400],
    [' 4.0e2 ', '.', 400],
    ['-.5', '.', -0.5],
    ['−0,5', ',', -0.5],
    ['1.064,5', ',', 1064.5],
    ["1'064.5", '.', 1064.5],
    ['12,5 %', ',', 12.5],
    ['4.0D+02', '.', 400],
    ['1,064', '.', undefined],
    ['1.064', ',', undefined],
    ['NaN', '.', undefined],
    ['', '.', undefined],
    ['1 2', '.', undefined],
    ['1e999', '.', undefined],
    ['0x10', '.', undefined],
    ['4.', '.', 4],
    ['4,', ',', 4],
    [',25', ',', 0.25],
    ['+5', '.', 5],
    ['+5,5', ',', 5.5],
    ['25e−3', '.', 0.025],
    ['2,5E+10', ',', 2.5e10],
    ['2.5d-10', '.', 2.5e-10],
    ['1 064,25', ',', 1064.25],
    ['-1\u202f064\u00a0000.25', '.', -1_064_000.25],
    ['−12,345,678.5', '.', -12_345_678.5],
    ['10.064.000,5', ',', 10_064_000.5],
    ['12.5%', '.', 12.5],
    ['12 %%', '.', undefined],
    ['% 12', '.', undefined],
    ['1,06.5', '.', undefined],
    ['1064,064.5', '.', undefined],
    ['1,0640.5', '.', undefined],
    ['1.064.000', ',', undefined],
    ['1,064.', '.', undefined],
    ['a1.5', '.', undefined],
    ['1.5a', '.', undefined],
    ['a1,5', ',', undefined],
    ['1,5a', ',', undefined],
    ['a1,064.5', '.', undefined],
    ['1,064.5a', '.', undefined],
    ['a1.064,5', ',', undefined],
    ['1.064,5a', ',', undefined],
    ['e5', '.', undefined],
    ['5e', '.', undefined],
    ['.', '.', undefined],
  ] as const)('%j with the mark %s is %j', (cell, mark, value) => {
    expect(readNumber(cell, mark)).toBe(value);
  });
});

describe('a heading', () => {
  it.each([
    ['Wavelength (nm)', { role: 'x', xUnit: 'nm' }],
    ['Wellenlänge [nm]', { role: 'x', xUnit: 'nm' }],
    ['λ / µm', { role: 'x', xUnit: 'um' }],
    ['x, um', { role: 'x', xUnit: 'um' }],
    ['Wavelength in Å', { role: 'x', xUnit: 'angstrom' }],
    ['wavelength (angstrom)', { role: 'x', xUnit: 'angstrom' }],
    ['wavelength (Angstroms)', { role: 'x', xUnit: 'angstrom' }],
    ['Wavenumber', { role: 'x', xUnit: 'cm-1' }],
    ['cm-1', { role: 'x', xUnit: 'cm-1' }],
    ['nm', { role: 'x', xUnit: 'nm' }],
    ['wavelength', { role: 'x' }],
    ['%R', { role: 'value', quantity: 'R', scale: 'percent' }],
    ['R', { role: 'value', quantity: 'R' }],
    ['T (%)', { role: 'value', quantity: 'T', scale: 'percent' }],
    ['Reflectance', { role: 'value', quantity: 'R' }],
    ['Transmission / %', { role: 'value', quantity: 'T', scale: 'percent' }],
    ['OD', { role: 'value', quantity: 'T', scale: 'absorbance' }],
    ['O.D.', { role: 'value', quantity: 'T', scale: 'absorbance' }],
    ['Abs', { role: 'value', quantity: 'T', scale: 'absorbance' }],
    ['Absorptance', { role: 'value', quantity: 'A' }],
    ['cm -1', { role: 'x', xUnit: 'cm-1' }],
    ['ν / cm⁻¹', { role: 'x', xUnit: 'cm-1' }],
    ['cm^-1', { role: 'x', xUnit: 'cm-1' }],
    ['cm^(-1)', { role: 'x', xUnit: 'cm-1' }],
    ['cm**-1', { role: 'x', xUnit: 'cm-1' }],
    ['1/CM', { role: 'x', xUnit: 'cm-1' }],
    ['wave numbers', { role: 'x', xUnit: 'cm-1' }],
    ['Wellenzahl', { role: 'x', xUnit: 'cm-1' }],
    ["Nombre d'onde", { role: 'x', xUnit: 'cm-1' }],
    ['NANOMETERS', { role: 'x', xUnit: 'nm' }],
    ['nano-metre', { role: 'x', xUnit: 'nm' }],
    ['MICROMETERS', { role: 'x', xUnit: 'um' }],
    ['micro-metre', { role: 'x', xUnit: 'um' }],
    ['micron', { role: 'x', xUnit: 'um' }],
    ['microns', { role: 'x', xUnit: 'um' }],
    ['E / eV', { role: 'x', xUnit: 'eV' }],
    [' Wave length ', { role: 'x' }],
    ['wave_length', { role: 'x' }],
    ['Wellenlaenge', { role: 'x' }],
    ["Longueur d'onde", { role: 'x' }],
    ['wavelength of R (nm)', { role: 'x', xUnit: 'nm' }],
    [' X ', { role: 'x' }],
    ['x4', { role: 'unknown' }],
    ['Index', { role: 'unknown' }],
    ['%', { role: 'value', scale: 'percent' }],
    ['Lens 4 (per cent)', { role: 'value', scale: 'percent' }],
    ['R percent', { role: 'value', quantity: 'R', scale: 'percent' }],
    ['Reflexion Prozent', { role: 'value', quantity: 'R', scale: 'percent' }],
    ['Coefficient de réflexion', { role: 'value', quantity: 'R' }],
    ['Refl.', { role: 'value', quantity: 'R' }],
    ['Remission', { role: 'value', quantity: 'R' }],
    ['Trans.', { role: 'value', quantity: 'T' }],
    ['Durchlassgrad', { role: 'value', quantity: 'T' }],
    ['Absorbanz', { role: 'value', quantity: 'T', scale: 'absorbance' }],
    ['Extinktion', { role: 'value', quantity: 'T', scale: 'absorbance' }],
    ['optical density', { role: 'value', quantity: 'T', scale: 'absorbance' }],
    ['A', { role: 'value', quantity: 'A' }],
    ['lens_R', { role: 'value', quantity: 'R' }],
    ['% T', { role: 'value', quantity: 'T', scale: 'percent' }],
    ['lens 4 [R]', { role: 'value', quantity: 'R' }],
    ['lens 4 (T), centre', { role: 'value', quantity: 'T' }],
    ['T: lens 4', { role: 'value', quantity: 'T' }],
    ['Rp', { role: 'value', quantity: 'R' }],
    ['T1 centre', { role: 'value', quantity: 'T' }],
    ['R-mean', { role: 'value', quantity: 'R' }],
    ['Tray T1', { role: 'unknown' }],
    ['Lens 4R', { role: 'unknown' }],
    ['4 Aug', { role: 'unknown' }],
    ['Lens 4, centre', { role: 'unknown' }],
    ['Tray', { role: 'unknown' }],
    ['Run', { role: 'unknown' }],
  ])('"%s" is understood', (heading, meaning) => {
    expect(readHeading(heading)).toEqual(meaning);
  });
});
