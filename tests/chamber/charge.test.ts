import { describe, expect, it } from 'vitest';
import { chargeMassG, massForThicknessG, thicknessOfMassNm } from '../../src/chamber/charge.ts';
import { arrivalOnFixedPlane, arrivalOnRotatingPlane, arrivalPerMm2 } from '../../src/chamber/emission.ts';

// L. Holland & W. Steckelmacher, Vacuum 2 (1952) 346-364; formulas from memory of the classical treatment,
// the figures computed outside this program.
describe('arrival on a plane', () => {
  it.each([
    [0.25, [0.88581315, 0.85936498, 0.83370649]],
    [0.5, [0.64, 0.5724334, 0.512]],
    [1, [0.25, 0.1767767, 0.125]],
  ])('at %d heights aside is (1 + x^2)^-(n+3)/2 of that on the axis', (aside, values) => {
    values.forEach((value, index) => {
      const relative =
        arrivalOnFixedPlane(index + 1, 400, 400 * aside) / arrivalOnFixedPlane(index + 1, 400, 0);
      expect(relative).toBeCloseTo(value, 7);
    });
  });

  it('that turns is m h^2/(pi rho) A/(A^2 - B^2)^1.5 for a small flat source', () => {
    for (const [h, offset, point] of [
      [500, 200, 130],
      [300, 290, 300],
      [50, 400, 400],
      [1, 1000, 1000],
    ] as const) {
      const a = h * h + point * point + offset * offset;
      const b = 2 * point * offset;
      const difference = h * h + (point - offset) ** 2;
      const closed = (h * h * a) / Math.PI / (difference * (a + b)) ** 1.5;
      expect(arrivalOnRotatingPlane(1, h, offset, point) / closed).toBeCloseTo(1, 11);
    }
  });

  it('is nothing behind the source and on a back, even of a source that sends alike in all directions', () => {
    expect(arrivalPerMm2(0, 0.5, 0.5, 100)).toBeCloseTo(0.5 / (2 * Math.PI * 1e4), 12);
    for (const [emission, incidence] of [
      [0, 0.5],
      [-0.5, 0.5],
      [0.5, -0.5],
      [-0.5, -0.5],
    ] as const)
      for (const exponent of [0, 1, 2]) expect(arrivalPerMm2(exponent, emission, incidence, 100)).toBe(0);
  });

  it.each([
    [0.5, 0.4, [0.89133142, 0.88845024, 0.89392627]],
    [0.5, 0.8, [0.58818462, 0.54586357, 0.51637723]],
    [0.7, 0.6, [0.91713609, 0.95986988, 1.02642244]],
    [0.8, 0.8, [0.91295116, 0.99182736, 1.1100176]],
  ])('that turns with the source at %d heights aside, at %d', (offset, aside, values) => {
    values.forEach((value, index) => {
      const n = index + 1;
      const relative = arrivalOnRotatingPlane(n, 1, offset, aside) / arrivalOnRotatingPlane(n, 1, offset, 0);
      expect(relative).toBeCloseTo(value, 7);
    });
  });
});

describe('the charge', () => {
  const silica = { densityGPerCm3: 2.2, thicknessNm: 578.7452, exponent: 1, heightMm: 500 };

  it('of 1 g gives 578.7452 nm of density 2.2 on the axis 50 cm above a small flat source', () => {
    expect(chargeMassG(silica)).toBeCloseTo(1, 6);
  });

  it('grows with thickness and density in proportion', () => {
    expect(chargeMassG({ ...silica, thicknessNm: 100, densityGPerCm3: 4.4 })).toBeCloseTo(
      (2 * 100) / 578.7452,
      6,
    );
  });

  it('with no offset from the axis is that of the plane at rest', () => {
    const aside = { ...silica, pointRadiusMm: 120 };
    expect(chargeMassG({ ...aside, offsetMm: 0 })).toBeCloseTo(chargeMassG(aside), 12);
  });

  it('over a turning plane is that of the plane’s closed form, more than over one at rest', () => {
    const turning = { ...silica, pointRadiusMm: 130, offsetMm: 200 };
    const [a, b] = [500 ** 2 + 130 ** 2 + 200 ** 2, 2 * 130 * 200];
    const perMm2 = (500 ** 2 * a) / Math.PI / (a * a - b * b) ** 1.5;
    expect(chargeMassG(turning) / ((2.2e-3 * 578.7452e-6) / perMm2)).toBeCloseTo(1, 11);
  });

  it('read backwards is the thickness', () => {
    const perMm2 = arrivalOnRotatingPlane(2, 500, 200, 100);
    expect(thicknessOfMassNm(4, massForThicknessG(4, 321, perMm2), perMm2)).toBeCloseTo(321, 9);
  });

  it('is refused for a density of 0, a negative height, and where nothing arrives', () => {
    expect(() => chargeMassG({ ...silica, densityGPerCm3: 0 })).toThrow(
      'densityGPerCm3: 0 g/cm3 is not above 0',
    );
    expect(() => chargeMassG({ ...silica, heightMm: -5 })).toThrow('heightMm: -5 mm is below 1 mm');
    expect(() => massForThicknessG(2, 100, 0)).toThrow('perMassPerMm2: 0 per mm2 is not above 0');
  });
});
