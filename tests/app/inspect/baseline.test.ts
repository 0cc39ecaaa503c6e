import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { rereadSpectrum } from '../../../src/app/stations/inspect/reread-spectrum.ts';
import type { MeasuredSpectrum } from '../../../src/batch/document.ts';
import { readBatch } from '../../../src/batch/read-batch.ts';
import { readSpectrum } from '../../../src/inspect/read-spectrum.ts';

const line = (name: string, values: number[], wavelengthNm = [400, 500, 600]) => ({
  name,
  wavelengthNm,
  values,
});

describe('a spectrum put on a baseline', () => {
  const batch = readBatch(
    readFileSync(new URL('../../../demo/eyepiece-field-lens.json', import.meta.url), 'utf8'),
  );
  const spectrum: MeasuredSpectrum = {
    ...{
      id: 'a',
      name: 'a',
      side: 'front',
      quantity: 'R',
      incidenceDeg: 0,
      wavelengthNm: [400],
      values: [0],
    },
    original: 'nm;R %\n400;1,0\n587,6;2,0\n700;3,0',
  };

  it('takes one bare surface of the glass as reference: 4.217 % at the yellow helium line', () => {
    // Glass 517642 has nd = 1.5168 by its six-digit code: ((n − 1) / (n + 1))² = 0.04217 (Fresnel).
    const full = line('bare.csv', [1, 1, 1], [400, 500, 700]);
    const { values } = rereadSpectrum(batch, spectrum, { baseline: { full, bareReference: true } });
    expect(values[1]! / 0.02).toBeCloseTo(0.04217, 4);
    expect(() =>
      rereadSpectrum(batch, spectrum, { quantity: 'T', baseline: { bareReference: true } }),
    ).toThrow('a bare surface is the reference of a reflectance only');
  });

  it('is put on it before the back is taken off and before it is smoothed', () => {
    const { values } = rereadSpectrum(batch, spectrum, { baseline: { referencePercent: 50 } });
    expect([...values]).toEqual([0.005, 0.01, 0.015]);
    const both = rereadSpectrum(batch, spectrum, {
      baseline: { referencePercent: 50 },
      bareBackRemoved: true,
    });
    const half = { ...spectrum, original: 'nm;R %\n400;0,5\n587,6;1,0\n700;1,5' };
    expect([...both.values]).toEqual([...rereadSpectrum(batch, half, { bareBackRemoved: true }).values]);
  });

  it('has a line that names no scale on the scale of its own', () => {
    expect([...readSpectrum('400 0.05\n500 0.06', { usualScale: 'percent' }).values]).toEqual([
      0.0005, 0.0006,
    ]);
    expect(readSpectrum('400 0.05\n500 0.06', { usualScale: 'percent' }).warnings.join()).not.toContain(
      'no scale',
    );
    expect([...readSpectrum('nm;R\n400;0.05\n500;0.06').values]).toEqual([0.05, 0.06]);
  });
});
