import { describe, expect, it } from 'vitest';
import { findMaterial } from '../../../src/materials/library.ts';
import { materialCurves } from '../../../src/materials/material-curves.ts';
import { importDatasetYaml } from '../../../src/materials/own/import-dataset.ts';
import type { MaterialRecord } from '../../../src/materials/record.ts';

const naming = { id: 'ours', name: 'Ours', role: 'film' } as const;

async function accepted(content: string): Promise<{ material: MaterialRecord; warnings: readonly string[] }> {
  const result = await importDatasetYaml(content, naming);
  if ('fault' in result) throw new Error(result.fault);
  return result;
}

const formula = (number: number, coefficients: string, range = '0.4 1.6') =>
  `DATA:\n  - type: formula ${number}\n    wavelength_range: ${range}\n    coefficients: ${coefficients}\n`;

describe('a record of the open dataset', () => {
  it('gives the same glass as the library where it holds the same numbers', async () => {
    // coefficients of a borosilicate crown as the library's record of it cites them
    const { material, warnings } = await accepted(`
REFERENCES: "<a href='x'>A catalogue</a>&nbsp;of glass, 2017"
DATA:
  - type: formula 2
    wavelength_range: 0.3 2.5
    coefficients: 0 1.03961212 0.00600069867 0.231792344 0.0200179144 1.01046945 103.560653
  - type: tabulated k
    data: |
        0.300 2.8607E-06
        0.310 1.3679E-06
        2.500 8.13E-06
SPECS:
    n_is_absolute: false
    temperature: 20.0 °C
`);
    const library = findMaterial('517642');
    expect(library).toBeDefined();
    for (const nm of [365, 486.1327, 587.5618, 1064])
      expect(materialCurves(material).n(nm)).toBe(materialCurves(library!).n(nm));
    expect(material.rangeNm).toEqual([300, 2500]);
    expect(material.temperatureC).toBe(20);
    expect(material.relativeTo).toBe('air');
    expect(material.source.cites).toBe('A catalogue of glass, 2017');
    expect(materialCurves(material).k(310)).toBe(1.3679e-6);
    expect(warnings).toEqual([]);
  });

  // λ = 0.5 µm; each value is the published formula written out
  it.each([
    [1, '0.1 1.2 0.1', Math.sqrt(1.1 + (1.2 * 0.25) / (0.25 - 0.01))],
    [2, '0.1 1.2 0.01', Math.sqrt(1.1 + (1.2 * 0.25) / (0.25 - 0.01))],
    [3, '2.2 0.01 -2', Math.sqrt(2.2 + 0.01 / 0.25)],
    [4, '2 0.5 2 0.1 2 0 0 0 0 -0.01 2', Math.sqrt(2 + (0.5 * 0.25) / (0.25 - 0.01) - 0.0025)],
    [4, '2 0.5 0 0.1 1', Math.sqrt(2 + 0.5 / (0.25 - 0.1))],
    [5, '1.4 0.004 -2 0.0001 -4', 1.4 + 0.004 / 0.25 + 0.0001 / 0.0625],
    [
      6,
      '0 0.05792105 238.0185 0.00167917 57.362',
      1 + 0.05792105 / (238.0185 - 4) + 0.00167917 / (57.362 - 4),
    ],
    [7, '1.4 0.01 0.001 -0.02', 1.4 + 0.01 / 0.222 + 0.001 / 0.222 ** 2 - 0.02 * 0.25],
    [8, '0.45 0.09 0.1 -0.001', Math.sqrt((1 + 2 * 0.59975) / (1 - 0.59975))],
    [9, '2.4 0.02 0.01 0.001 0.3 0.02', Math.sqrt(2.4 + 0.02 / 0.24 + (0.001 * 0.2) / (0.04 + 0.02))],
  ])('computes formula %d with %s', async (number, coefficients, expected) => {
    const { material } = await accepted(formula(number, coefficients));
    expect(materialCurves(material).n(500)).toBeCloseTo(expected, 12);
  });

  it('reads n and k from one table, in falling order too, and kelvin', async () => {
    const { material } = await accepted(
      'DATA:\n  - type: tabulated nk\n    data: |\n        0.6 1.5 0.01\n        0.5 1.6 0.02\nCONDITIONS:\n  temperature: 293.15\n',
    );
    expect(material.dispersion).toMatchObject({ wavelengthNm: [500, 600], n: [1.6, 1.5], k: [0.02, 0.01] });
    expect(material.temperatureC).toBe(20);
  });

  it('leaves out what it does not know and says so', async () => {
    const { warnings } = await accepted(
      `${formula(5, '1.5')}  - type: tabulated n2\n    data: 0.5 1e-20\n  - type: formula 5\n    wavelength_range: 0.4 0.5\n    coefficients: 1.6\n`,
    );
    expect(warnings).toEqual([
      'A part of type "tabulated n2" was left out.',
      'The record holds more than one n; the first was taken.',
    ]);
  });

  it.each([
    ['', 'DATA: is missing or not a list'],
    ['just words', 'DATA: is missing or not a list'],
    ['DATA: 5', 'DATA: is missing or not a list'],
    ['DATA: []', 'DATA: is missing or not a list'],
    ['DATA: [1, 2', 'the file is not plain YAML'],
    ['DATA: 1\nDATA: 2', 'the file is not plain YAML: Map keys must be unique'],
    ['a: &a [1]\nb: *a', 'the file is not plain YAML: it uses aliases'],
    ['DATA: !!js/function "x"', 'the file is not plain YAML'],
    ['['.repeat(100_000), 'the file is not plain YAML'],
    [`"x" ${'y'.repeat(5000)}`, 'the file is not plain YAML: Unexpected scalar'],
    [formula(10, '1'), 'DATA: formula 10 is not one of formula 1 to formula 9'],
    [formula(2, '0 1.2'), 'DATA: 2 coefficients do not suit formula 2'],
    [formula(2, '0 x 0.1'), 'DATA[0].coefficients: "x" is not a number'],
    [formula(5, '-1'), 'the dispersion gives n = -1 at 400 nm; n must be finite and above 0'],
    [formula(5, '1.5', '0.7 0.4'), 'rangeNm: the range begins at 700 nm, above its end at 400 nm'],
    [formula(5, '1.5', '0.7'), 'DATA[0].wavelength_range: 1 numbers are not a range'],
    [formula(2, '0 1 0.25'), 'the dispersion gives n² ='],
    ['DATA:\n  - type: tabulated k\n    data: 0.5 0.1', 'DATA: holds no refractive index n'],
    ['DATA:\n  - type: tabulated n\n    data: "0.5"', 'DATA[0].data, row 1: 1 numbers stand where 2 belong'],
    ['DATA:\n  - type: tabulated n\n    data: 0.5 -1', 'dispersion.n[0]: -1 is not above 0'],
    ['DATA:\n  - type: tabulated n\n    data: |\n      0.5 1.5\n      0.5 1.6', '500 nm is not above 500 nm'],
    ['DATA:\n  - type: tabulated n', 'DATA[0].data: is missing or not a text of rows'],
    ['x'.repeat(4_000_001), 'the file has 4000001 characters, more than 4000000'],
  ])('file %# is refused with one sentence', async (content, sentence) => {
    const result = await importDatasetYaml(content, naming);
    const said = 'fault' in result ? result.fault : 'accepted';
    expect(said).toContain(sentence);
    expect(said.length).toBeLessThan(300);
  });
});
