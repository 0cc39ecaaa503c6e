import { describe, expect, it } from 'vitest';
import { readHeading } from '../../src/inspect/column-heading.ts';
import { decodeText } from '../../src/inspect/decode-text.ts';
import { readNumber } from '../../src/inspect/read-number.ts';

describe('the encoding of a file', () => {
  const text = 'λ/µm;R ±\n';
  const latin = Uint8Array.from('µm;R ±\n', (character) => character.charCodeAt(0));

  it.each([
    ['UTF-8', new TextEncoder().encode(text), text],
    ['UTF-8', new TextEncoder().encode(`\ufeff${text}`), text],
    ['UTF-16', Uint8Array.from([0xff, 0xfe, ...Buffer.from(text, 'utf16le')]), text],
    ['UTF-16', Uint8Array.from([0xfe, 0xff, ...Buffer.from(text, 'utf16le').swap16()]), text],
    ['UTF-16', Uint8Array.from(Buffer.from('400;0.5\n410;0.6\n', 'utf16le')), '400;0.5\n410;0.6\n'],
    ['UTF-16', Uint8Array.from(Buffer.from('400;0.5\n410;0.6\n', 'utf16le').swap16()), '400;0.5\n410;0.6\n'],
    ['Windows-1252', latin, 'µm;R ±\n'],
    ['Windows-1252', Uint8Array.of(0xff, 0x3b, 0x31), 'ÿ;1'], // half of a byte order mark is a letter
  ])('is found (%s)', (encoding, bytes, expected) => {
    expect(decodeText(bytes)).toMatchObject({ encoding, text: expected });
  });

  it.each([
    [[], 'the file is empty'],
    [[0xff, 0xd8, 0xff, 0xe0], 'this is a JPEG picture, not text'],
    [[0x50, 0x4b, 3, 4], 'this is a spreadsheet or another packed file, not text'],
    [[1, 2, 3, 4, 5, 6, 7, 8], 'the file is not text'],
  ])('is not looked for in what is no text (%j)', (bytes, fault) => {
    expect(() => decodeText(Uint8Array.from(bytes))).toThrow(fault);
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
    ['Lens 4, centre', { role: 'unknown' }],
    ['Tray', { role: 'unknown' }],
    ['Run', { role: 'unknown' }],
  ])('"%s" is understood', (heading, meaning) => {
    expect(readHeading(heading)).toEqual(meaning);
  });
});
