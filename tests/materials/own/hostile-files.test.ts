import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { importDatasetYaml } from '../../../src/materials/own/import-dataset.ts';
import { importIndexTable } from '../../../src/materials/own/import-table.ts';
import { importMaterialJson } from '../../../src/materials/own/own-material.ts';

const naming = { id: 'ours', name: 'Ours', role: 'film' } as const;

/** Pieces that files of all three kinds are made of, in any order. */
const pieces = fc.constantFrom(
  ...[
    'nm',
    'n',
    'k',
    'wl',
    '400',
    '0.5',
    '1,5',
    '-1',
    '1e999',
    'NaN',
    '\t',
    ';',
    ',',
    ' ',
    '|',
    '"',
    '\n',
    '\r',
  ],
  ...[
    'DATA:',
    '- type: ',
    'tabulated nk',
    'formula 2',
    'data: |',
    'coefficients: ',
    '&a',
    '*a',
    '!!map',
    '? ',
    '{',
    '}',
    '[',
    ']',
  ],
  ...[
    '__proto__',
    'constructor',
    'null',
    '\0',
    '\uFEFF',
    '\uD800',
    '"id":',
    '"dispersion":',
    '"form":"expression"',
  ],
);
const file = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 300 }),
  fc.array(pieces, { maxLength: 80 }).map((parts) => parts.join('')),
);

describe('any file at all', () => {
  it.each([
    ['JSON', (content: string) => importMaterialJson(content)],
    ['table', (content: string) => importIndexTable(content, naming)],
    ['YAML', (content: string) => importDatasetYaml(content, naming)],
  ])('read as %s gives a sound material or a sentence', async (_, read) => {
    await fc.assert(
      fc.asyncProperty(file, async (content) => {
        const result = await read(content);
        if ('fault' in result) {
          expect(result.fault).toMatch(/\w/);
          expect(result.fault.length).toBeLessThan(500);
        } else expect(result.material.rangeNm[0]).toBeGreaterThan(0);
      }),
      { numRuns: 300 },
    );
  });
});
