import { describe, expect, it } from 'vitest';
import { Random } from '../../src/math/random.ts';
import { CUT_AS_RULED } from '../../src/monitor/controller.ts';
import { CRYSTAL_KEPT, CRYSTAL_LOST } from '../../src/monitor/crystal-reader.ts';
import { CUT_RULES } from '../../src/monitor/cut-rule.ts';
import { NO_NOISE, type RunNoise } from '../../src/monitor/run-noise.ts';
import { type CutLayer, setUpRuns } from '../../src/monitor/run-setup.ts';
import { VirtualRun, type VirtualRunOptions } from '../../src/monitor/virtual-run.ts';
import type { IndexOf } from '../../src/monitor/witness.ts';
import { WitnessLight } from '../../src/monitor/witness-light.ts';
import { constantIndex } from './constant-index.ts';
import { plainWitness as glass } from './plain-witness.ts';
import { ScriptedRandom } from './scripted-random.ts';

const high = constantIndex(2.1);
const low = constantIndex(1.38);

/** Invented: at 0.5 nm/s, read every half second, each sample adds a quarter of a nanometre. */
const STEP_NM = 0.25;

function layer(material: IndexOf, more: Partial<CutLayer> = {}): CutLayer {
  return {
    ...{ material, thicknessNm: 40, wavelengthNm: 550, signal: 'R', rule: 'time', rateNmPerS: 0.5 },
    ...more,
  };
}

function chamber(
  layers: readonly CutLayer[],
  noise: Partial<RunNoise> = {},
  random: Random = new ScriptedRandom(),
  options: VirtualRunOptions = { watchLight: true },
) {
  const run = new VirtualRun(setUpRuns(glass, layers, { ...NO_NOISE, sampleS: 0.5, ...noise }), options);
  run.begin(random);
  return run;
}

/** The exact light of the last of these films, grown to so much, on the others. */
function exactly(films: readonly IndexOf[], below: readonly number[], thicknessNm: number): number {
  const light = new WitnessLight(glass, films, { wavelengthNm: 550, signal: 'R' });
  light.begin(below);
  return light.level(thicknessNm);
}

const near = (value: number) => expect.closeTo(value, 12);
const shown = (run: VirtualRun, count: number) => Array.from(run.light.subarray(0, count));

describe('the light that a virtual run reads', () => {
  it('is that of what has grown, before the shutter opens and after each sample', () => {
    const run = chamber([layer(high)]);
    expect(run.openShutter(0)).toBe(-1);
    expect(run.light[0]).toEqual(near((0.52 / 2.52) ** 2));
    expect(run.advance(3)).toBe(-1);
    expect(Array.from(run.grownNm.subarray(0, 3))).toEqual([0.25, 0.5, 0.75]);
    expect(shown(run, 3)).toEqual([1, 2, 3].map((count) => near(exactly([high], [], count * STEP_NM))));
    run.advance(1);
    expect(run.grownNm[0]).toBe(1);
    expect(run.light[0]).toEqual(near(exactly([high], [], 1)));
  });

  it('drifts with the age of its witness through all layers on it, and anew on the next one', () => {
    // 60 % a minute is half a percent a sample.
    const layers = [layer(high), layer(low), layer(low, { newWitness: true })];
    const run = chamber(layers, { driftPercentPerMin: 60, shutterDelayS: 0.25 });
    run.openShutter(0);
    expect(run.light[0]).toEqual(near((0.52 / 2.52) ** 2));
    run.advance(4);
    run.advance(2);
    expect(shown(run, 2)).toEqual(
      [5, 6].map((age) => near(exactly([high], [], age / 4) * (1 + 0.005 * age))),
    );
    // Half a sample more until the shutter is shut.
    run.closeShutter(1, 0);
    expect(run.thicknessNm[0]).toBe(1.625);
    run.openShutter(1);
    expect(run.light[0]).toEqual(near(exactly([high, low], [1.625], 0) * (1 + 0.005 * 6.5)));
    run.advance(1);
    expect(run.light[0]).toEqual(near(exactly([high, low], [1.625], STEP_NM) * (1 + 0.005 * 7.5)));
    run.closeShutter(0, 0);
    run.openShutter(2);
    expect(run.light[0]).toEqual(near((0.52 / 2.52) ** 2));
  });

  it('has one gain for all layers on a witness, in what the controller starts from as well', () => {
    const swing = { rule: 'swing' } as const;
    const layers = [layer(high, swing), layer(low, swing), layer(low, { ...swing, newWitness: true })];
    const random = new ScriptedRandom([2, -1]);
    const run = chamber(layers, { gainPercent: 10 }, random);
    for (const [index, gain] of [1.2, 1.2, 0.9].entries()) {
      run.openShutter(index);
      const first = run.setup.plans[index]!.startLevel;
      // Of the second layer the plan starts from more than has grown.
      const films = index === 1 ? [high, low] : [layers[index]!.material];
      const start = exactly(films, index === 1 ? [STEP_NM] : [], 0);
      expect(run.light[0]).toEqual(near(gain * start));
      const { cutLevel } = run.setup.plans[index]!;
      expect(run.controller.targetLevel).toEqual(near((cutLevel * gain * start) / first));
      run.advance(1);
      expect(run.light[0]).toEqual(near(gain * exactly(films, index === 1 ? [STEP_NM] : [], STEP_NM)));
      run.closeShutter(0, 0);
    }
    expect(random.left).toBe(0);
  });

  it('is noisy in each reading; the start is known four times better, from sixteen readings', () => {
    const random = new ScriptedRandom([2, -2, 3, -1]);
    const run = chamber([layer(high, { rule: 'swing' })], { signalPercent: 0.4 }, random);
    run.openShutter(0);
    const start = (0.52 / 2.52) ** 2;
    expect(run.light[0]).toEqual(near(start + 0.008));
    const { cutLevel } = run.setup.plans[0]!;
    expect(run.controller.targetLevel).toEqual(near((cutLevel * (start - 0.002)) / start));
    run.advance(2);
    expect(shown(run, 2)).toEqual([
      near(exactly([high], [], STEP_NM) + 0.012),
      near(exactly([high], [], 2 * STEP_NM) - 0.004),
    ]);
    expect(random.left).toBe(0);
  });

  it('is not read, nor is a number drawn for it, where crystal or clock cut and nobody watches', () => {
    const run = chamber([layer(high)], { signalPercent: 0.4 }, new ScriptedRandom(), {});
    run.openShutter(0);
    run.advance(2);
    expect(shown(run, 2)).toEqual([0, 0]);
  });

  it('is read where the rule looks at it', () => {
    const run = chamber([layer(high, { rule: 'level' })], {}, new ScriptedRandom(), {});
    run.openShutter(0);
    run.advance(1);
    expect(run.light[0]).toEqual(near(exactly([high], [], STEP_NM)));
  });

  it('has the lamp that the layers before have left', () => {
    const run = chamber([layer(high), layer(high, { newWitness: true })], {}, new ScriptedRandom(), {
      watchLight: true,
      mishaps: [{ kind: 'lamp-drift', layer: 0, atPercent: 0, percentPerMin: -12 }],
    });
    run.openShutter(0);
    run.advance(5);
    const gain = 0.999 ** 5;
    expect(run.light[4]).toEqual(near(gain * exactly([high], [], 5 * STEP_NM)));
    run.closeShutter(4, 0);
    run.openShutter(1);
    expect(run.light[0]).toEqual(near(gain * (0.52 / 2.52) ** 2));
    run.begin(new ScriptedRandom());
    run.openShutter(0);
    expect(run.light[0]).toEqual(near((0.52 / 2.52) ** 2));
  });
});

describe('what truly grows in a virtual run', () => {
  it('lies on the witness by the tooling of its layer, which scatters and wanders from layer to layer', () => {
    const layers = [layer(high, { tooling: 1.2 }), layer(low, { rule: 'level' }), layer(high)];
    const random = new ScriptedRandom([1, -2, -100]);
    const run = chamber(layers, { toolingPercent: 5, toolingDriftPercent: 3 }, random);
    // The plan knows the tooling as it is set.
    expect(run.setup.plans[1]!.startLevel).toEqual(near(exactly([high, low], [48], 0)));
    const tooling = [1.2 * 1.05, 1 - 0.1 + 0.03, 0.01];
    const below: number[] = [];
    for (const [index, factor] of tooling.entries()) {
      const films = layers.slice(0, index + 1).map(({ material }) => material);
      run.openShutter(index);
      expect(run.light[0]).toEqual(near(exactly(films, below, 0)));
      run.advance(60);
      expect(run.light[59]).toEqual(near(exactly(films, below, 15 * factor)));
      run.closeShutter(59, 0);
      expect(run.thicknessNm[index]).toBe(15);
      below.push(15 * factor);
    }
    expect(random.left).toBe(0);
  });

  it('wanders in its tooling without a scatter, too', () => {
    const run = chamber([layer(high), layer(high, { newWitness: true })], { toolingDriftPercent: -4 });
    run.openShutter(0);
    run.closeShutter(0, 0);
    run.openShutter(1);
    run.advance(60);
    expect(run.light[59]).toEqual(near(exactly([high], [], 15 * 0.96)));
  });

  it('has an index of its own for each material in a run, never less than a tenth', () => {
    const layers = [layer(high), layer(low), layer(high), layer(constantIndex(1.45))];
    const run = chamber(layers, { indexPercent: 5 }, new ScriptedRandom([1, -2, -100]));
    expect(Array.from(run.indexFactor)).toEqual([1.05, 0.9, 1.05, 0.1]);
    const films = [2.1 * 1.05, 1.38 * 0.9, 2.1 * 1.05].map((n) => constantIndex(n));
    run.openShutter(0);
    run.advance(60);
    run.closeShutter(59, 0);
    run.openShutter(1);
    run.advance(60);
    run.closeShutter(59, 0);
    run.openShutter(2);
    run.advance(60);
    expect(run.light[59]).toEqual(near(exactly(films, [15, 15], 15)));
    run.begin(new ScriptedRandom([0, 0, 0]));
    expect(Array.from(run.indexFactor)).toEqual([1, 1, 1, 1]);
    run.openShutter(0);
    run.advance(60);
    expect(run.light[59]).toEqual(near(exactly([high], [], 15)));
  });

  it('goes on after the reading at which it was cut, part of a sample included', () => {
    const run = chamber([layer(high)], { shutterDelayS: 0.45 });
    run.openShutter(0);
    run.advance(8);
    // 0.75 s after the third reading: a sample and a half.
    run.closeShutter(2, 0.3);
    expect(run.thicknessNm[0]).toBeCloseTo(4.5 * STEP_NM, 12);
  });

  it('ends, and draws no further number, with the reading at which a shutter without delay was closed', () => {
    const random = new ScriptedRandom([1]);
    const run = chamber([layer(high)], { rateNoisePercent: 40 }, random);
    run.openShutter(0);
    run.advance(1);
    run.closeShutter(0, 0);
    expect(run.thicknessNm[0]).toBeCloseTo(1.4 * STEP_NM, 12);
  });

  it.each(CUT_RULES)('is nothing where no thickness is planned, whatever the shutter takes: %s', (rule) => {
    const run = chamber([layer(high, { thicknessNm: 0, rule }), layer(low)], { shutterDelayS: 1 });
    expect(run.openShutter(0)).toBe(0);
    run.closeShutter(0, 1);
    expect([run.thicknessNm[0], run.ending[0]]).toEqual([0, CUT_AS_RULED]);
    run.openShutter(1);
    expect(run.light[0]).toEqual(near((0.52 / 2.52) ** 2));
  });

  it('draws the luck of all layers from one source, thin ones too that end with their first reading', () => {
    const byCrystal = (thicknessNm: number) => layer(high, { rule: 'crystal', thicknessNm });
    const random = new ScriptedRandom([25, 0]);
    const run = new VirtualRun(
      setUpRuns(glass, [byCrystal(40), byCrystal(0.125)], { ...NO_NOISE, sampleS: 0.5, crystalPercent: 1 }),
    );
    run.runAll(random);
    // The first crystal reads a quarter too much.
    expect(Array.from(run.thicknessNm)).toEqual([expect.closeTo(32, 12), 0.125]);
    expect(random.left).toBe(0);
  });

  it('is forgotten when the next run begins', () => {
    const run = chamber([
      layer(high),
      layer(constantIndex(1.52), { rule: 'turning-point', newWitness: true }),
    ]);
    run.runAll(new ScriptedRandom());
    expect(Array.from(run.thicknessNm)).toEqual([40, 52]);
    expect(Array.from(run.ending)).toEqual([0, 2]);
    run.begin(new ScriptedRandom());
    expect(Array.from(run.thicknessNm)).toEqual([0, 0]);
    expect(Array.from(run.ending)).toEqual([0, 0]);
  });
});

describe('the crystal of a virtual run', () => {
  const byCrystal = layer(high, { rule: 'crystal' });
  const failing = { mishaps: [{ kind: 'crystal-failure', layer: 0, atPercent: 2 }] } as const;

  it('is lost at the very reading of its mishap, and its layer is told so until the next run begins', () => {
    const run = chamber([byCrystal], { rateBiasPercent: 100 }, new ScriptedRandom(), failing);
    run.openShutter(0);
    run.advance(1);
    // At twice the set rate 2 % of 40 nm are reached with the second sample.
    expect([run.crystalNm[0], run.crystalFailed]).toEqual([0.5, false]);
    run.advance(3);
    expect([...run.crystalNm.subarray(0, 3), run.crystalFailed]).toEqual([0.75, 1, 1.25, true]);
    run.closeShutter(2, 0);
    expect(run.crystalState[0]).toBe(CRYSTAL_LOST);
    run.begin(new ScriptedRandom());
    expect([run.crystalState[0], run.crystalFailed]).toEqual([CRYSTAL_KEPT, false]);
  });

  it('may be lost later in a batch', () => {
    const run = chamber([byCrystal], { rateBiasPercent: 100 }, new ScriptedRandom(), failing);
    run.openShutter(0);
    run.advance(4);
    expect(Array.from(run.crystalNm.subarray(0, 4))).toEqual([0.5, 0.75, 1, 1.25]);
  });

  it('starts each layer from nothing, with the first reading already shown to the controller', () => {
    const run = chamber([byCrystal, layer(high, { rule: 'crystal', thicknessNm: 0.125 })]);
    run.openShutter(0);
    run.advance(4);
    run.closeShutter(3, 0);
    expect(run.openShutter(1)).toBe(0);
    expect([run.crystalNm[0], run.grownNm[0], run.controller.closeAfterS]).toEqual([0, 0, 0.25]);
  });

  it('tells what is left of its budget while a layer grows, where anything is known of it', () => {
    const stock = { budgetHz: 1000, fallHzPerNm: [10] };
    const run = new VirtualRun(setUpRuns(glass, [byCrystal], { ...NO_NOISE, sampleS: 0.5 }, stock));
    run.begin(new Random(1));
    run.openShutter(0);
    expect(run.crystalLeftHz).toBe(1000);
    run.advance(8);
    expect([run.crystalLeftHz, run.crystalFailed]).toEqual([980, false]);
    expect(chamber([byCrystal]).crystalLeftHz).toBeUndefined();
  });
});
