import { describe, expect, it } from 'vitest';
import { chooseSights, type OpenLayer } from '../../src/monitor/choose-sight.ts';
import { NO_NOISE, type RunNoise } from '../../src/monitor/run-noise.ts';
import { setUpRuns } from '../../src/monitor/run-setup.ts';
import { runStatistics } from '../../src/monitor/run-statistics.ts';
import { simulateRuns } from '../../src/monitor/simulate-runs.ts';
import { constantIndex } from './constant-index.ts';

const witness = {
  incident: constantIndex(1),
  substrate: constantIndex(1.52),
  thicknessMm: 1,
  backSurface: 'none',
} as const;
const [high, low] = [constantIndex(2.1), constantIndex(1.38)];
const noise: RunNoise = {
  ...NO_NOISE,
  signalPercent: 0.05,
  crystalPercent: 2,
  gainPercent: 1,
  sampleS: 0.25,
};
const wavelengthNm = Array.from({ length: 16 }, (_, i) => 400 + 20 * i);
const everything = {
  wavelengthNm,
  signals: ['R'],
  rules: ['level', 'swing', 'turning-point', 'crystal'],
} as const;

const layers: OpenLayer[] = [
  { material: high, thicknessNm: 15, rateNmPerS: 0.4 },
  { material: low, thicknessNm: 35, rateNmPerS: 0.8 },
  { material: high, thicknessNm: 110, rateNmPerS: 0.4, newWitness: true },
  { material: low, thicknessNm: 95, rateNmPerS: 0.8 },
];

describe('the choice of wavelength and rule', () => {
  const chosen = chooseSights(witness, layers, noise, everything);

  it('says for each layer what was taken, how good it will be and why', () => {
    expect(chosen).toHaveLength(4);
    for (const { reason, expectedErrorNm, rule, wavelengthNm: nm } of chosen) {
      expect(reason).toMatch(/^[A-Z].*\.$/);
      expect(reason).toContain(rule === 'crystal' ? 'Crystal' : `${nm} nm`);
      expect(expectedErrorNm).toBeGreaterThan(0);
    }
  });

  it('never expects worse than the crystal that is at hand', () => {
    for (const [index, { expectedErrorNm }] of chosen.entries())
      expect(expectedErrorNm).toBeLessThanOrEqual(0.02 * layers[index]!.thicknessNm * (1 + 1e-12));
  });

  it('is borne out by virtual runs, within a factor of three a layer', () => {
    const setup = setUpRuns(
      witness,
      layers.map((layer, index) => ({ ...layer, ...chosen[index]! })),
      noise,
    );
    const { layers: found } = runStatistics(
      simulateRuns(setup, 2, 0, 200),
      layers.map((layer) => layer.thicknessNm),
    );
    for (const [index, { mean, sigma, missed }] of found.entries()) {
      expect(Math.hypot(mean, sigma)).toBeLessThan(3 * chosen[index]!.expectedErrorNm);
      expect(missed).toBeLessThan(0.02);
    }
  });

  it('takes the crystal where film and glass are alike', () => {
    const blind = [{ material: constantIndex(1.52), thicknessNm: 80, rateNmPerS: 0.5 }];
    expect(chooseSights(witness, blind, noise, everything)[0]!.rule).toBe('crystal');
  });

  it('takes the turning point for a quarter wave where no other rule is allowed, and says how late it will be', () => {
    const quarter = [{ material: high, thicknessNm: 500 / 4 / 2.1, rateNmPerS: 0.4 }];
    const [only] = chooseSights(witness, quarter, noise, { ...everything, rules: ['turning-point'] });
    expect(only!.wavelengthNm).toBe(500);
    expect(only!.reason).toContain('late');
  });

  // Of one film, R = (0.2704 cos² + 1.8939 sin²) / (6.3504 cos² + 7.9739 sin²) of its phase 2π · 2.1 d / 500 nm (Macleod,
  // Thin-Film Optical Filters: the characteristic matrix of one layer), between 4.26 and 23.75 %.
  it.each([
    [
      40,
      'level',
      'R',
      'Level at 500 nm in R: the cut lies 80 % up a swing of 19 %, with no turning point before it,',
    ],
    [90, 'level', 'R', 'Level at 500 nm in R: the cut lies 54 % up a swing of 19 %, one turning point on,'],
    [
      90,
      'swing',
      'R',
      'Rescaled level at 500 nm in R: the cut lies 54 % up a swing of 19 %, one turning point on,',
    ],
    [
      90,
      'swing',
      'T',
      'Rescaled level at 500 nm in T: the cut lies 46 % up a swing of 19 %, one turning point on,',
    ],
    [200, 'level', 'R', 'Level at 500 nm in R: the cut lies 76 % up a swing of 19 %, 3 turning points on,'],
  ] as const)('of %d nm by %s in %s is said with place and swing', (thicknessNm, rule, signal, sentence) => {
    const film = [{ material: high, thicknessNm, rateNmPerS: 0.4 }];
    const [only] = chooseSights(witness, film, noise, {
      wavelengthNm: [500],
      rules: [rule],
      signals: [signal],
    });
    expect(only!.reason).toContain(sentence);
    expect(only!.reason).toMatch(/about ±\d\.?\d* nm\.$/);
  });

  it('leaves out a level next to a turn, and a rescaled one without a turn', () => {
    for (const [thicknessNm, rule] of [
      [57, 'level'],
      [117, 'level'],
      [40, 'swing'],
    ] as const) {
      const film = [{ material: high, thicknessNm, rateNmPerS: 0.4 }];
      const [only] = chooseSights(witness, film, noise, {
        wavelengthNm: [500],
        rules: [rule],
        signals: ['R'],
      });
      expect(only!.reason).toContain('needs a crystal');
    }
  });

  it('admits it where nothing serves', () => {
    const blind = [{ material: constantIndex(1.52), thicknessNm: 80, rateNmPerS: 0.5 }];
    const [only] = chooseSights(witness, blind, noise, { ...everything, rules: ['level'] });
    expect(only!.reason).toContain('needs a crystal');
  });

  it('refuses an empty choice', () => {
    expect(() => chooseSights(witness, layers, noise, { ...everything, wavelengthNm: [] })).toThrow(
      'wavelengthNm: 0 wavelengths is below 1 wavelengths',
    );
  });
});
