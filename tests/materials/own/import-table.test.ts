import { describe, expect, it } from 'vitest';
import { importIndexTable } from '../../../src/materials/own/import-table.ts';

const naming = { id: 'ours', name: 'Ours', role: 'film' } as const;

async function accepted(content: string) {
  const result = await importIndexTable(content, naming);
  if ('fault' in result) throw new Error(result.fault);
  return result;
}

const table = { wavelengthNm: [400, 500, 600], n: [1.55, 1.52, 1.51], k: [0.01, 0.002, 0] };

describe('a table of the index', () => {
  it.each([
    ['tabs', 'nm\tn\tk\n400\t1.55\t0.01\n500\t1.52\t0.002\n600\t1.51\t0\n'],
    ['decimal commas', 'nm;n;k\n400;1,55;0,01\n500;1,52;0,002\n600;1,51;0\n'],
    ['decimal commas and blanks', 'nm n k\n400 1,55 0,01\n500 1,52 0,002\n600 1,51 0\n'],
    ['commas', 'wavelength (nm),n,k\n400,1.55,0.01\n500,1.52,0.002\n600,1.51,0\n'],
    ['micrometres', 'λ/µm|n|k\n0.4|1.55|1e-2\n0.5|1.52|2e-3\n0.6|1.51|0\n'],
    ['ångströms', 'Wavelength [Å];n;k\n4000;1.55;.01\n5000;1.52;.002\n6000;1.51;0\n'],
    ['columns in another order', 'k;nm;n\n0,01;400;1,55\n0,002;500;1,52\n0;600;1,51\n'],
    ['falling order', 'nm n k\n600 1.51 0\n500 1.52 0.002\n400 1.55 0.01\n'],
    [
      'remarks and empty lines',
      '\uFEFF# made up for this test\r\nnm n k\r\n\r\n400 1.55 0.01\r\n500 1.52 0.002\r\n600 1.51 0\r\n\r\n',
    ],
    ['ragged blanks', '  nm   n    k\n 400  1.55  0.01\n 500  1.52   0.002\n 600\t1.51 0  \n'],
  ])('is read with %s', async (_, content) => {
    const { material, warnings } = await accepted(content);
    expect(material.dispersion).toEqual({ form: 'table', interpolation: 'monotone-cubic', ...table });
    expect(material.rangeNm).toEqual([400, 600]);
    expect(warnings).toEqual([]);
  });

  it('takes k from a block of its own below', async () => {
    const { material } = await accepted('wl,n\n0.4,1.55\n0.6,1.51\n\nwl,k\n0.45,0.01\n0.7,0\n');
    expect(material.dispersion).toMatchObject({ wavelengthNm: [400, 600], n: [1.55, 1.51] });
    expect(material.extinction).toMatchObject({ wavelengthNm: [450, 700], k: [0.01, 0] });
  });

  it('guesses the unit from the size where none is named, and says so', async () => {
    const { material, warnings } = await accepted('0.4 1.55\n0.6 1.51\n');
    expect(material.rangeNm).toEqual([400, 600]);
    expect(warnings).toEqual(['No unit is named; the wavelengths up to 0.6 are taken as µm.']);
  });

  it('leaves out exact repetitions', async () => {
    const { warnings } = await accepted('nm n\n400 1.55\n400 1.55\n600 1.51\n');
    expect(warnings).toEqual(['1 repeated rows were left out.']);
  });

  it.each([
    ['', 'the file has no rows of numbers with a wavelength and n'],
    ['nothing but words\nand more of them', 'the file has no rows of numbers'],
    ['\0\0\0\u0001PNG', 'the file has no rows of numbers'],
    ['nm n\n400 1.55\n400 1.56', '400 nm stands twice with different values'],
    ['nm n\n400 1.55\n500 abc\n600 1.5', 'line 3: "500 abc" is not a row of numbers'],
    ['nm n\n400 0', 'line 2: n is 0; it must be above 0'],
    ['nm n\n400 -1.5', 'line 2: n is -1.5; it must be above 0'],
    ['nm n k\n400 1.5 -0.1', 'line 2: k is -0.1; it must not be below 0'],
    ['nm n\n0 1.5', 'line 2: wavelength is 0; it must be above 0'],
    ['nm;n\n400;1e999', 'line 2: "1e999" is not a number for n'],
    ['eV n\n2.0 1.55\n3.0 1.5', 'the header "eV n" names no unit of wavelength; nm, µm or Å is needed'],
    ['wl,k\n400,0.1\n', 'the file has no rows of numbers with a wavelength and n'],
    ['nm n\n400 2000', 'dispersion.n[0]: 2000 is above 1000'],
    ['nm n\n1e9 1.5', 'rangeNm[0]: 1000000000 nm is above 1000000 nm'],
    [
      `nm n\n${Array.from({ length: 20_001 }, (_, i) => `${i + 1} 1.5`).join('\n')}`,
      'the table has 20001 rows, more than 20000',
    ],
  ])('file %# is refused with one sentence', async (content, sentence) => {
    const result = await importIndexTable(content, naming);
    expect('fault' in result ? result.fault : 'accepted').toContain(sentence);
  });
});
