import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { fieldNote } from '../../src/app/fields/field-note.ts';
import { type Path, pathText, putAt, valueAt } from '../../src/app/fields/path.ts';
import { readBatch } from '../../src/batch/read-batch.ts';

const demo = readBatch(readFileSync(new URL('../../demo/eyepiece-field-lens.json', import.meta.url), 'utf8'));

function leaves(value: unknown, path: Path = []): Path[] {
  if (typeof value !== 'object' || value === null) return [path];
  return Object.entries(value).flatMap(([key, inner]) =>
    leaves(inner, [...path, Array.isArray(value) ? Number(key) : key]),
  );
}

describe('a note on a field', () => {
  it('has unit and limits as the schema has them', () => {
    expect(fieldNote(['order', 'lens', 'diameterMm'])).toMatchObject({
      unit: 'mm',
      limits: { min: 1, max: 1000 },
    });
    expect(fieldNote(['surfaces', 'front', 'requirements', 0, 'bandNm', 1])).toMatchObject({ unit: 'nm' });
    expect(fieldNote(['surfaces', 'back', 'layers', 0, 'thicknessNm'])).toMatchObject({ unit: 'nm' });
    expect(fieldNote(['process', 'materials', 'mgf2', 'rateNmPerS'])).toMatchObject({ unit: 'nm/s' });
    expect(fieldNote(['chamber', 'startPa'])).toMatchObject({ unit: 'Pa' });
  });

  it('is found for every field of a batch', () => {
    const paths = leaves({ ...demo, materials: [], runs: [] }).filter((path) => path.length > 0);
    expect(paths.length).toBeGreaterThan(60);
    const lost = paths.filter((path) => {
      try {
        fieldNote(path);
        return false;
      } catch {
        return true;
      }
    });
    expect(lost.map(pathText)).toEqual([]);
  });

  it('fails for a field that does not exist', () => {
    expect(() => fieldNote(['order', 'colour'])).toThrow('the batch has no field order.colour');
  });
});

describe('a path', () => {
  it('is written as errors write it', () => {
    expect(pathText(['surfaces', 'front', 'layers', 2, 'thicknessNm'])).toBe(
      'surfaces.front.layers[2].thicknessNm',
    );
  });

  it('finds values, puts them, makes holders on the way and takes fields away', () => {
    const draft: Record<string, unknown> = { a: [{ b: 1 }] };
    putAt(draft, ['a', 0, 'b'], 2);
    putAt(draft, ['c', 'd'], 'x');
    expect(valueAt(draft, ['a', 0, 'b'])).toBe(2);
    expect(valueAt(draft, ['c', 'd'])).toBe('x');
    expect(valueAt(draft, ['c', 'd', 'e', 'f'])).toBeUndefined();
    putAt(draft, ['c', 'd'], undefined);
    expect(draft.c).toEqual({});
  });
});
