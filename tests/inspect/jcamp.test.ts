import { describe, expect, it } from 'vitest';
import { decodeOrdinates } from '../../src/inspect/jcamp-ordinates.ts';
import { readSpectrum } from '../../src/inspect/read-spectrum.ts';
import { startingWith } from '../support/refusals.ts';

/**
 * The example of the forms of ordinates in JCAMP-DX 4.24 (R. S. McDonald, P. A. Wilks, Appl. Spectrosc. 42, 151,
 * 1988, table of the ASCII squeezed difference forms; from memory): the same ten ordinates in each. An abscissa of 0 stands before
 * them here.
 */
const ORDINATES = [1, 2, 3, 3, 2, 1, 0, -1, -2, -3];

describe('ordinates of JCAMP-DX', () => {
  it.each([
    ['plain', '0 1 2 3 3 2 1 0 -1 -2 -3'],
    ['packed', '0+1+2+3+3+2+1+0-1-2-3'],
    ['squeezed', '0ABCCBA@abc'],
    ['difference', '0AJJ%jjjjjj'],
    ['difference with repeats', '0AJT%jX'],
  ])('are the same in the form %s', (_, line) => {
    expect(decodeOrdinates([line]).y).toEqual(ORDINATES);
  });

  it('carry a check value at the start of a line after differences', () => {
    expect(decodeOrdinates(['400A0JJ', '402A2JJ']).y).toEqual([10, 11, 12, 13, 14]);
    expect(() => decodeOrdinates(['400A0JJ', '402A3JJ'])).toThrow(
      'the file is damaged: a line begins with the check value 13, the line before ended with 12',
    );
  });

  it('with several digits, decimals and exponents keep them', () => {
    expect(decodeOrdinates(['400.5 1.5E+02 -2.5e-1 3']).y).toEqual([150, -0.25, 3]);
    expect(decodeOrdinates(['400E5a27%J0']).y).toEqual([55, -127, -127, -117]);
  });

  it('that are missing are told apart from 0', () => {
    expect(decodeOrdinates(['400 1 ? 3']).y).toEqual([1, undefined, 3]);
  });

  it('cannot be asked for without end by a few bytes', () => {
    expect(() => decodeOrdinates(['400A s99999999'])).toThrow(/^the spectrum has more than 1000000 points/);
    expect(() => decodeOrdinates(['400 12!'])).toThrow(/^"!" is no ordinate of JCAMP-DX/);
    expect(() => decodeOrdinates(['400S3'])).toThrow(/^the repeat "S" follows no ordinate/);
    expect(() => decodeOrdinates(['400J'])).toThrow(/^a difference follows no ordinate/);
    expect(() => decodeOrdinates(['400 5s99998', '500 1 1 1'])).toThrow(
      /^the spectrum has more than 1000000 points/,
    );
    expect(() => decodeOrdinates(['400 1 2', '  ? '])).toThrow(/^the line "\?" has no abscissa/);
  });

  it('repeat a plain ordinate as well as a difference', () => {
    expect(decodeOrdinates(['400 5U']).y).toEqual([5, 5, 5]);
    expect(decodeOrdinates(['400 5JU']).y).toEqual([5, 6, 7, 8]);
  });

  it('of a line that ended in none of the differences are not taken for a check value', () => {
    expect(decodeOrdinates(['400 1 2', '402 3 4']).y).toEqual([1, 2, 3, 4]);
    expect(decodeOrdinates(['400AJ', '', '402BJ']).y).toEqual([1, 2, 3]);
  });
});

const file = (records: Record<string, string>, data = '400AJJ\n600C\n') => `##TITLE= lens 3 $$ invented
##JCAMP-DX= 4.24
##DATA TYPE= UV/VIS SPECTRUM
${Object.entries(records)
  .map(([label, value]) => `##${label}= ${value}`)
  .join('\n')}
${data}##END=
`;
const usual = {
  XUNITS: 'NANOMETERS',
  YUNITS: 'REFLECTANCE',
  XFACTOR: '1',
  YFACTOR: '0.01',
  FIRSTX: '400',
  LASTX: '600',
  NPOINTS: '3',
};
const withForm = { ...usual, XYDATA: '(X++(Y..Y))' };

describe('a spectrum in JCAMP-DX', () => {
  it('is read with its units and factors', () => {
    const spectrum = readSpectrum(file(withForm));
    expect(Array.from(spectrum.wavelengthNm)).toEqual([400, 500, 600]);
    expect(Array.from(spectrum.values)).toEqual([0.01, 0.02, 0.03]);
    expect(spectrum).toMatchObject({ quantity: 'R', understood: { format: 'JCAMP-DX', title: 'lens 3' } });
    expect(spectrum.warnings).toEqual([expect.stringMatching(/^The values name no scale/)]);
  });

  it('in wavenumbers and as pairs is read too', () => {
    const records = { XUNITS: '1/CM', YUNITS: '% TRANSMITTANCE', XYPOINTS: '(XY..XY)' };
    const spectrum = readSpectrum(file(records, '25000, 91.5\n20000, 92.5; 12500 93\n'));
    expect(Array.from(spectrum.wavelengthNm)).toEqual([400, 500, 800]);
    expect(Array.from(spectrum.values)).toEqual([0.915, 0.925, 0.93]);
    expect(spectrum).toMatchObject({ quantity: 'T', warnings: [] });
  });

  it('is told apart from others in the same file', () => {
    const two = `##TITLE= both\n##DATA TYPE= LINK\n##BLOCKS= 2\n${file(withForm)}${file(withForm, '400BJJ\n600D\n').replace('lens 3', 'lens 4')}##END=\n`;
    const first = readSpectrum(two);
    expect(first.warnings).toContain(
      'The file has 2 spectra ("lens 3", "lens 4"); the first was read. To read another, choose its column.',
    );
    expect(Array.from(readSpectrum(two, { column: 'lens 4' }).values)).toEqual([0.02, 0.03, 0.04]);
  });

  it('says what is missing at its end', () => {
    const { warnings } = readSpectrum(file({ ...withForm, NPOINTS: '5', LASTX: '800' }));
    expect(warnings).toContain('The file announces 5 points and has 3; it may have been cut off.');
  });

  it('says which lines begin elsewhere than its frame says', () => {
    expect(readSpectrum(file(withForm, '400AJJ\n900C\n')).warnings).toContain(
      '1 of 2 lines begin with an abscissa that does not fit FIRSTX, LASTX and NPOINTS.',
    );
  });

  it('may have a remark after its end', () => {
    expect(readSpectrum(`${file(withForm)}##NOTE= filed\n`).values).toHaveLength(3);
  });

  it.each([
    [file({ ...usual }), 'the JCAMP-DX file has no spectrum in the form XYDATA or XYPOINTS'],
    [file({ ...withForm, XYDATA: '(R++(A..A))' }), 'the form "(R++(A..A))" of JCAMP-DX is not read'],
    [file({ ...withForm, NPOINTS: '2' }), 'the file announces 2 points and has 3'],
    [file({ ...withForm, FIRSTX: 'blue' }), 'FIRSTX is "blue", not a number'],
    [file({ XYDATA: '(X++(Y..Y))' }), 'the JCAMP-DX file lacks FIRSTX'],
    [file(withForm).replace('UV/VIS SPECTRUM', 'NMR SPECTRUM'), 'the file holds "NMR SPECTRUM"'],
    [file(withForm, '400AJJ\n600D\n'), 'the file is damaged'],
    [file(withForm, '400\n'), 'the file announces a spectrum and has no point of it'],
  ])('is refused with what is wrong (%#)', (text, fault) => {
    expect(() => readSpectrum(text)).toThrow(startingWith(fault));
  });
});
