import { describe, expect, it } from 'vitest';
import { rampDurationS, safeRateKPerMin } from '../../src/chamber/heating.ts';
import { type RunDescription, type RunSchedule, scheduleRun } from '../../src/chamber/schedule.ts';

const layer = { thicknessNm: 100, rateNmPerS: 0.5, rampS: 60, soakS: 40, shutterDelayS: 1 };
/** An invented run of a small shop. */
const run: RunDescription = {
  loadS: 900,
  pumpStages: [
    { label: 'Rough', durationS: 600 },
    { label: 'High vacuum', durationS: 1500 },
  ],
  heating: { fromC: 20, toC: 250, surroundingsC: 300, timeConstantS: 1200, soakS: 900, afterStages: 1 },
  layers: [
    { ...layer, label: '1 TiO2', rateNmPerS: 0.2, pocket: 'A', backfillSettleS: 120 },
    { ...layer, label: '2 SiO2', pocket: 'B' },
    { ...layer, label: '3 SiO2', pocket: 'B', crystalChange: true },
  ],
  pocketChangeS: 20,
  crystalChangeS: 30,
  cooling: { fromC: 250, toC: 80, surroundingsC: 25, timeConstantS: 2400 },
  ventS: 300,
  unloadS: 600,
  cleanS: 1200,
};

/** What must hold for every schedule. */
function expectSound({ steps, totalS, criticalPath }: RunSchedule): void {
  const end = new Map(steps.map((step) => [step.id, step.startS + step.durationS]));
  for (const step of steps) {
    expect(step.durationS).toBeGreaterThan(0);
    const waits = step.waitsFor.map((id) => end.get(id)!);
    expect(step.startS).toBeCloseTo(Math.max(0, ...waits), 9);
    if (step.limitedBy !== undefined) expect(end.get(step.limitedBy)).toBe(step.startS);
  }
  expect(totalS).toBe(Math.max(0, ...end.values()));
  const critical = steps.filter((step) => criticalPath.includes(step.id));
  expect(critical.reduce((sum, step) => sum + step.durationS, 0)).toBeCloseTo(totalS, 6);
  for (const step of critical) expect(step.slackS).toBeCloseTo(0, 6);
}

describe('the steps of a run', () => {
  const schedule = scheduleRun(run);
  const step = (id: string) => schedule.steps.find((item) => item.id === id)!;

  it('follow each other without gap or overlap where they wait', () => {
    expectSound(schedule);
    expectSound(scheduleRun({ ...run, layers: [] }));
  });

  it('let the heaters work while the pumps do, and wait for both', () => {
    expect(step('heat').startS).toBe(1500);
    expect(step('pump-2').startS).toBe(1500);
    const warmS = 1500 + 1200 * Math.log(280 / 50) + 900;
    expect(step('layer-1-ramp').startS).toBeCloseTo(Math.max(warmS, 3000), 9);
    expect(step('layer-1-ramp').limitedBy).toBe('soak');
    expect(step('pump-2').slackS).toBeCloseTo(warmS - 3000, 6);
  });

  it('let gas settle while the source ramps, and deposit when both are ready', () => {
    const ready = step('layer-1-shutter');
    expect(ready.startS).toBeCloseTo(step('layer-1-backfill').startS + 120, 9);
    expect(ready.limitedBy).toBe('layer-1-backfill');
    expect(step('layer-1-deposit').durationS).toBeCloseTo(500, 9);
  });

  it('are named for the people at the machine, in the order in which they begin', () => {
    const named = (description: RunDescription) =>
      scheduleRun(description).steps.map(({ id, label, kind }) => `${id}, ${kind}: ${label}`);
    expect(named({ ...run, layers: run.layers.slice(2) })).toEqual([
      'load, load: Load the chamber',
      'pump-1, pump: Rough',
      'heat, heat: Heat to 250 °C',
      'pump-2, pump: High vacuum',
      'soak, soak: Soak at 250 °C',
      'layer-1-crystal, crystal: 3 SiO2: change the crystal',
      'layer-1-ramp, ramp: 3 SiO2: raise the power',
      'layer-1-source-soak, source-soak: 3 SiO2: soak the source',
      'layer-1-shutter, shutter: 3 SiO2: open the shutter',
      'layer-1-deposit, deposit: 3 SiO2: deposit',
      'cool, cool: Cool to 80 °C',
      'vent, vent: Vent',
      'unload, unload: Unload',
      'clean, clean: Clean and prepare the next run',
    ]);
    const layers = named(run).filter((step) => /^layer-[12]-(backfill|pocket)/.test(step));
    expect(layers).toEqual([
      'layer-1-backfill, backfill: 1 TiO2: let the gas settle',
      'layer-2-pocket, pocket: 2 SiO2: turn to pocket B',
    ]);
    const { heating, cooling, ...plain } = run;
    const bare = named({ ...plain, layers: [] });
    expect(bare.map((step) => step.split(',')[0])).toEqual([
      'load',
      'pump-1',
      'pump-2',
      'vent',
      'unload',
      'clean',
    ]);
    expect(() => scheduleRun({ ...run, cooling: { ...cooling!, surroundingsC: 90 } })).toThrow(
      'cooling.toC: 80 °C is never reached from 250 °C: the surroundings are at 90 °C',
    );
    expect(named({ ...plain, heating: { ...heating!, afterStages: 0 } })[1]).toBe(
      'heat, heat: Heat to 250 °C',
    );
  });

  it('turn the pocket only where the material changes it, and change the crystal where told', () => {
    expect(schedule.steps.filter((item) => item.kind === 'pocket').map((item) => item.layerIndex)).toEqual([
      1,
    ]);
    expect(schedule.steps.filter((item) => item.kind === 'crystal').map((item) => item.layerIndex)).toEqual([
      2,
    ]);
  });

  it('take about three hours door to door for a multilayer antireflection run', () => {
    // Common practice, no source.
    expect(schedule.totalS / 3600).toBeGreaterThan(2.5);
    expect(schedule.totalS / 3600).toBeLessThan(4);
  });

  it('last longer by the tooling where less arrives on the lens', () => {
    const slow = scheduleRun({ ...run, layers: [{ ...layer, label: '1', tooling: 0.8 }] });
    expect(slow.steps.find((item) => item.kind === 'deposit')!.durationS).toBeCloseTo(250, 9);
  });

  it.each([
    [
      { layers: [{ ...layer, label: 'x', rateNmPerS: 0 }] },
      'layers[0].rateNmPerS: 0 nm/s is not above 0 nm/s',
    ],
    [{ ventS: -1 }, 'ventS: -1 s is below 0 s'],
    [
      { heating: { ...run.heating!, surroundingsC: 240 } },
      'heating.toC: 250 °C is never reached from 20 °C: the surroundings are at 240 °C',
    ],
  ])('are refused with a sentence: %o', (change, sentence) => {
    expect(() => scheduleRun({ ...run, ...change })).toThrow(sentence);
  });
});

describe('heating', () => {
  it('held to a rate takes the step over the rate, then follows its time constant', () => {
    const free = { fromC: 20, toC: 290, surroundingsC: 300, timeConstantS: 600 };
    expect(rampDurationS(free)).toBeCloseTo(600 * Math.log(28), 9);
    // 2 K/min is 20 K over a time constant: held from 20 to 280 °C, free for the last 10 K.
    expect(rampDurationS({ ...free, maxRateKPerMin: 2 })).toBeCloseTo((260 / 2) * 60 + 600 * Math.log(2), 9);
    expect(rampDurationS({ ...free, maxRateKPerMin: 1e3 })).toBeCloseTo(rampDurationS(free), 9);
    expect(rampDurationS({ ...free, toC: 20 })).toBe(0);
  });

  it('of a thicker plate must be slower by the square of its thickness', () => {
    const glass = {
      thicknessMm: 10,
      youngGPa: 82,
      poisson: 0.206,
      expansionPerK: 7.1e-6,
      conductivityWPerMK: 1.114,
      densityGPerCm3: 2.51,
      heatJPerGK: 0.858,
      allowedMPa: 5,
    };
    const thin = safeRateKPerMin(glass);
    expect(safeRateKPerMin({ ...glass, thicknessMm: 40 })).toBeCloseTo(thin / 16, 9);
    // By hand: 1.5 · 5 · 0.794 / (82000 · 7.1e-6) = 10.23 K; · 2 · 0.5173 mm²/s / 25 mm² · 60 = 25.4 K/min.
    expect(thin).toBeCloseTo(25.4, 1);
  });
});
