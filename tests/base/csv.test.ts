import { describe, expect, it } from 'vitest';
import { csvText } from '../../src/base/csv.ts';

describe('a table', () => {
  it('keeps its texts apart and disarms formulas, but leaves negative numbers alone', () => {
    expect(
      csvText(
        ['name', 'x'],
        [
          ['a, "b"', -1.5],
          ['=1+1', 2],
          [' blank', true],
          ['', 0],
        ],
      ),
    ).toBe('name,x\r\n"a, ""b""",-1.5\r\n"\'=1+1",2\r\n" blank",true\r\n,0\r\n');
  });

  // The first characters that OWASP's page "CSV Injection" names, and formulas that go on in a second line.
  it.each([
    '=1+1',
    '+1',
    '-1+1',
    '@SUM(A1)',
    '\t=1',
    '\r=1',
    '\n=1',
    ' =1',
    '\uFF1D1',
    '=HYPERLINK("x")\nsecond',
  ])('disarms %j, in the heading too', (text) => {
    const quoted = `"'${text.replaceAll('"', '""')}"`;
    expect(csvText([text], [[text]])).toBe(`${quoted}\r\n${quoted}\r\n`);
  });

  // OWASP, same page: "field separator (e.g., ',' or ';')"; a spreadsheet that parts at semicolons sees no quote inside a cell.
  it.each([
    ['lot 1;=1+1', "lot 1;'=1+1"],
    ['lot 1;"=1+1"; @A1', `lot 1;'""=1+1"";' @A1`],
    ['lot 1\n=1+1', "lot 1\n'=1+1"],
    ['lot 1\t-1+1', "lot 1\t'-1+1"],
  ])('disarms a formula behind what other spreadsheets part cells at: %j', (text, disarmed) => {
    expect(csvText(['name'], [[text]])).toBe(`name\r\n"${disarmed}"\r\n`);
  });
});
