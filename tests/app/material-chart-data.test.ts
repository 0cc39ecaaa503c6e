import { beforeAll, describe, expect, it } from 'vitest';
import {
  endMarkers,
  extinctionPicture,
  indexSeries,
  stretchOf,
} from '../../src/app/pages/materials/material-chart-data.ts';
import { allMaterials, findMaterial, loadWholeLibrary } from '../../src/materials/library.ts';
import type { MaterialRecord } from '../../src/materials/record.ts';

beforeAll(() => loadWholeLibrary());

function get(id: string): MaterialRecord {
  const record = findMaterial(id);
  if (record === undefined) throw new Error(`no ${id}`);
  return record;
}

describe('the charts of a material', () => {
  it('begin with the usual stretch, and with all data where those lie elsewhere', () => {
    expect(stretchOf([get('mgf2')], false)).toEqual([380, 1100]);
    expect(stretchOf([get('germanium')], false)).toEqual([2000, 14000]);
    expect(stretchOf([get('mgf2')], true)).toEqual(get('mgf2').rangeNm);
  });

  it.each([false, true])(
    'hold n of every material of the library, only where its data reach (whole: %s)',
    (isWhole) => {
      for (const record of allMaterials()) {
        const stretch = stretchOf([record], isWhole);
        const [series] = indexSeries([record], stretch);
        expect(series?.x[0], record.id).toBeGreaterThanOrEqual(record.rangeNm[0]);
        expect(series?.x[series.x.length - 1], record.id).toBeLessThanOrEqual(record.rangeNm[1]);
        for (const n of Array.from(series?.y ?? [])) expect(n, record.id).toBeGreaterThan(0);
      }
    },
  );

  it('leave a material out that has no data in the stretch, and mark where data end', () => {
    expect(indexSeries([get('germanium')], [400, 700])).toEqual([]);
    expect(endMarkers([get('sc2o3')], [380, 1100]).map(({ x }) => x)).toEqual([400, 750]);
  });

  it('draw k over decades on a logarithmic scale whose ends are powers of ten, without its zeros', () => {
    const { series, axis } = extinctionPicture([get('ta2o5')], [380, 1100]);
    expect(axis.log).toBe(true);
    expect(Math.abs(Math.log10(axis.min ?? 0) % 1)).toBe(0);
    const k = Array.from(series[0]?.y ?? []);
    expect(k.some(Number.isNaN)).toBe(true);
    expect(k.every((value) => Number.isNaN(value) || value >= 1e-8)).toBe(true);
  });

  it('draw k of a metal on a linear scale from 0', () => {
    const { axis, series, notes } = extinctionPicture([get('al')], [380, 1100]);
    expect(axis).toMatchObject({ min: 0 });
    expect(axis.log).toBeUndefined();
    expect(series).toHaveLength(1);
    expect(notes).toEqual([]);
  });

  it('say in words that nothing of k is seen instead of drawing nothing', () => {
    const { series, notes } = extinctionPicture([get('laf3-crystal'), get('mgf2')], [450, 640]);
    expect(series).toEqual([]);
    expect(notes).toHaveLength(2);
    for (const note of notes) expect(note).toMatch(/taken as 0|is 0|below 1e-8/);
  });
});
