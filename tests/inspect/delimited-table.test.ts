import { describe, expect, it } from 'vitest';
import { findTable } from '../../src/inspect/delimited-table.ts';
import { startingWith } from '../support/refusals.ts';

const cellsOf = (text: string) => findTable(text).rows.map(({ cells }) => cells);

describe('the table of numbers in a text', () => {
  it('is taken as most of its lines have it, with fewest cells left over', () => {
    expect(findTable('lens 4\t400\t1\nlens 4\t500\t2\n').dialect.delimiter).toBe('tab');
    expect(cellsOf('1,2;3,4\n5,6;7,8\n')).toEqual([
      [1.2, 3.4],
      [5.6, 7.8],
    ]);
    expect(cellsOf('400\t1 2\t3\n500\t4 5\t6\n')).toEqual([
      [400, 1, 2, 3],
      [500, 4, 5, 6],
    ]);
    expect(findTable('400 1\n500 2\n600 3\n1,2\n3,4\n').dialect.delimiter).toBe('spaces');
    expect(findTable('1,2 3,4\n1,2 3,4\n1,2\n').dialect.delimiter).toBe('comma');
  });

  it('has thousands in one piece that are parted by blanks, as the SI has them (SI Brochure, 9th edition, 5.4.4)', () => {
    for (const blank of [' ', '\u00a0', '\u202f']) {
      const text = `1${blank}064,5\t0,25\n1${blank}065,5\t0,30\n`;
      expect(findTable(text).dialect).toEqual({ delimiter: 'tab', decimalMark: ',' });
      expect(cellsOf(text)).toEqual([
        [1064.5, 0.25],
        [1065.5, 0.3],
      ]);
    }
  });

  it.each([
    ['400,1\n500,2\n600,3,9\n', 2],
    ['400,1,9\n500,2\n600,3\n', 2],
    ['400,1,9\n500,2,8\n600,3\n', 3],
    ['400,1\n500,2,9\n', 2],
    ['400,1,,\n500,2,,\n', 2],
    ['400,,1\n500,2,\n600,,3\n', 3],
  ])('has as many columns as most of its rows, empty ones at the end not counted: %j', (text, count) => {
    const { headings, rows } = findTable(text);
    expect(headings).toHaveLength(count);
    for (const { cells } of rows) expect(cells).toHaveLength(count);
  });

  it.each([
    ['# lot 7\n#nm;%R\n', ['nm', '%R']],
    ['## nm ; %R\n', ['nm', '%R']],
    ['//  nm;%R\n', ['nm', '%R']],
    ['!nm;%R\n', ['nm', '%R']],
    ['% nm;R\n', ['nm', 'R']],
    ['  * nm;%R\n', ['nm', '%R']],
    ['# "nm; in air";%R\n', ['nm; in air', '%R']],
    ['nm;%R;remark\n', ['nm', '%R']],
    ['nm;%R\n  \n', ['nm', '%R']],
    ['Wavelength;Reflectance\nangstrom;%\n', ['Wavelength angstrom', 'Reflectance %']],
    ['Wavelength;\nnm;%\n', ['Wavelength nm', '%']],
    ['Lens;4\nnm;Reflected\n', ['nm', 'Reflected']],
    ['Lens;a;b\nnm;%R\n', ['nm', '%R']],
    ['Lens 4\n', ['', '']],
    ['', ['', '']],
  ])('has its headings from the lines above it: %j', (above, headings) => {
    const table = findTable(`${above}400;1\n500;2\n`);
    expect(table.headings).toEqual(headings);
    expect(table.preamble).toEqual(above.split('\n').filter((line) => line.trim() !== ''));
  });

  it('keeps a quoted cell in one piece, whatever stands in it', () => {
    expect(cellsOf('"1,064.5","0.25"\n"1,065.5","0.5"\n')).toEqual([
      [1064.5, 0.25],
      [1065.5, 0.5],
    ]);
    expect(findTable('"Lens 4, 5, 6"|"%R; side ""A"""\n400,5|1,5\n500,5|2,5\n').headings).toEqual([
      'Lens 4, 5, 6',
      '%R; side "A"',
    ]);
    expect(cellsOf('"400";1,25;"1,5"\n"500";1,5;"2,5"\n')).toEqual([
      [400, 1.25, 1.5],
      [500, 1.5, 2.5],
    ]);
  });

  it('tells each line among its rows that is none, but no empty one and no remark', () => {
    const { rows, strayLines } = findTable(
      '400;1\n450;---\n   \n\n#end of part\n// one\n500;2\nlamp\n  %\n600;3',
    );
    expect(rows.map(({ line }) => line)).toEqual([1, 7, 10]);
    expect(strayLines).toEqual([2, 8]);
  });

  it('may be indented', () => {
    expect(cellsOf('  400   1\n\t500   2\n')).toEqual([
      [400, 1],
      [500, 2],
    ]);
  });

  it.each([
    ['\n'.repeat(499_999), 'the file is empty'],
    ['\n'.repeat(500_000), 'the file has 500001 lines, more than 500000'],
    [
      'nm;%R\n400; \n500; \n',
      '2 lines hold a number and no value beside it, the first being line 2, "400;"; the column of values is empty or was not exported: export wavelength and value side by side',
    ],
    [
      `nm;%R\n400;${' '.repeat(60)};\n 500;${' '.repeat(60)};\n`,
      `2 lines hold a number and no value beside it, the first being line 2, "400;${' '.repeat(46)}";`,
    ],
  ])('is missed where there is none (%#)', (text, fault) => {
    expect(() => findTable(text)).toThrow(startingWith(fault));
  });
});
