import { describe, expect, it } from 'vitest';
import type { ReadingChoices } from '../../src/inspect/measured-spectrum.ts';
import { readSpectrum } from '../../src/inspect/read-spectrum.ts';
import { startingWith } from '../support/refusals.ts';

const wavelengths = [400, 450, 500, 550, 600];
const percents = [1.25, 0.5, 0.125, 0.25, 0.75];

function read(source: string | Uint8Array, choices?: ReadingChoices) {
  const { wavelengthNm, values, ...rest } = readSpectrum(source, choices);
  return { wavelengthNm: Array.from(wavelengthNm), values: Array.from(values), ...rest };
}

/** The same five points in many dialects. */
const lines = (separator: string, mark: string, ending = '\n') =>
  wavelengths
    .map((nm, i) => `${nm}${mark}0${separator}${String(percents[i]).replace('.', mark)}`)
    .join(ending);

describe('a measured spectrum in columns', () => {
  it.each([
    ['comma', `Wavelength (nm),R (%)\n${lines(',', '.')}\n`],
    ['semicolon and decimal comma', `Wavelength (nm);R (%)\r\n${lines(';', ',', '\r\n')}\r\n`],
    ['semicolon and point', `Wavelength (nm);R (%)\n${lines(';', '.')}`],
    ['tab', `Wavelength (nm)\tR (%)\n${lines('\t', '.')}`],
    ['tab and decimal comma', `nm\t%R\n${lines('\t', ',')}`],
    ['spaces', `nm %R\n${lines('   ', '.')}`],
    ['spaces and decimal comma', `nm %R\n${lines('  ', ',')}`],
    ['bars', `nm|%R\n${lines('|', '.')}`],
    ['old line ends', `nm;%R\r${lines(';', '.', '\r')}`],
    ['comments', `# lot 7, lens 3\n# nm, %R\n${lines(',', '.')}\n# end\n`],
    ['other comments', `% lot 7\n// nm; %R\n${lines(';', '.')}\n  ** end\n! really\n`],
    ['a line of units', `Wavelength,Reflectance\nnm,%\n${lines(',', '.')}`],
    ['quotes', `"Wavelength (nm)","Reflectance (%)"\n${lines('","', ',').replace(/^|$/gm, '"')}`],
    ['descending order', `nm,%R\n${lines(',', '.').split('\n').reverse().join('\n')}`],
    ['empty lines and spaces around', `\n\nnm , %R\n\n${lines(' , ', '.')}\n\n`],
    ['an empty column at the end', `nm;%R;\n${lines(';', '.').replace(/$/gm, ';')}`],
  ])('is read with %s', (_, text) => {
    const spectrum = read(text);
    expect(spectrum.wavelengthNm).toEqual(wavelengths);
    expect(spectrum.values).toEqual(percents.map((value) => value / 100));
    expect(spectrum.quantity).toBe('R');
    expect(spectrum.warnings).toEqual([]);
  });

  it.each([
    ['UTF-16', Uint8Array.from([0xff, 0xfe, ...Buffer.from(`λ/nm;%R\n${lines(';', ',')}`, 'utf16le')])],
    ['UTF-8 with a mark', new TextEncoder().encode(`\ufeffλ/nm;%R\n${lines(';', ',')}`)],
    ['Latin-1', Uint8Array.from(`Wellenlänge nm;%R\n${lines(';', ',')}`, (c) => c.charCodeAt(0))],
  ])('is read from %s', (_, bytes) => {
    expect(read(bytes)).toMatchObject({ wavelengthNm: wavelengths, warnings: [] });
  });

  it.each([
    ['Wavelength (µm)', [0.4, 0.45, 0.5], [400, 450, 500]],
    ['Wavenumber (cm-1)', [25_000, 20_000, 12_500], [400, 500, 800]],
    ['Wavelength (Å)', [4000, 5000, 6000], [400, 500, 600]],
  ])('has its wavelengths in nm from %s', (heading, x, expected) => {
    const { wavelengthNm, warnings } = read(`${heading};R\n${x.map((value) => `${value};0.1`).join('\n')}`);
    wavelengthNm.forEach((nm, i) => {
      expect(nm).toBeCloseTo(expected[i]!, 9);
    });
    expect(warnings).toEqual([
      'The values name no scale; they were taken as fractions of 1, because none is above 1.5. Choose percent if they are.',
    ]);
  });

  it('turns absorbance into transmittance and says so', () => {
    const { quantity, values, warnings } = read('nm,Absorbance\n400,0\n500,1\n600,2\n');
    expect(quantity).toBe('T');
    expect(values).toEqual([1, 0.1, 0.01]);
    expect(warnings).toEqual([expect.stringMatching(/^Absorbance was turned/)]);
  });

  it('says what it guessed where the file names nothing, and takes corrections', () => {
    const text = '400 0.9\n500 0.3\n600 0.4\n';
    const { values, warnings, quantity } = read(text);
    expect(quantity).toBe('R');
    expect(values).toEqual([0.9, 0.3, 0.4]);
    expect(read('nm,R\n400,1.6\n500,1\n')).toMatchObject({
      values: [0.016, 0.01],
      warnings: ['The values name no scale; they were taken as percent, because some are above 1.5.'],
    });
    expect(warnings).toEqual([
      'The spectral axis names no unit; it was taken as nm from its size.',
      expect.stringMatching(/^The values name no scale; they were taken as fractions/),
      'The file does not say whether it is R or T; it was taken as R.',
    ]);
    const told = read(text, { xUnit: 'nm', scale: 'percent', quantity: 'T' });
    expect(told).toMatchObject({ quantity: 'T', warnings: [] });
    expect(told.values[0]).toBeCloseTo(0.009, 12);
  });

  it('names the other columns and reads the one that is chosen', () => {
    const text = 'nm,R lens 1 (%),R lens 2 (%)\n400,1,2\n500,3,4\n';
    const first = read(text);
    expect(first.values).toEqual([0.01, 0.03]);
    expect(first.warnings).toEqual([
      'The file has 2 columns of values (column 2 "R lens 1 (%)", column 3 "R lens 2 (%)"); the first was read. To read another, choose its column.',
    ]);
    expect(first.columns.map(({ role, isUsed }) => [role, isUsed])).toEqual([
      ['x', true],
      ['value', true],
      ['value', false],
    ]);
    for (const column of [3, 'R lens 2 (%)', ' r LENS 2 (%) '])
      expect(read(text, { column })).toMatchObject({ values: [0.02, 0.04], warnings: [] });
    expect(() => read(text, { column: 4 })).toThrow(
      'column: there is no column 4; the file has column 1 "nm", column 2 "R lens 1 (%)", column 3 "R lens 2 (%)"',
    );
    expect(() => read(text, { column: 1 })).toThrow('column: column 1 is the spectral axis');
  });

  it('names each column with its part, headings or not', () => {
    const bare = read('400 0.9 1\n500 0.3 2\n600 0.4 3\n');
    expect(bare.columns.map(({ heading, role }) => [heading, role])).toEqual([
      ['', 'x'],
      ['', 'value'],
      ['', 'unknown'],
    ]);
    const two = read('Wavelength,\nnm,%\n400,1\n500,2\n');
    expect(two.columns.map(({ heading }) => heading)).toEqual(['Wavelength nm', '%']);
    for (const above of ['Spectrum of lens 3', 'Spectrum of lens 3,a', 'one,two,three'])
      expect(read(`${above}\nWavelength,Reflectance\n400,1\n500,2\n`).columns[1]!.heading).toBe(
        'Reflectance',
      );
    expect(read('Spectrum of lens 3\n400,1\n500,2\n').columns.map(({ heading }) => heading)).toEqual([
      '',
      '',
    ]);
  });

  it('has as many columns as most of its rows, and no mark of its encoding in a heading', () => {
    const { columns, values } = read('\ufeffnm,%R\n400,1,9\n500,2\n600,3\n');
    expect(columns.map(({ heading }) => heading)).toEqual(['nm', '%R']);
    expect(values).toEqual([0.01, 0.02, 0.03]);
  });

  it.each([
    ['jumbled', '3 400 0.9\n1 500 0.3\n2 600 0.4\n'],
    ['the same throughout', '7 400 0.9\n7 500 0.3\n7 600 0.4\n'],
    ['full of gaps', ';400;0.9\n2;500;0.3\n3;600;0.4\n'],
  ])('finds its axis beside a column that is %s', (_, text) => {
    const { wavelengthNm, values } = read(text, { column: 3 });
    expect(wavelengthNm).toEqual([400, 500, 600]);
    expect(values).toEqual([0.9, 0.3, 0.4]);
  });

  it('has its unit from the lines above where no heading names it', () => {
    const above = 'slit 2 nm\nWave plate taken out\nXUNITS: Å\nUnits of slit: nm\nbegin\n';
    expect(read(`${above}4000 0.9\n5000 0.3\n`).understood.xUnit).toBe('angstrom');
    expect(read(`${above}cm-1 R\n4000 0.9\n5000 0.3\n`).understood.xUnit).toBe('cm-1');
    for (const word of ['unit Å', 'Lambda in Å', 'λ in Å', 'WAVE in Å'])
      expect(read(`${word}\nbegin\n4000 0.9\n5000 0.3\n`).understood.xUnit).toBe('angstrom');
    expect(read('slit 2 um\nWave plate taken out\nbegin\n400 0.9\n500 0.3\n').warnings[0]).toBe(
      'The spectral axis names no unit; it was taken as nm from its size.',
    );
  });

  it('takes a column that says what it is before one that does not, and none without numbers', () => {
    const named = read('nm;Lens 4;%R\n400;0.1;1\n500;0.2;2\n');
    expect(named).toMatchObject({ values: [0.01, 0.02], warnings: [] });
    const empty = read('nm;Lens 4;Lens 5;T %\n400;;0.1;\n500;;0.2;\n600;;0.3;\n', { column: 'Lens 5' });
    expect(empty.values).toEqual([0.1, 0.2, 0.3]);
    expect(read('nm;Lens 4;Lens 5\n400;;0.1\n500;;0.2\n', { scale: 'fraction' }).values).toEqual([0.1, 0.2]);
    const partly = read('nm;Lens 4;Lens 5\n400;;0.1\n500;0.2;0.2\n600;0.3;0.3\n').warnings;
    expect(partly[0]).toMatch(/^The file has 2 columns of values \(column 2 "Lens 4", column 3 "Lens 5"\)/);
  });

  it('takes no second axis for values', () => {
    const { values, columns } = read(
      'Wavelength (nm);Wavenumber (cm-1);Lens 4\n400;25000;0.1\n500;20000;0.2\n',
    );
    expect(values).toEqual([0.1, 0.2]);
    expect(columns.map(({ number, role }) => [number, role])).toEqual([
      [1, 'x'],
      [2, 'x'],
      [3, 'value'],
    ]);
  });

  it('says that a second spectrum below the first was not read', () => {
    const block = 'nm,%R\n400,1\n500,2\n600,3\n';
    const { wavelengthNm, warnings } = read(block + block);
    expect(wavelengthNm).toEqual([400, 500, 600]);
    expect(warnings).toEqual([
      'The file holds spectra one below another; the first, up to line 4, was read, 3 further rows were not.',
    ]);
  });

  it('is one spectrum where its axis goes back without starting over', () => {
    for (const order of [
      [400, 500, 600, 450, 550],
      [400, 450, 500, 420, 470],
      [400, 500, 400, 350, 300],
      [400, 500, 300],
      [500, 500, 400, 450, 480],
    ])
      expect(read(`nm,%R\n${order.map((nm) => `${nm},1`).join('\n')}`).warnings[0]).toMatch(
        /^The spectral axis goes/,
      );
    for (const order of [
      [400, 500, 600, 400, 400],
      [400, 500, 600, 440, 500],
    ])
      expect(read(`nm,%R\n${order.map((nm) => `${nm},1`).join('\n')}`).wavelengthNm).toEqual(
        [...new Set(order)].sort((a, b) => a - b),
      );
    const twice = [400, 500, 500, 600].map((nm) => `${nm},1\n`).join('');
    expect(read(`nm,%R\n${twice}${twice}`).warnings[0]).toMatch(
      /the first, up to line 5, was read, 4 further/,
    );
    const falling = 'nm,%R\n600,1\n500,2\n400,3\n';
    expect(read(falling + falling).wavelengthNm).toEqual([400, 500, 600]);
  });

  it('averages doubles, sorts what is jumbled, and says so', () => {
    const { wavelengthNm, values, warnings } = read('nm,%R\n500,2\n400,1\n500,4\n600,3\n550,3\n');
    expect(wavelengthNm).toEqual([400, 500, 550, 600]);
    expect(values).toEqual([0.01, 0.03, 0.03, 0.03]);
    expect(warnings).toEqual([
      'The spectral axis goes back and forth; its points were sorted.',
      'One wavelength stands in the file more than once, with values up to 2 % apart; their mean was taken.',
    ]);
  });

  it('never leaves out a line without saying so', () => {
    const { values, warnings } = read('nm,%R\n400,1\n450,---\n500,2\nlamp at 90 %\n600,3\n700,4\n');
    expect(values).toEqual([0.01, 0.02, 0.03, 0.04]);
    expect(warnings).toEqual(['2 lines were left out, because they have no pair of numbers: 3, 5.']);
    const noAxis = read('nm,R,T\n400,1,2\n,2,3\n500,3,4\n', { column: 'R', scale: 'percent' });
    expect(noAxis).toMatchObject({ wavelengthNm: [400, 500], values: [0.01, 0.03] });
    expect(noAxis.warnings[0]).toBe('Line 3 was left out: it has no pair of numbers.');
    const gaps = 'nm,R,T\n400,1,2\nlamp changed\n450,,3\n500,2,4\n600,3,5\n';
    expect(read(gaps, { column: 'R' }).warnings[0]).toBe(
      '2 lines were left out, because they have no pair of numbers: 3, 4.',
    );
    expect(read(gaps.replace('lamp changed\n', ''), { column: 'R' }).warnings[0]).toBe(
      'Line 3 was left out: it has no pair of numbers.',
    );
  });

  it('lists lines that are left out, five at most, and text after the numbers', () => {
    const among = (strays: number) =>
      read(`nm,%R\n400,1\n${'lamp\n'.repeat(strays)}${[1, 2, 3, 4, 5].map((i) => `${400 + i},1\n`).join('')}`)
        .warnings[0];
    expect(among(5)).toMatch(/: 3, 4, 5, 6, 7\.$/);
    expect(among(6)).toMatch(/^6 lines .*: 3, 4, 5, 6, 7, \.\.\.\.$/);
    const few = (strays: number) => read(`nm,%R\n400,1\n${'lamp\n'.repeat(strays)}500,2\n`);
    expect(few(2).values).toHaveLength(2);
    expect(() => few(3)).toThrow(startingWith('3 of 5 lines are no row of numbers; line 3 is the first'));
    const closing = (text: string) => read(`nm,%R\n400,1\n500,2\n${text}`).warnings;
    expect(closing('lamp off\n')).toEqual(['One line of text after the numbers: not read.']);
    expect(closing('lamp off\nMK\n')).toEqual(['2 lines of text after the numbers: not read.']);
  });

  it('keeps values that stray beyond 0 or 100 % by noise, and says so', () => {
    const { values, warnings } = read('nm,%T\n400,100.5\n500,99\n');
    expect(values[0]).toBeCloseTo(1.005, 12);
    expect(warnings).toEqual([expect.stringMatching(/^T is 100\.5 % at 400 nm, above 100 % by noise/)]);
  });

  it('reads thousands of rows, but not half a million', () => {
    expect(() => read('\n'.repeat(500_000))).toThrow('the file has 500001 lines, more than 500000');
    const rows = Array.from({ length: 2000 }, (_, i) => `${400 + i / 20};${(i % 7) / 10}`).join('\n');
    expect(read(`nm;%R\n${rows}`).values.length).toBe(2000);
  });

  it.each([
    ['', 'the text has no two lines', ''],
    [
      'Dear lab, here is the spectrum you asked for.\nRegards\n',
      'the text has no two lines with a wavelength and a value; it begins with "Dear lab',
      '',
    ],
    [
      'nm;%R\n400,5;\n500,5;\n',
      '2 lines hold a number and no value beside it, the first being line 2, "400,5;"; the column of values is empty or was not exported',
      '',
    ],
    [
      'nm,%R\n400, \n500, \n',
      '2 lines hold a number and no value beside it, the first being line 2, "400,";',
      '',
    ],
    ['\n \n', 'the file is empty', ''],
    [
      ` ${'word '.repeat(20)}`,
      `the text has no two lines with a wavelength and a value; it begins with "${'word '.repeat(10)}"`,
      '',
    ],
    ['nm,%R\n400,\n', 'the text has no two lines with a wavelength', ''],
    [
      'nm,R,T\n400,,0.1\n500,,0.2\n600,,0.3\n',
      'column: column 2 "R" has no numbers; choose another column',
      'R',
    ],
    ['nm,R,T\n400,1,2\n500,,3\n600,,4\n', 'column: column 2 "R" has one number only', 'R'],
    ['nm;cm-1\n400;25000\n500;20000\n', 'beside the spectral axis there is no column with numbers in it', ''],
    ['400 1\n500 2\n', 'column: there is no column "R"; the file has column 1, column 2', 'R'],
    ['nm,%R\n400,1\n500,143\n', 'R is 143 % at 500 nm, above 100 %; check the reference and the scale', ''],
    ['nm,%R\n400,1\n500,-7\n', 'R is -7 % at 500 nm, below 0 %; check the reference', ''],
    ['nm,%R\n-400,1\n500,7\n', '-400 is not above 0 on the spectral axis (read as nm)', ''],
    ['nm,%R\n400,1\n400,2\n', 'the spectrum has one wavelength only', ''],
  ])('is refused with what was found: %j', (text, fault, column) => {
    expect(() => read(text === '' ? 'only words' : text, column === '' ? {} : { column })).toThrow(
      startingWith(fault),
    );
  });
});
