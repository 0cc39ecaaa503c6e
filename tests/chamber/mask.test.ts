import { describe, expect, it } from 'vitest';
import { evenOutMask, type MaskRequest, maskCsv, maskSvg } from '../../src/chamber/mask.ts';

const request: MaskRequest = {
  source: { offsetMm: 200, exponent: 2 },
  motion: { kind: 'rotating', heightMm: 500 },
  fromMm: 80,
  toMm: 320,
  gapMm: 30,
  points: 120,
};

/** The shield's edges where the ray from the source to a point of the surface crosses its height, between two radii. */
function hides(
  mask: ReturnType<typeof evenOutMask>,
  index: number,
  azimuth: number,
  middle: number,
): boolean {
  const turn = Math.atan2(Math.sin(azimuth - middle), Math.cos(azimuth - middle));
  return Math.abs(turn) < (mask.outline[index]!.halfAngleDeg * Math.PI) / 180;
}

describe('a static shield', () => {
  it('evens the film to a hundredth of a percent, by a plain sum over the azimuth', () => {
    const mask = evenOutMask(request);
    expect(mask.bareDeviationPercent).toBeGreaterThan(5);
    for (const index of [0, 17, 60, 119]) {
      const radius = mask.outline[index]!.radiusMm;
      const steps = 200_000;
      let sum = 0;
      for (let step = 0; step < steps; step++) {
        const azimuth = (2 * Math.PI * step) / steps;
        if (hides(mask, index, azimuth, Math.PI)) continue;
        const squared = 500 ** 2 + radius ** 2 + 200 ** 2 - 2 * radius * 200 * Math.cos(azimuth);
        sum += (3 * (500 / Math.sqrt(squared)) ** 3) / (2 * Math.PI * squared) / steps;
      }
      expect(sum / mask.perMassPerMm2).toBeCloseTo(1, 4);
    }
  });

  it('casts its edge along the ray from the source', () => {
    const { outline } = evenOutMask(request);
    for (const { radiusMm, halfAngleDeg, left } of outline) {
      const azimuth = Math.PI + (halfAngleDeg * Math.PI) / 180;
      // From the source (200, 0, 0) through the edge up to the surface at 500 mm.
      const stretch = 500 / left.zMm;
      expect(left.zMm).toBeCloseTo(470, 9);
      expect(200 + stretch * (left.xMm - 200)).toBeCloseTo(radiusMm * Math.cos(azimuth), 6);
      expect(stretch * left.yMm).toBeCloseTo(radiusMm * Math.sin(azimuth), 6);
    }
  });

  it('takes nothing at the thinnest place and works on a dome too', () => {
    const dome = evenOutMask({ ...request, motion: { kind: 'dome', radiusMm: 600, centreHeightMm: 0 } });
    expect(Math.min(...dome.outline.map((point) => point.takenPart))).toBe(0);
    expect(Math.max(...dome.outline.map((point) => point.takenPart))).toBeLessThan(0.9);
  });

  it('is exported as text and as a picture to scale', () => {
    const mask = evenOutMask(request);
    expect(maskCsv(mask).trimEnd().split('\r\n').length).toBe(241);
    expect(maskSvg(mask)).toMatch(/^<svg [^>]*width="[\d.]+mm"/);
  });

  it('cannot thin the axis', () => {
    expect(() => evenOutMask({ ...request, fromMm: 0 })).toThrow('fromMm: the film is thicker on the axis');
  });
});
