import { expect, it } from 'vitest';
import { csvText } from '../../src/base/csv.ts';

it('a table keeps its texts apart and disarms formulas, but leaves negative numbers alone', () => {
  expect(
    csvText(
      ['name', 'x'],
      [
        ['a, "b"', -1.5],
        ['=1+1', 2],
      ],
    ),
  ).toBe('name,x\r\n"a, ""b""",-1.5\r\n"\'=1+1",2\r\n');
});
