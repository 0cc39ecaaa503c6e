import { describe, expect, it } from 'vitest';
import { type CutPlan, planCut } from '../../src/monitor/cut-plan.ts';
import type { CutRule } from '../../src/monitor/cut-rule.ts';
import { SlidingLine } from '../../src/monitor/sliding-line.ts';
import { WitnessLight } from '../../src/monitor/witness-light.ts';
import { constantIndex } from './constant-index.ts';
import type { PlainLayer } from './matrix-product.ts';
import { plainWitness as glass } from './plain-witness.ts';

interface Asked {
  readonly n: number;
  readonly thicknessNm: number;
  readonly rule: CutRule;
  readonly signal?: 'R' | 'T';
  readonly below?: readonly PlainLayer[];
  readonly tooling?: number;
  readonly rateNmPerS?: number;
  readonly sampleS?: number;
  readonly signalPercent?: number;
}

/** The plan of a film on the witness of 1.52 seen at 550 nm, on bare glass where nothing lies below. */
function planOf(asked: Asked): CutPlan {
  const { n, thicknessNm, rule, signal = 'R', below = [], tooling = 1, rateNmPerS = 0.5 } = asked;
  const { sampleS = 0.1, signalPercent = 0 } = asked;
  const films = [...below, { n }].map((film) => constantIndex(film.n));
  const light = new WitnessLight(glass, films, { wavelengthNm: 550, signal });
  light.begin(below.map((film) => film.thicknessNm));
  return planCut(light, rule, thicknessNm, tooling, rateNmPerS, { sampleS, signalPercent });
}

const QUARTER = 550 / 4 / 2.1;
/** R of one film on the witness, thickness that on the witness (Macleod, Thin-Film Optical Filters: the matrix of one layer). */
function levelAt(n: number, thicknessNm: number): number {
  const phase = (2 * Math.PI * n * thicknessNm) / 550;
  const [cos2, sin2] = [Math.cos(phase) ** 2, Math.sin(phase) ** 2];
  return (0.52 ** 2 * cos2 + (1.52 / n - n) ** 2 * sin2) / (2.52 ** 2 * cos2 + (1.52 / n + n) ** 2 * sin2);
}
/** Its second derivative by differences of second order, right to a few millionths. */
const bendAt = (n: number, nm: number) =>
  (levelAt(n, nm + 0.05) - 2 * levelAt(n, nm) + levelAt(n, nm - 0.05)) / 0.05 ** 2;

/** What a line through the last `window` of the noiseless readings shows when the film has this thickness on the lens, one reading after the other. */
function shownAt(plan: CutPlan, n: number, nm: number, tooling = 1, rateNmPerS = 0.5) {
  const line = new SlidingLine(plan.window);
  line.begin(plan.window);
  const stepNm = rateNmPerS * plan.sampleS;
  const readings = Float64Array.from({ length: plan.window }, (_, i) =>
    levelAt(n, Math.max(0, nm - (plan.window - 1 - i) * stepNm) * tooling),
  );
  const [slope, mean] = [new Float64Array(plan.window), new Float64Array(plan.window)];
  line.take(readings, plan.window, slope, mean);
  return { mean: mean.at(-1)!, end: mean.at(-1)! + (slope.at(-1)! * (plan.window - 1)) / 2 };
}

describe('what a controller knows before the shutter opens', () => {
  it.each([
    ['crystal', 40],
    ['time', 40],
    ['level', 0],
    ['turning-point', 0],
  ] as const)('is nothing of the light, by %s of %d nm', (rule, thicknessNm) => {
    // The crystal itself stands by for nothing: four times its plan, and of everything else 30 % beyond it.
    expect(planOf({ n: 2.1, thicknessNm, rule })).toEqual({
      rule,
      thicknessNm,
      nominalS: 2 * thicknessNm,
      sampleS: 0.1,
      backupNm: expect.closeTo((rule === 'crystal' ? 4 : 1.3) * thicknessNm, 12),
      backupS: 8 * thicknessNm,
      window: 2,
      lagNm: 0,
      turnNm: new Float64Array(),
      turnLevel: new Float64Array(),
      firstSign: 1,
      startLevel: 0,
      cutLevel: 0,
      cutSlope: 0,
      wrongSlope: 0,
      doubts: [],
    });
  });

  it('is by level the time, the thickness at which the crystal closes instead, and four times the time', () => {
    const plan = planOf({ n: 2.1, thicknessNm: 40, rule: 'level', rateNmPerS: 0.8, tooling: 1.5 });
    expect(plan).toMatchObject({ rule: 'level', thicknessNm: 40, sampleS: 0.1 });
    expect(plan.nominalS).toBeCloseTo(50, 12);
    expect(plan.backupNm).toBeCloseTo(52, 12);
    expect(plan.backupS).toBeCloseTo(200, 12);
  });

  it.each([
    [2.1, 'R', 1],
    [2.1, 'T', -1],
    [1.38, 'R', -1],
    [1.38, 'T', 1],
  ] as const)('is which way the signal goes first: n = %d in %s', (n, signal, sign) => {
    // Textbook: an index above that of the glass makes a mirror, one below (and above 1) a blooming.
    for (const [thicknessNm, rule] of [
      [40, 'level'],
      [120, 'level'],
      [250, 'turning-point'],
    ] as const)
      for (const tooling of [1, 0.5])
        expect(planOf({ n, thicknessNm: thicknessNm / tooling, rule, signal, tooling }).firstSign).toBe(sign);
  });

  it.each([0, 0.05, 1])(
    'is where the signal turns, by its thickness on the lens: noise %d percent',
    (signalPercent) => {
      const tooling = 1.25;
      const plan = planOf({ n: 2.1, thicknessNm: 120, rule: 'swing', tooling, signalPercent });
      expect(Array.from(plan.turnNm)).toEqual([
        expect.closeTo(QUARTER / tooling, 6),
        expect.closeTo((2 * QUARTER) / tooling, 6),
      ]);
      expect(plan.startLevel).toBeCloseTo((0.52 / 2.52) ** 2, 13);
      // What the line shows as its mean when the turn lies in its middle.
      for (const [at, nm] of plan.turnNm.entries())
        expect(plan.turnLevel[at]).toBeCloseTo(shownAt(plan, 2.1, nm + plan.lagNm, tooling).mean, 12);
      expect(plan.lagNm).toBeCloseTo(((plan.window - 1) / 2) * 0.05, 12);
    },
  );

  it.each([
    [40, 0, 1],
    [40, 0.1, 1],
    [90, 0.5, 1.25],
    [200, 0.02, 0.7],
  ])(
    'is the level that its line will show at %d nm, noise %d percent, tooling %d',
    (nm, signalPercent, tooling) => {
      const plan = planOf({ n: 2.1, thicknessNm: nm, rule: 'level', tooling, signalPercent });
      expect(plan.cutLevel).toBeCloseTo(shownAt(plan, 2.1, nm, tooling).end, 12);
      const before = shownAt(plan, 2.1, nm - 0.05, tooling).end;
      expect(plan.cutSlope).toBeCloseTo(plan.cutLevel - before, 12);
      expect(Math.abs(plan.cutSlope)).toBeGreaterThan(1e-5);
    },
  );

  it('takes the light before the layer as it stood, where a reading reaches back that far', () => {
    const plan = planOf({ n: 2.1, thicknessNm: 3, rule: 'level', rateNmPerS: 5, sampleS: 1 });
    expect(plan.window).toBe(2);
    expect(plan.cutSlope).toBeCloseTo(levelAt(2.1, 3) - levelAt(2.1, 0), 12);
  });
});

describe('the readings that a line takes', () => {
  // The end of a line has the variance 4 s² / m (for many readings) and lies b m² / 12 off where the signal bends by b a
  // reading (textbook relations of the regression line). Of their squares' sum, a tenth of the bend unknown, the least is
  // at m⁵ = (120 s / b)².
  it.each([
    [2.1, 40, 0.1, 1],
    [2.1, 40, 0.1, 1.3],
    [1.38, 140, 0.1, 1],
    [2.1, 45, 0.02, 1],
  ])(
    'balance noise and bend at the end of the layer: n = %d, %d nm, noise %d percent, tooling %d',
    (n, nm, percent, tooling) => {
      const plan = planOf({ n, thicknessNm: nm, rule: 'level', signalPercent: percent, tooling });
      const bend = Math.abs(bendAt(n, nm * tooling)) * (0.05 * tooling) ** 2;
      const least = ((120 * percent) / 100 / bend) ** 0.4;
      expect(Math.abs(plan.window - least)).toBeLessThan(1);
    },
  );

  // The slope of a line has the variance 12 s² / (m (m² - 1)) and passes through zero (m - 1) / 2 readings after the turn.
  it.each([
    [1, 0.1],
    [1, 0.005],
    [3, 1],
    [1, 1e-6],
  ])('balance lag and scatter of a turn: %d quarter waves, noise %d percent', (quarters, percent) => {
    const plan = planOf({
      n: 2.1,
      thicknessNm: quarters * QUARTER,
      rule: 'turning-point',
      signalPercent: percent,
    });
    // The sharpest of the turns counts.
    const turns = Array.from({ length: quarters }, (_, i) => Math.abs(bendAt(2.1, (i + 1) * QUARTER)));
    const bend = Math.max(...turns) * 0.05 ** 2;
    const error = (m: number) =>
      Math.hypot((m - 1) / 2, ((percent / 100) * Math.sqrt(12 / (m * (m * m - 1)))) / bend);
    expect(error(plan.window)).toBeLessThan(error(plan.window + 1));
    if (plan.window > 2) expect(error(plan.window)).toBeLessThan(error(plan.window - 1));
  });

  it('are two at a turn until their scatter is the bend over the root of two, then three', () => {
    // Squares of lag and scatter: 1/4 + 2 s² with two readings, 1 + s²/2 with three, s in bends a reading.
    const bend = Math.abs(bendAt(2.1, QUARTER)) * 0.05 ** 2;
    for (const [s, window] of [
      [0.7, 2],
      [0.714, 3],
    ] as const) {
      const signalPercent = 100 * s * bend;
      expect(planOf({ n: 2.1, thicknessNm: QUARTER, rule: 'turning-point', signalPercent }).window).toBe(
        window,
      );
    }
  });

  it('are those that the turns take where the layer ends in a sharper bend', () => {
    // An index of 6 on glass swings in broad hills and narrow valleys of transmittance turned over.
    const quarter = 550 / 4 / 6;
    const noise = { n: 6, signalPercent: 0.1 };
    const turn = planOf({ ...noise, thicknessNm: quarter, rule: 'turning-point' }).window;
    expect(planOf({ ...noise, thicknessNm: 1.95 * quarter, rule: 'level' }).window).toBe(turn);
    expect(planOf({ ...noise, thicknessNm: 1.3 * quarter, rule: 'level' }).window).toBeGreaterThan(turn);
  });

  it('fill at most half a quarter wave and half the way to the first turn or to the end', () => {
    const coarse = { n: 2.1, rule: 'level', signalPercent: 5 } as const;
    expect(planOf({ ...coarse, thicknessNm: 30 }).window).toBe(300);
    expect(planOf({ ...coarse, thicknessNm: 30, rateNmPerS: 1 }).window).toBe(150);
    expect(planOf({ ...coarse, thicknessNm: 30, rateNmPerS: 200 }).window).toBe(2);
    // Film and glass alike: no turn before the end.
    expect(planOf({ ...coarse, n: 1.52, thicknessNm: 300 }).window).toBe(
      Math.floor(550 / 4 / 1.52 / 0.05 / 2),
    );
    const early = planOf({ ...coarse, thicknessNm: 40, below: [{ n: 2.1, thicknessNm: 45 }] });
    expect(early.turnNm[0]).toBeCloseTo(QUARTER - 45, 6);
    expect(early.window).toBe(Math.floor((QUARTER - 45) / 0.05 / 2));
  });

  it('are never more than 1024', () => {
    const plan = planOf({ n: 1.521, thicknessNm: 60, rule: 'level', rateNmPerS: 0.01, signalPercent: 1 });
    expect(plan.window).toBe(1024);
  });
});

describe('a slope on the wrong side', () => {
  it('counts from four times the scatter of the slope of its line', () => {
    const plan = planOf({ n: 2.1, thicknessNm: 40, rule: 'level', signalPercent: 0.1 });
    const m = plan.window;
    expect(plan.wrongSlope).toBeCloseTo(4 * 0.001 * Math.sqrt(12 / (m * (m * m - 1))), 12);
  });

  it('counts in a quiet signal from a thousandth of the swing in a quarter wave, or in two readings', () => {
    const swing = levelAt(2.1, QUARTER) - levelAt(2.1, 0);
    const quiet = { n: 2.1, thicknessNm: 90, rule: 'level', tooling: 1.25 } as const;
    const readings = QUARTER / 1.25 / 0.05;
    expect(planOf(quiet).wrongSlope).toBeCloseTo((0.001 * swing) / readings, 12);
    expect(planOf({ ...quiet, rateNmPerS: 500 }).wrongSlope).toBeCloseTo((0.001 * swing) / 2, 12);
  });
});

describe('a plan by turning points', () => {
  it.each([
    [QUARTER, 1],
    [1.49 * QUARTER, 1],
    [1.6 * QUARTER, 2],
    [2.49 * QUARTER, 2],
    [2.51 * QUARTER, 3],
  ])('ends at the turn that is nearest to %d nm', (thicknessNm, turns) => {
    const plan = planOf({ n: 2.1, thicknessNm, rule: 'turning-point', tooling: 1 });
    expect(plan.turnNm).toHaveLength(turns);
    expect(plan.thicknessNm).toBeCloseTo(turns * QUARTER, 6);
    expect(plan.turnNm.at(-1)).toBe(plan.thicknessNm);
    expect(plan.nominalS).toBeCloseTo(thicknessNm / 0.5, 12);
    expect(plan.backupNm).toBeCloseTo(1.3 * Math.max(thicknessNm, turns * QUARTER), 6);
  });

  it('looks for a turn up to 30 % beyond the layer', () => {
    const near = planOf({ n: 2.1, thicknessNm: QUARTER / 1.299, rule: 'turning-point', tooling: 1 });
    expect(near.turnNm).toHaveLength(1);
    const far = planOf({ n: 2.1, thicknessNm: QUARTER / 1.301, rule: 'turning-point', tooling: 1 });
    expect(far).toMatchObject({ turnNm: new Float64Array(), thicknessNm: QUARTER / 1.301 });
  });
});

describe('turns that cannot be counted', () => {
  it('come within the first reading, before a line is full', () => {
    const early = (nm: number) =>
      planOf({ n: 2.1, thicknessNm: 40, rule: 'level', below: [{ n: 2.1, thicknessNm: QUARTER - nm }] });
    expect(early(0.049).turnNm).toHaveLength(0);
    expect(early(0.049).firstSign).toBe(-1);
    expect(early(0.051).turnNm).toHaveLength(1);
    expect(early(0.051).firstSign).toBe(1);
  });

  it('come so late that the lag of the line hides them until the end', () => {
    // Whatever the line: the end lies its lag behind the turn, a little less or a little more.
    const plan = planOf({ n: 2.1, thicknessNm: QUARTER + 5, rule: 'level', signalPercent: 0.1 });
    expect(plan.turnNm).toHaveLength(1);
    expect(plan.lagNm).toBeLessThan(5);
    expect(plan.lagNm).toBeGreaterThan(3);
    const hidden = planOf({ n: 2.1, thicknessNm: QUARTER + 3, rule: 'level', signalPercent: 0.1 });
    expect(hidden.lagNm).toBeGreaterThan(3);
    expect(hidden.turnNm).toHaveLength(0);
    expect(hidden.turnLevel).toHaveLength(0);
  });
});

describe('the doubts about a rule', () => {
  const nearTurn = (off: string) =>
    `only ${off} % from a turning point the level may never be reached: cut at the turn, or at another wavelength`;
  const start = 'no turning point comes before the cut: the level can be rescaled by the start alone';
  const flat = (swing: string, noise: string) =>
    `the signal swings by only ${swing} % against a noise of ${noise} % (one sigma): no optical rule can be trusted`;
  const off = (turn: string, by: string, planned: string) =>
    `the nearest turning point comes at ${turn} nm, ${by} nm off the planned ${planned} nm`;
  const none = 'the signal has no turning point near the planned end: this rule cannot trigger';
  const early = 'a turning point comes too early in the layer to be counted';

  it.each<[string, Partial<Asked>, readonly string[]]>([
    ['are none where the cut is clear of a turn to come', { thicknessNm: 55.2 }, []],
    ['say that a turn to come is near', { thicknessNm: 55.3 }, [nearTurn('0.918')]],
    ['say that the cut is the turn', { thicknessNm: QUARTER }, [nearTurn('0.000')]],
    ['say that the turn before is near', { thicknessNm: 75.9 }, [nearTurn('0.963')]],
    ['are none where the cut is clear of the turn before', { thicknessNm: 76 }, []],
    ['see a turn by the light on the lens', { thicknessNm: 55.3 / 1.25, tooling: 1.25 }, [nearTurn('0.918')]],
    ['say that nothing rescales a level before the first turn', { rule: 'swing' }, [start]],
    ['say both', { rule: 'swing', thicknessNm: 60 }, [nearTurn('0.267'), start]],
    ['are none where a turn rescales the level', { rule: 'swing', thicknessNm: 90 }, []],
    ['are none of six times the noise', { signalPercent: 2.33 }, []],
    [
      'say that less than six times the noise is too little',
      { signalPercent: 2.34 },
      [flat('14.014', '2.340')],
    ],
    ['are none of a swing above a thousandth of a percent', { n: 1.52006, thicknessNm: 60 }, []],
    ['say that there is hardly any swing', { n: 1.52003, thicknessNm: 60 }, [flat('0.001', '0.000')]],
    [
      'say only that of a rescaled level',
      { rule: 'swing', n: 1.52003, thicknessNm: 60 },
      [flat('0.001', '0.000')],
    ],
    ['are none at a turning point', { rule: 'turning-point', thicknessNm: QUARTER }, []],
    ['are none within a fiftieth of it', { rule: 'turning-point', thicknessNm: 64.2 }, []],
    ['say how far it is', { rule: 'turning-point', thicknessNm: 64.1 }, [off('65.5', '1.4', '64.1')]],
    ['are none within a fiftieth beyond it', { rule: 'turning-point', thicknessNm: 66.8 }, []],
    [
      'say how far it lies before',
      { rule: 'turning-point', thicknessNm: 66.9 },
      [off('65.5', '1.4', '66.9')],
    ],
    ['say that there is none', { rule: 'turning-point' }, [none]],
    [
      'say that there is none, nor any signal',
      { rule: 'turning-point', n: 1.52, signalPercent: 0.1 },
      [none, flat('0.000', '0.100')],
    ],
    [
      'say that one comes too early',
      { rule: 'turning-point', thicknessNm: QUARTER, below: [{ n: 2.1, thicknessNm: QUARTER - 0.04 }] },
      [early],
    ],
    ['do not say so by level', { below: [{ n: 2.1, thicknessNm: QUARTER - 0.04 }] }, []],
  ])('%s', (_, asked, doubts) => {
    expect(planOf({ n: 2.1, thicknessNm: 40, rule: 'level', ...asked }).doubts).toEqual(doubts);
  });
});
