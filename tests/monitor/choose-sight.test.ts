import { describe, expect, it } from 'vitest';
import { chooseSights, type OpenLayer, type SightChoices } from '../../src/monitor/choose-sight.ts';
import { NO_NOISE, type RunNoise } from '../../src/monitor/run-noise.ts';
import { setUpRuns } from '../../src/monitor/run-setup.ts';
import { runStatistics } from '../../src/monitor/run-statistics.ts';
import { predictSignals } from '../../src/monitor/signal.ts';
import { simulateRuns } from '../../src/monitor/simulate-runs.ts';
import { constantIndex } from './constant-index.ts';
import { byMatrixProduct } from './matrix-product.ts';
import { plainWitness as witness } from './plain-witness.ts';

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
  it('says for each layer what was taken, how good it will be and why', () => {
    const chosen = chooseSights(witness, layers, noise, everything);
    expect(chosen).toHaveLength(4);
    for (const { reason, expectedErrorNm, rule, wavelengthNm: nm } of chosen) {
      expect(reason).toMatch(/^[A-Z].*\.$/);
      expect(reason).toContain(rule === 'crystal' ? 'Crystal' : `${nm} nm`);
      expect(expectedErrorNm).toBeGreaterThan(0);
    }
  });

  it('never expects worse than the crystal that is at hand', () => {
    for (const [index, { expectedErrorNm }] of chooseSights(witness, layers, noise, everything).entries())
      expect(expectedErrorNm).toBeLessThanOrEqual(0.02 * layers[index]!.thicknessNm * (1 + 1e-12));
  });

  it('is borne out by virtual runs, within a factor of three a layer', () => {
    const chosen = chooseSights(witness, layers, noise, everything);
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

  it.each([
    ['the film is the glass', { material: constantIndex(1.52) }, ['level', 'turning-point']],
    ['no turn rescales the level', {}, ['swing']],
    ['no turn comes near the end', {}, ['turning-point']],
    ['there is no film', { thicknessNm: 0 }, ['level', 'swing', 'turning-point']],
  ] as const)('admits that nothing serves where %s', (_, change, rules) => {
    const film = { material: high, thicknessNm: 40, rateNmPerS: 0.4, ...change };
    const only = { wavelengthNm: [500, 510], signals: ['T', 'R'], rules } as const;
    expect(chooseSights(witness, [film], noise, only)).toEqual([
      {
        wavelengthNm: 500,
        signal: 'T',
        rule: rules[0],
        expectedErrorNm: film.thicknessNm,
        reason:
          'No wavelength shows enough swing with the cut clear of a turning point; this layer needs a crystal.',
      },
    ]);
  });

  it('takes what is expected to err least of everything that is at hand', () => {
    for (const thicknessNm of [40, 66, 110]) {
      const film = [{ material: high, thicknessNm, rateNmPerS: 0.4 }];
      const alone = everything.rules.flatMap((rule) =>
        wavelengthNm.flatMap((nm) =>
          chooseSights(witness, film, noise, { wavelengthNm: [nm], signals: ['R'], rules: [rule] }),
        ),
      );
      const least = alone.reduce((one, other) => (other.expectedErrorNm < one.expectedErrorNm ? other : one));
      expect(chooseSights(witness, film, noise, everything)[0]!.expectedErrorNm).toBe(least.expectedErrorNm);
    }
  });

  it('names the layer that the monitor cannot see', () => {
    const thick = [layers[0]!, { ...layers[1]!, thicknessNm: 2e6 }];
    expect(() => chooseSights(witness, thick, noise, everything)).toThrow(
      /^layers\[1\]\.thicknessNm: 2000000 nm is above 1000000 nm/,
    );
  });
});

const film: OpenLayer = { material: high, thicknessNm: 40, rateNmPerS: 0.4 };
const at500 = { wavelengthNm: [500], signals: ['R'] } as const;

/** The choice for the last of these layers by one rule at 500 nm in reflected light. */
function judged(
  rule: SightChoices['rules'][number],
  over: readonly OpenLayer[],
  more: Partial<RunNoise> = {},
) {
  return chooseSights(witness, over, { ...NO_NOISE, sampleS: 0.25, ...more }, { ...at500, rules: [rule] }).at(
    -1,
  )!;
}

describe('a crystal or a clock', () => {
  it.each([
    [{ crystalPercent: 2 }, 0.8, '2.0 %, about ±0.80 nm'],
    [{ crystalPercent: 0.5, shutterDelayS: 0.5 }, Math.hypot(0.2, 0.2), '0.50 %, about ±0.28 nm'],
  ])('errs by the scale of the crystal and the growth until the shutter is shut', (more, nm, words) => {
    const by = judged('crystal', [film], more);
    expect(by).toMatchObject({ rule: 'crystal', wavelengthNm: 500, signal: 'R' });
    expect(by.expectedErrorNm).toBeCloseTo(nm, 12);
    expect(by.reason).toBe(
      `Crystal: its scale is good to ${words}, and no wavelength of the monitor does better.`,
    );
  });

  it.each([
    // 400 readings leave a twentieth of the noise; 5 % are left to what nobody knows (common practice, no source).
    [
      40,
      { rateBiasPercent: -3, rateNoisePercent: 20 },
      40 * Math.hypot(0.03, 0.01, 0.05),
      '5.9 %, about ±2.4 nm',
    ],
    // Less than a reading: all of the noise.
    [0.05, { rateNoisePercent: 20 }, 0.05 * Math.hypot(0.2, 0.05), '21 %, about ±0.010 nm'],
    [40, { shutterDelayS: 5 }, Math.hypot(2, 2), '5.0 %, about ±2.8 nm'],
  ])('errs by bias and noise of the rate over %d nm', (thicknessNm, more, nm, words) => {
    const by = judged('time', [{ ...film, thicknessNm }], more);
    expect(by.expectedErrorNm).toBeCloseTo(nm, 12);
    expect(by.reason).toBe(
      `Clock: the rate is trusted to ${words}, and no wavelength of the monitor does better.`,
    );
  });

  it('comes last where it is the clock: after a worse crystal and a worse level, before none at all', () => {
    const ruleOf = (rules: SightChoices['rules'], material = high, more: Partial<RunNoise> = {}) =>
      chooseSights(
        witness,
        [{ ...film, thicknessNm: 25, material }],
        { ...NO_NOISE, ...more },
        { ...at500, rules },
      )[0]!;
    expect(ruleOf(['time', 'crystal'], high, { crystalPercent: 50 }).rule).toBe('crystal');
    const level = ruleOf(['time', 'level'], high, { gainPercent: 10 });
    expect(level.rule).toBe('level');
    expect(level.expectedErrorNm).toBeGreaterThan(ruleOf(['time']).expectedErrorNm);
    expect(ruleOf(['level', 'time'], constantIndex(1.52)).rule).toBe('time');
  });
});

/** R at 500 nm of a film of 2.1 on films of 1.38 and 2.1 on the glass, thickness on the witness, nm. */
const levelOf = (...nm: readonly number[]) =>
  byMatrixProduct(
    1,
    nm.map((thicknessNm, i) => ({ n: (nm.length - i) % 2 === 1 ? 2.1 : 1.38, thicknessNm })),
    1.52,
    500,
  ).R;
/** Derivative by differences. */
const per = (f: (nm: number) => number, nm: number) => (f(nm + 1e-3) - f(nm - 1e-3)) / 2e-3;

describe('the error expected of a cut by light', () => {
  it.each([
    ['a gain of 1 %, though nothing is said of it', 1, {}, 0.01],
    ['no less where less is said', 1, { gainPercent: 0.5 }, 0.01],
    ['the gain, and the growth until the shutter is shut', 1, { gainPercent: 2, shutterDelayS: 0.7 }, 0.02],
    ['the gain, with the tooling', 1.25, { gainPercent: 1.5 }, 0.015],
  ])('is by level %s', (_, tooling, more: Partial<RunNoise>, gain) => {
    const thicknessNm = 40 / tooling;
    const by = judged('level', [{ ...film, thicknessNm, tooling }], more);
    const slope = tooling * per(levelOf, 40);
    expect(by.expectedErrorNm).toBeCloseTo(
      Math.hypot((gain * levelOf(40)) / slope, 0.4 * (more.shutterDelayS ?? 0)),
      8,
    );
  });

  it.each([
    ['level', 40],
    ['swing', 90],
  ] as const)(
    'holds the noise at the end of the line, and by a rescaled level that of its extrema: %s',
    (rule, nm) => {
      const more = { signalPercent: 0.2, shutterDelayS: 0.1 };
      const by = judged(rule, [{ ...film, thicknessNm: nm }], more);
      const seen = { ...film, wavelengthNm: 500, signal: 'R', rule, thicknessNm: nm } as const;
      const { window } = setUpRuns(witness, [seen], { ...NO_NOISE, sampleS: 0.25, ...more }).plans[0]!;
      // Variance at the end of a line 4 s² / m, for many readings (textbook).
      const blur = (2 * 0.002) / Math.sqrt(window);
      const uncertain = rule === 'swing' ? blur * Math.sqrt(3) : Math.hypot(blur, 0.01 * levelOf(nm));
      expect(by.expectedErrorNm).toBeCloseTo(Math.hypot(uncertain / per(levelOf, nm), 0.04), 8);
    },
  );

  it('is by a turning point how late it is found, how far it is off the plan and the scatter of its line', () => {
    const turn = 500 / 4 / 2.1;
    const more = { signalPercent: 0.05, shutterDelayS: 0.5 };
    for (const [off, tooling] of [
      [0.5, 1],
      [-0.5, 1],
      [0.4, 1.25],
    ] as const) {
      const thicknessNm = (turn + off) / tooling;
      const by = judged('turning-point', [{ ...film, thicknessNm, tooling }], more);
      const seen = {
        ...film,
        wavelengthNm: 500,
        signal: 'R',
        rule: 'turning-point',
        thicknessNm,
        tooling,
      } as const;
      const plan = setUpRuns(witness, [seen], { ...NO_NOISE, sampleS: 0.25, ...more }).plans[0]!;
      const m = plan.window;
      const bend = tooling ** 2 * per((nm) => per(levelOf, nm), turn);
      const scatter = (0.0005 * Math.sqrt(12 / (m * (m * m - 1)))) / Math.abs(bend) / 0.1;
      const late = ((m - 1) / 2) * 0.1;
      const expected = Math.hypot(late + 0.2 - off / tooling, scatter);
      expect(by.expectedErrorNm).toBeCloseTo(expected, 4);
      expect(by.reason).toBe(
        `Turning point 1 at 500 nm in R: the layer ends within ${Math.abs(off / tooling).toPrecision(2)} nm of it, ` +
          `it is found ${late.toPrecision(2)} nm late, about ±${expected.toPrecision(2)} nm.`,
      );
    }
  });

  it('holds what the layers below hand on by the slope of the level in their thickness', () => {
    // A third film on two others of 60 and 50 nm on the witness.
    const stack: OpenLayer[] = [
      { material: high, thicknessNm: 60 / 0.8, rateNmPerS: 0.4, tooling: 0.8 },
      { material: low, thicknessNm: 50, rateNmPerS: 0.4 },
      { ...film, thicknessNm: 30 },
    ];
    const more = { shutterDelayS: 0.5 };
    const rules = { ...at500, rules: ['crystal', 'level'] } as const;
    const [first, second, third] = chooseSights(
      witness,
      stack,
      { ...NO_NOISE, crystalPercent: 3, ...more },
      rules,
    );
    const slope = per((nm) => levelOf(60, 50, nm), 30);
    const handedOn = [
      (0.8 * per((nm) => levelOf(nm, 50, 30), 60) * first!.expectedErrorNm) / slope,
      (per((nm) => levelOf(60, nm, 30), 50) * second!.expectedErrorNm) / slope,
    ];
    const byLevel = Math.hypot((0.01 * levelOf(60, 50, 30)) / slope, 0.2, ...handedOn);
    expect(Math.max(...handedOn.map(Math.abs))).toBeGreaterThan(0.3);
    expect(third!.expectedErrorNm).toBeCloseTo(Math.min(byLevel, Math.hypot(0.9, 0.2)), 6);
    const fresh = [...stack.slice(0, 2), { ...stack[2]!, newWitness: true }];
    expect(judged('level', fresh, more).expectedErrorNm).toBe(
      judged('level', stack.slice(2), more).expectedErrorNm,
    );
  });

  it('holds by a turning point how far the layer below moves the turn', () => {
    const turnAt = (belowNm: number) => {
      const seen = { wavelengthNm: 500, signal: 'R' } as const;
      const stack = [
        { material: low, thicknessNm: belowNm, ...seen },
        { material: high, thicknessNm: 70, ...seen },
      ];
      return predictSignals(witness, stack, 2)[1]!.turningPoints[0]!.thicknessNm;
    };
    const turn = turnAt(50);
    const stack = [
      { ...film, material: low, thicknessNm: 50 / 1.2, tooling: 1.2 },
      { ...film, thicknessNm: turn / 1.25, tooling: 1.25 },
    ];
    // The first one by crystal: no turn of it comes near its end.
    const chosen = chooseSights(
      witness,
      stack,
      { ...NO_NOISE, crystalPercent: 4 },
      { ...at500, rules: ['turning-point', 'crystal'] },
    );
    expect(chosen.map(({ rule }) => rule)).toEqual(['crystal', 'turning-point']);
    const moved = (1.2 * per(turnAt, 50) * chosen[0]!.expectedErrorNm) / 1.25;
    expect(Math.abs(moved)).toBeGreaterThan(0.05);
    // Without noise a line takes two readings, 0.04 nm apart on the lens.
    expect(chosen[1]!.expectedErrorNm).toBeCloseTo(Math.hypot(moved, 0.02), 4);
  });
});

describe('a level is left out', () => {
  const isTaken = (rule: 'level' | 'swing', thicknessNm: number, more: Partial<RunNoise> = {}) =>
    !judged(rule, [{ ...film, thicknessNm }], more).reason.includes('needs a crystal');

  it('within a tenth of the swing of an extremum', () => {
    for (const [rule, from, to] of [
      ['level', 0, 119],
      ['swing', 60, 178],
    ] as const)
      for (let nm = from + 1; nm < to; nm += 1) {
        const share = (levelOf(nm) - levelOf(0)) / (levelOf(500 / 4 / 2.1) - levelOf(0));
        const clear = Math.min(share, 1 - share);
        if (Math.abs(clear - 0.1) > 1e-3 && clear < 0.12)
          expect([nm, isTaken(rule, nm)]).toEqual([nm, clear > 0.1]);
      }
  });

  it('within four times what it may be wrong by', () => {
    const clear = levelOf(500 / 4 / 2.1) - levelOf(40);
    const percent = (100 * clear) / 4 / levelOf(40);
    expect(isTaken('level', 40, { gainPercent: percent - 0.01 })).toBe(true);
    expect(isTaken('level', 40, { gainPercent: percent + 0.01 })).toBe(false);
    // Far from the lowest level as well.
    const low20 = (100 * (levelOf(20) - levelOf(0))) / 4 / levelOf(20);
    expect(isTaken('level', 20, { gainPercent: low20 - 0.01 })).toBe(true);
    expect(isTaken('level', 20, { gainPercent: low20 + 0.01 })).toBe(false);
  });
});

it('a level in a film that carries no wave is judged by its way to total reflection', () => {
  // sin 1.3 = 0.964 is above the index of 0.9: the film takes the place of the glass, ever more, and reflects all light.
  const oblique = { ...witness, incidenceRad: 1.3 };
  const [only] = chooseSights(
    oblique,
    [{ material: constantIndex(0.9), thicknessNm: 150, rateNmPerS: 0.4 }],
    NO_NOISE,
    { ...at500, rules: ['level'] },
  );
  const mean = (thicknessNm: number) =>
    (['s', 'p'] as const).reduce(
      (sum, one) => sum + byMatrixProduct(1, [{ n: 0.9, thicknessNm }], 1.52, 500, 1.3, one).R / 2,
      0,
    );
  const share = (100 * (mean(150) - mean(0))) / (1 - mean(0));
  expect(only!.reason).toContain(
    `the cut lies ${share.toPrecision(2)} % up a swing of ${(100 * (1 - mean(0))).toPrecision(2)} %, with no turning point before it`,
  );
});

it('a layer is judged alike at any scale of wavelength, thickness and rate', () => {
  const at = (scale: number) =>
    chooseSights(
      witness,
      [{ material: high, thicknessNm: 25 * scale, rateNmPerS: 0.4 * scale }],
      { ...NO_NOISE, signalPercent: 0.05 },
      { wavelengthNm: [500 * scale], signals: ['R'], rules: ['level'] },
    )[0]!;
  const [small, large] = [at(1), at(1000)];
  expect(large.expectedErrorNm / 1000 / small.expectedErrorNm).toBeCloseTo(1, 9);
  const share = /lies .* up a swing of .* %/;
  expect(share.exec(large.reason)![0]).toBe(share.exec(small.reason)![0]);
});
