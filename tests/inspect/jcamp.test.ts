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

  it('after a line that ended in a difference may be none but the abscissa, which has no check value', () => {
    expect(decodeOrdinates(['400A0JJ', '402', '403A3'])).toEqual({
      y: [10, 11, 12, 13],
      checks: [
        { x: 400, point: 0 },
        { x: 402, point: 3 },
        { x: 403, point: 3 },
      ],
    });
  });

  it('stand beside the abscissa of their line, whose point is that of the check value', () => {
    expect(decodeOrdinates(['D00A2B', '  ', '402 3J', '403D+5']).checks).toEqual([
      { x: 400, point: 0 },
      { x: 402, point: 2 },
      { x: 403, point: 3 },
    ]);
    expect(decodeOrdinates(['D00A2B']).y).toEqual([12, 2]);
    expect(decodeOrdinates(['d.5a.5']).checks).toEqual([{ x: -4.5, point: 0 }]);
  });

  it('are parted by blanks, commas or semicolons', () => {
    expect(decodeOrdinates(['400,  1;2 ,3, .25 5. 1E-12'])!.y).toEqual([1, 2, 3, 0.25, 5, 1e-12]);
  });

  it('with several digits, decimals and exponents keep them', () => {
    expect(decodeOrdinates(['400.5 1.5E+02 -2.5e-1 3']).y).toEqual([150, -0.25, 3]);
    expect(decodeOrdinates(['400E5a27%J0']).y).toEqual([55, -127, -127, -117]);
    expect(decodeOrdinates(['400@.5A.5%5j2']).y).toEqual([0.5, 1.5, 6.5, -5.5]);
  });

  it('that are missing are told apart from 0', () => {
    expect(decodeOrdinates(['400 1 ? 3']).y).toEqual([1, undefined, 3]);
  });

  it('cannot be asked for without end by a few bytes', () => {
    expect(() => decodeOrdinates(['400A s99999999'])).toThrow(/^the spectrum has more than 1000000 points/);
    expect(() => decodeOrdinates(['400 12!'])).toThrow(/^"!" is no ordinate of JCAMP-DX$/);
    expect(() => decodeOrdinates([`400 12${'!'.repeat(30)}`])).toThrow(/^"!{20}" is no ordinate/);
    expect(() => decodeOrdinates(['400S3'])).toThrow(/^the repeat "S" follows no ordinate$/);
    expect(() => decodeOrdinates(['400J'])).toThrow(/^a difference follows no ordinate$/);
    expect(() => decodeOrdinates(['400?J'])).toThrow(/^a difference follows no ordinate$/);
    expect(() => decodeOrdinates(['400 1 1', '500 5s99999'])).toThrow(
      /^the spectrum has more than 1000000 points$/,
    );
    expect(decodeOrdinates(['400 1 1', '500 5s99998']).y.length).toBe(1_000_000);
    expect(() => decodeOrdinates(['400 5s99998', '500 1 1 1'])).toThrow(
      /^the spectrum has more than 1000000 points$/,
    );
    expect(() => decodeOrdinates(['400 1 2', '  ? '])).toThrow(/^the line "\?" has no abscissa$/);
    expect(() => decodeOrdinates(['?'.repeat(30)])).toThrow(/^the line "\?{20}" has no abscissa$/);
  });

  it('repeat a plain ordinate as well as a difference', () => {
    expect(decodeOrdinates(['400 5U']).y).toEqual([5, 5, 5]);
    expect(decodeOrdinates(['400 5JU']).y).toEqual([5, 6, 7, 8]);
  });

  it('after which no difference stands are repeated as they are', () => {
    expect(decodeOrdinates(['400 1JB2T']).y).toEqual([1, 2, 22, 22]);
    expect(decodeOrdinates(['400 1J+5T']).y).toEqual([1, 2, 5, 5]);
    expect(decodeOrdinates(['400 1J?T']).y).toEqual([1, 2, undefined, undefined]);
    for (const last of ['B2', '+5', '?', 'B2T']) {
      const { y } = decodeOrdinates([`400 1J${last}`, '500 7']);
      expect(y.at(-1)).toBe(7);
      expect(y).toHaveLength(last === 'B2T' ? 5 : 4);
    }
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

  it('is known by its title, behind remarks too, and by no title elsewhere', () => {
    const text = file(withForm);
    for (const before of ['\ufeff', '\n', '$$ exported\n$$ lot 7\n\n', ' \n $$ one\n'])
      expect(readSpectrum(before + text).understood.format).toBe('JCAMP-DX');
    expect(readSpectrum(text.replace('##TITLE=', '## title =')).understood.format).toBe('JCAMP-DX');
    expect(readSpectrum('taken from ##TITLE= lens 3\nnm;%R\n400;1\n500;2\n').understood.format).toBe(
      'columns',
    );
  });

  it('may be written with any line ends, indents, and labels in any spelling', () => {
    const plain = readSpectrum(file(withForm));
    expect(plain.understood.title).toBe('lens 3');
    for (const text of [
      file(withForm).replaceAll('\n', '\r\n'),
      file(withForm).replaceAll('\n', '\r'),
      file(withForm).replaceAll('##', ' \t##'),
      file(withForm).replace('##FIRSTX', '##first_-/ x '),
      file(withForm).replace('##XYDATA', '##YFACTOR\n##XYDATA'),
    ])
      expect(readSpectrum(text)).toEqual(plain);
    const { title } = readSpectrum(file(withForm).replace('lens 3', 'lens ##3  \n of lot 7')).understood;
    expect(title).toBe('lens ##3');
    const spaced = { ...usual, XYDATA: '( X++ ( Y..Y ) ) $$ squeezed' };
    expect(() => readSpectrum(file(spaced))).toThrow(
      startingWith('the form "( X++ ( Y..Y ) )" of JCAMP-DX is not read'),
    );
    expect(readSpectrum(file({ ...usual, XYDATA: '(  X++  (Y..Y)  )' }))).toEqual(plain);
    expect(readSpectrum(file({ ...usual, XFACTOR: '', XYDATA: '(X++(Y..Y))' }))).toEqual(plain);
  });

  it('has its abscissas times their factor, and may fall', () => {
    const { FIRSTX, LASTX } = { FIRSTX: '600', LASTX: '400' };
    const falling = file({ ...withForm, FIRSTX, LASTX, XFACTOR: '0.1' }, '6000AJJ\n4000C\n');
    expect(Array.from(readSpectrum(falling).wavelengthNm)).toEqual([400, 500, 600]);
    expect(Array.from(readSpectrum(falling).values)).toEqual([0.03, 0.02, 0.01]);
    expect(readSpectrum(falling).warnings).toHaveLength(1);
    const pairs = { XUNITS: 'nm', YUNITS: 'T', XFACTOR: '2', YFACTOR: '0.5' };
    for (const [label, form] of [
      ['XYPOINTS', '( XY .. XY )'],
      ['PEAK TABLE', '(XY..XY)'],
    ] as const) {
      const spectrum = readSpectrum(file({ ...pairs, [label]: form }, '  200, 1\n\n250 ,0.5;\n'));
      expect(Array.from(spectrum.wavelengthNm)).toEqual([400, 500]);
      expect(Array.from(spectrum.values)).toEqual([0.5, 0.25]);
    }
  });

  it('may have two points only', () => {
    const two = file({ ...withForm, NPOINTS: '2' }, '400AJ\n');
    expect(Array.from(readSpectrum(two).wavelengthNm)).toEqual([400, 600]);
  });

  it('leaves out the points that are marked as missing, and says so', () => {
    const { wavelengthNm, values, warnings } = readSpectrum(file(withForm, '400 1 ? 3\n'));
    expect(Array.from(wavelengthNm)).toEqual([400, 600]);
    expect(Array.from(values)).toEqual([0.01, 0.03]);
    expect(warnings[0]).toBe('Marked as missing and left out: 1 point.');
    expect(readSpectrum(file(withForm)).warnings.join()).not.toContain('missing');
  });

  it('is told apart from others in the same file', () => {
    const two = `##TITLE= both\n##DATA TYPE= LINK\n##BLOCKS= 2\n${file(withForm)}${file(withForm, '400BJJ\n600D\n').replace('lens 3', 'lens 4')}##END=\n`;
    const first = readSpectrum(two);
    expect(first.warnings).toContain(
      'The file has 2 spectra ("lens 3", "lens 4"); the first was read. To read another, choose its column.',
    );
    expect(first.columns).toEqual([
      { number: 1, heading: 'lens 3', role: 'value', isUsed: true },
      { number: 2, heading: 'lens 4', role: 'value', isUsed: false },
    ]);
    for (const column of ['lens 4', ' lens 4 ', 2]) {
      const second = readSpectrum(two, { column });
      expect(Array.from(second.values)).toEqual([0.02, 0.03, 0.04]);
      expect(second.understood.title).toBe('lens 4');
      expect(second.columns.map(({ isUsed }) => isUsed)).toEqual([false, true]);
      expect(second.warnings.join()).not.toContain('spectra');
    }
    for (const [column, named] of [
      [3, '3'],
      ['both', '"both"'],
    ] as const)
      expect(() => readSpectrum(two, { column })).toThrow(
        startingWith(`column: there is no spectrum ${named}; the file has "lens 3", "lens 4"`),
      );
    // What a block leaves out is not had from the one before it.
    const bare = two.replace(/(lens 4.*?)##XUNITS= NANOMETERS\n/s, '$1');
    expect(readSpectrum(bare, { column: 2 }).warnings[0]).toMatch(/^The spectral axis names no unit/);
    const ofAll = two.replace(/##END=\n$/, '##XUNITS= um\n##END=\n');
    expect(readSpectrum(ofAll, { column: 2 }).wavelengthNm).toEqual(first.wavelengthNm);
  });

  it('says what is missing at its end', () => {
    const { warnings } = readSpectrum(file({ ...withForm, NPOINTS: '5', LASTX: '800' }));
    expect(warnings).toContain('The file announces 5 points and has 3; it may have been cut off.');
  });

  it('says which lines begin elsewhere than its frame says', () => {
    expect(readSpectrum(file(withForm, '400AJJ\n900C\n')).warnings).toContain(
      '1 of 2 lines begin with an abscissa that does not fit FIRSTX, LASTX and NPOINTS.',
    );
    // One step of 100 nm off is none: it may count its check value or not.
    for (const within of [500, 700])
      expect(readSpectrum(file(withForm, `400AJJ\n${within}C\n`)).warnings).toHaveLength(1);
    expect(readSpectrum(file(withForm, '400AJJ\n499C\n')).warnings).toHaveLength(2);
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
    [file({ ...withForm, LASTX: '' }), 'the JCAMP-DX file lacks LASTX'],
    [file({ ...withForm, NPOINTS: '' }), 'the JCAMP-DX file lacks NPOINTS'],
    [file({ ...withForm, NPOINTS: '1' }, '400A\n'), 'the file announces 1 points and has 1'],
    [file({ XYPOINTS: '(XYW..XYW)' }, '400 1\n'), 'the form "(XYW..XYW)" of JCAMP-DX is not read'],
    [file({ XYPOINTS: '(XY..XY)' }, '400 1 500\n'), 'the list of points has 3 numbers, which make no pairs'],
    [file({ XYPOINTS: '(XY..XY)' }, '400 one\n'), '"one" is no number in the list of points'],
    [
      file({ XYPOINTS: '(XY..XY)' }, `${'1 '.repeat(2_000_002)}\n`),
      'the spectrum has more than 1000000 points',
    ],
    [
      file(withForm).replace('UV/VIS SPECTRUM', 'NMR SPECTRUM'),
      'the file holds "NMR SPECTRUM", not a spectrum of reflected or transmitted light',
    ],
    [file(withForm, '400AJJ\n600D\n'), 'the file is damaged'],
    [file(withForm, '400\n'), 'the file announces a spectrum and has no point of it'],
  ])('is refused with what is wrong (%#)', (text, fault) => {
    expect(() => readSpectrum(text)).toThrow(startingWith(fault));
  });
});
