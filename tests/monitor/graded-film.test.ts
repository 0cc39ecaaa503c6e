import { describe, expect, it } from 'vitest';
import { FINER_FOR_GROWTH, gradingProfile, layerProfile } from '../../src/materials/grading.ts';
import { LightWalk } from '../../src/monitor/light-walk.ts';
import { predictSignals } from '../../src/monitor/signal.ts';
import { slitLight } from '../../src/monitor/slit.ts';
import type { MonitoredLayer } from '../../src/monitor/witness.ts';
import { lightOfLayer } from '../../src/monitor/witness-light.ts';
import { integrateGraded } from '../optics/support/integrate-graded.ts';
import { constantIndex } from './constant-index.ts';
import { plainWitness as glass } from './plain-witness.ts';

const sight = { wavelengthNm: 550, signal: 'R' } as const;
const change = -0.1;
const profile = layerProfile(
  constantIndex(2.05),
  { indexChangePercent: -10 },
  260,
  550,
  'grading',
  FINER_FOR_GROWTH,
)!;
/** Invented: a graded film of two quarter waves on a plain one, another plain one on top. */
const layers: MonitoredLayer[] = [
  { material: constantIndex(1.62), thicknessNm: 84, ...sight },
  { material: constantIndex(2.05), thicknessNm: 260, profile, tooling: 1, ...sight },
  { material: constantIndex(1.38), thicknessNm: 99.6, ...sight },
];
const sloped = { index: [2.05, 0], change, thicknessNm: 260 } as const;
const under = { index: [1.62, 0], change: 0, thicknessNm: 84 } as const;

describe('a graded film on the witness', () => {
  it('ends, and bears the next film, at the level that the wave equation gives', () => {
    const signals = predictSignals(glass, layers);
    expect(signals[1]!.endLevel).toBeCloseTo(integrateGraded(1, [under, sloped], 1.52, 550, 0, 's').R, 7);
    expect(signals[2]!.startLevel).toBeCloseTo(signals[1]!.endLevel, 13);
    const top = { index: [1.38, 0], change: 0, thicknessNm: 99.6 } as const;
    expect(signals[2]!.endLevel).toBeCloseTo(
      integrateGraded(1, [under, sloped, top], 1.52, 550, 0, 's').R,
      7,
    );
  });

  it('turns where and as high as the wave equation says, half-grown', () => {
    // A film cut at a share of its growth has the same slope and the mean index of its inner part.
    const partly = (nm: number) => {
      const share = nm / 260;
      const mean = 2.05 * (1 + change * (share / 2 - 0.5));
      const own = { index: [mean, 0], change: (change * share * 2.05) / mean, thicknessNm: nm } as const;
      return integrateGraded(1, [under, own], 1.52, 550, 0, 's').R;
    };
    const [signal] = predictSignals(glass, layers).slice(1);
    expect(signal!.turningPoints.length).toBeGreaterThanOrEqual(3);
    for (const { thicknessNm, level } of signal!.turningPoints) {
      expect(partly(thicknessNm)).toBeCloseTo(level, 5);
      // The exact signal turns within 0.1 nm: it is lower, or higher, on both sides.
      const [left, here, right] = [-0.1, 0, 0.1].map((by) => partly(thicknessNm + by));
      expect(Math.sign(left! - here!)).toBe(Math.sign(right! - here!));
    }
  });

  it('swings otherwise than a film of its mean index', () => {
    const plain = layers.map(({ profile: _, ...layer }) => layer);
    const [graded, flat] = [predictSignals(glass, layers)[1]!, predictSignals(glass, plain)[1]!];
    expect(Math.abs(graded.endLevel - flat.endLevel)).toBeGreaterThan(0.01);
  });

  it.each(['none', 'bare'] as const)('is walked through in small steps, spits included, back %s', (back) => {
    const witness = { ...glass, backSurface: back, incidenceRad: 0.3 };
    const absorbing = layers.map((layer, i) =>
      i === 1 ? { ...layer, material: constantIndex(2.05, 0.01), bandwidthNm: 5 } : layer,
    );
    const light = lightOfLayer(witness, absorbing, 1);
    const walk = new LightWalk(light);
    walk.begin([84]);
    expect(walk.advance(0)).toBeCloseTo(light.level(0), 13);
    const steps = Float64Array.from({ length: 2000 }, (_, i) =>
      i % 499 === 498 ? 30 : 0.08 * (1 + Math.sin(i)),
    );
    const levels = steps.slice();
    walk.take(levels, 1, levels.length, levels);
    let thicknessNm = 0;
    steps.forEach((step, i) => {
      thicknessNm += step;
      if (i % 50 === 49) expect(levels[i]).toBeCloseTo(light.level(thicknessNm), 11);
    });
    // Beyond the plan it goes on with its outermost index.
    expect(thicknessNm).toBeGreaterThan(270);
  });

  it('has the slope of its level', () => {
    const light = lightOfLayer(glass, layers, 1);
    light.begin([84]);
    for (const nm of [0, 3, 70.3, 129.9, 200, 265])
      expect(light.slope(nm + 1e-4)).toBeCloseTo((light.level(nm + 2e-4) - light.level(nm)) / 2e-4, 8);
  });

  it('is the plain film where its profile is level', () => {
    const level = layers.map((layer) => ({ ...layer, profile: gradingProfile(0, 4) }));
    const plain = layers.map(({ profile: _, ...layer }) => layer);
    const [one, other] = [predictSignals(glass, level, 11), predictSignals(glass, plain, 11)];
    one.forEach(({ trace, turningPoints }, i) => {
      trace.level.forEach((value, at) => {
        expect(value).toBeCloseTo(other[i]!.trace.level[at]!, 13);
      });
      expect(turningPoints).toHaveLength(other[i]!.turningPoints.length);
    });
  });

  it('is seen over a band as the mean of its wavelengths', () => {
    const banded = lightOfLayer(
      glass,
      layers.map((layer) => ({ ...layer, bandwidthNm: 20 })),
      1,
    );
    banded.begin([84]);
    const { wavelengthNm, weight } = slitLight(550, 20);
    for (const nm of [3, 130, 259, 300]) {
      let mean = 0;
      wavelengthNm.forEach((at, w) => {
        const single = lightOfLayer(
          glass,
          layers.map((layer) => ({ ...layer, wavelengthNm: at })),
          1,
        );
        single.begin([84]);
        mean += weight[w]! * single.level(nm);
      });
      expect(banded.level(nm)).toBeCloseTo(mean, 13);
    }
  });

  it('grows on the witness by its tooling', () => {
    const half = layers.map((layer) => ({ ...layer, tooling: 2, thicknessNm: layer.thicknessNm / 2 }));
    const [one, other] = [predictSignals(glass, half, 11), predictSignals(glass, layers, 11)];
    one.forEach(({ trace }, i) => {
      trace.level.forEach((value, at) => {
        expect(value).toBeCloseTo(other[i]!.trace.level[at]!, 13);
      });
    });
  });

  it('bends from its very start on', () => {
    const light = lightOfLayer(glass, layers, 1);
    light.begin([84]);
    const second = (light.level(0.2) - 2 * light.level(0.1) + light.level(0)) / 0.01;
    expect(light.bend(0) / second).toBeCloseTo(1, 2);
  });

  it('of no thickness changes nothing', () => {
    const none = { ...layers[1]!, thicknessNm: 0 };
    const [signal] = predictSignals(glass, [none], 3);
    expect(signal!.startLevel).toBeCloseTo((0.52 / 2.52) ** 2, 13);
    expect(signal!.startLevel).toBe(signal!.endLevel);
  });
});
