import { describe, expect, it } from 'vitest';
import { quarterWaveNm } from '../../src/design/closed-forms/quarter-wave.ts';
import { constantIndex } from '../../src/design/coated-surface.ts';
import { evaluateRequirements } from '../../src/design/evaluate.ts';
import { evaluateAlongLens, evaluateInCone, evaluateOverAngle } from '../../src/design/off-axis.ts';
import { reflectance } from './support/yardstick.ts';

const surface = {
  incident: constantIndex(1),
  layers: [{ index: constantIndex(1.38), thicknessNm: quarterWaveNm(1.38, 550) }],
  substrate: constantIndex(1.52),
};
const mean = reflectance({ limit: 2, bandNm: [450, 650] });
const direct = (incidenceDeg: number[], factor = 1) =>
  evaluateRequirements([{ ...mean, incidenceDeg }], {
    ...surface,
    layers: surface.layers.map((layer) => ({ ...layer, thicknessNm: layer.thicknessNm * factor })),
  })[0]!;

describe('evaluateOverAngle', () => {
  it('gives at each angle what the requirement would be there', () => {
    const angles = [0, 20, 45, 70];
    evaluateOverAngle([mean], surface, angles).forEach(({ incidenceDeg, results }) => {
      expect(results[0]).toEqual(direct([incidenceDeg]));
    });
  });

  it('refuses grazing light', () => {
    expect(() => evaluateOverAngle([mean], surface, [0, 90])).toThrow(
      'incidenceDeg[1]: 90 ° is not below 90 °',
    );
  });
});

describe('evaluateInCone', () => {
  it('is the plain value for a cone of no width', () => {
    expect(evaluateInCone([mean], surface, 0)[0]).toEqual(direct([0]));
  });

  it('lies between the values on the axis and at the cone’s edge, nearer the edge', () => {
    const cone = evaluateInCone([mean], surface, 40)[0]!.value;
    const [axis, edge] = [direct([0]).value, direct([40]).value];
    expect(cone).toBeGreaterThan(axis);
    expect(cone).toBeLessThan(edge);
  });

  it('is the average over solid angle: the sum over narrow rings weighed by their sine', () => {
    let sum = 0;
    let weights = 0;
    for (let deg = 0.125; deg < 30; deg += 0.25) {
      const weight = Math.sin((deg * Math.PI) / 180);
      sum += weight * direct([deg]).value;
      weights += weight;
    }
    // The midpoint rule on 120 rings is good to about 1e-5 of the change over the cone.
    expect(evaluateInCone([mean], surface, 30)[0]!.value).toBeCloseTo(sum / weights, 4);
  });

  it('refuses a cone that reaches the horizon', () => {
    expect(() => evaluateInCone([{ ...mean, incidenceDeg: [60] }], surface, 30)).toThrow(
      'coneHalfAngleDeg: the cone around 60° of requirements[0] reaches 90°, which is not below 90°',
    );
  });
});

describe('evaluateAlongLens', () => {
  const face = { radiusOfCurvatureMm: 20, pointsMm: [0, 10, 15] };

  it('has the plain value at the vertex', () => {
    const [vertex] = evaluateAlongLens([mean], surface, face);
    expect(vertex!.slopeDeg).toBe(0);
    expect(vertex!.results[0]!.value).toBeCloseTo(direct([0]).value, 12);
  });

  it('thins the film by the cosine of the slope and lets light arrive at the slope', () => {
    const [, half] = evaluateAlongLens([mean], surface, face);
    expect(half!.slopeDeg).toBeCloseTo(30, 10);
    expect(half!.relativeThickness).toBeCloseTo(Math.cos(Math.PI / 6), 12);
    expect(half!.results[0]!.value).toBeCloseTo(direct([30], Math.cos(Math.PI / 6)).value, 10);
  });

  it('takes thicknesses as measured or computed where they are given', () => {
    const relativeThickness = [1, 0.95, 0.9];
    const [, half] = evaluateAlongLens([mean], surface, { ...face, relativeThickness });
    expect(half!.results[0]!.value).toBeCloseTo(direct([30], 0.95).value, 10);
  });

  it('requires both ways in which a slanting ray can meet the slope', () => {
    const [, half] = evaluateAlongLens([{ ...mean, incidenceDeg: [20] }], surface, face);
    expect(half!.results[0]!.worstIncidenceDeg).toBeCloseTo(50, 8);
  });

  it('refuses a point beyond the sphere', () => {
    expect(() => evaluateAlongLens([mean], surface, { ...face, pointsMm: [25] })).toThrow(
      'points[0]: 25 mm is not below 20 mm',
    );
  });
});
