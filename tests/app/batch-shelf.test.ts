import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readWithLibrary } from '../../src/app/storage/batch-shelf.ts';
import { resolveIndex } from '../../src/materials/index-spec.ts';

const demo = readFileSync(new URL('../../demo/eyepiece-field-lens.json', import.meta.url), 'utf8');

function withMaterial(n: string): string {
  const material = {
    id: 'own-film',
    name: 'Own film',
    role: 'film',
    kind: 'film',
    rangeNm: [400, 800],
    dispersion: { form: 'expression', n },
    source: { cites: 'invented for this test', provenance: 'invented' },
  };
  return JSON.stringify({ ...JSON.parse(demo), materials: [material] });
}

describe('a batch that is read', () => {
  it('has its carried expression ready to be computed', async () => {
    const { materials } = await readWithLibrary(withMaterial('1.4 + 0.01 / um^2'));
    const { n } = resolveIndex('own-film', Float64Array.of(500), materials);
    expect(n[0]).toBeCloseTo(1.44, 12);
  });

  it('is refused where a carried expression gives no index, with the place', async () => {
    await expect(readWithLibrary(withMaterial('um - 0.6'))).rejects.toThrow(
      /^materials\[0\].*n must be finite/,
    );
    await expect(readWithLibrary(withMaterial('window.name'))).rejects.toThrow(/^materials\[0\]/);
  });
});
