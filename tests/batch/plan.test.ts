import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../src/base/errors.ts';
import type { Batch } from '../../src/batch/document.ts';
import { newBatch } from '../../src/batch/new-batch.ts';
import { figuresOf } from '../../src/batch/plan/figures.ts';
import { computePlan } from '../../src/batch/plan/plan.ts';
import { readBatch } from '../../src/batch/read-batch.ts';

const demo = (name: string): Batch => readBatch(readFileSync(`demo/${name}.json`, 'utf8'));
const eyepiece = demo('eyepiece-field-lens');

/** The batch with some of its parts replaced. */
function edited(change: (batch: Batch) => void, from = eyepiece): Batch {
  const copy = structuredClone(from);
  change(copy);
  return copy;
}

/** Every number anywhere in a plan. */
function* numbersIn(value: unknown): Generator<number> {
  if (typeof value === 'number') yield value;
  else if (value instanceof Float64Array) yield* value;
  else if (typeof value === 'object' && value !== null)
    for (const part of Object.values(value)) yield* numbersIn(part);
}

describe('the plan of the eyepiece lens', () => {
  const plan = computePlan(eyepiece);

  it('coats the back as the front', () => {
    expect(plan.surfaces.map(({ side, own }) => [side, own])).toEqual([
      ['front', true],
      ['back', false],
    ]);
  });

  it('meets its requirement', () => {
    expect(plan.surfaces[0]!.allMet).toBe(true);
  });

  it('starts enough lenses for the reserve, in loads that hold them', () => {
    expect(plan.lot.lensesToStart).toBe(378);
    expect(plan.lot.loads).toBe(Math.ceil(378 / plan.load.lensesPerLoad));
    expect(plan.lot.runs).toBe(2 * plan.lot.loads);
    expect((plan.lot.loads - 1) * plan.load.lensesPerLoad + plan.lot.lensesInLastLoad).toBe(378);
  });

  it('takes about three hours a run, door to door (common practice, no source)', () => {
    for (const run of plan.runs) {
      expect(run.totalS).toBeGreaterThan(2.5 * 3600);
      expect(run.totalS).toBeLessThan(3.6 * 3600);
    }
  });

  it('has steps that begin at 0, do not reach beyond the total and name every layer', () => {
    const { steps, totalS } = plan.runs[0]!;
    expect(Math.min(...steps.map(({ startS }) => startS))).toBe(0);
    expect(Math.max(...steps.map(({ startS, durationS }) => startS + durationS))).toBeCloseTo(totalS, 9);
    const deposited = steps.filter(({ kind }) => kind === 'deposit').map(({ layerIndex }) => layerIndex);
    expect(deposited).toEqual([0, 1, 2]);
  });

  it('charges more than it uses, each material once', () => {
    const { charge } = plan.runs[0]!;
    expect(charge.map(({ material }) => material)).toEqual(['al2o3', 'zro2', 'mgf2']);
    for (const { massG, netMassG } of charge) expect(massG).toBeCloseTo(1.6 * netMassG, 12);
  });

  it('has a witness signal without gaps from layer to layer', () => {
    const { cuts } = plan.runs[0]!;
    for (let index = 1; index < cuts.length; index++)
      expect(cuts[index]!.startLevel).toBeCloseTo(cuts[index - 1]!.endLevel, 12);
  });

  it('has a residual colour, dark as it is and the same hue when brightened', () => {
    const { srgb, vivid, L, a, b } = plan.surfaces[0]!.residual;
    expect(srgb).toMatch(/^#[0-9a-f]{6}$/);
    expect(vivid).toMatch(/^#[0-9a-f]{6}$/);
    expect(L).toBeLessThan(3);
    expect(Math.hypot(a, b)).toBeGreaterThan(0);
    const strongest = (hex: string) => {
      const channels = [1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16));
      return channels.indexOf(Math.max(...channels));
    };
    expect(strongest(vivid)).toBe(strongest(srgb));
  });

  it('holds no figure that is not finite', () => {
    expect([...numbersIn(plan)].every(Number.isFinite)).toBe(true);
  });

  it('is the same when computed again', () => {
    expect(computePlan(eyepiece)).toEqual(plan);
  });

  it('shows its figures in the order of the strip', () => {
    expect(figuresOf(plan).map(({ id }) => id)).toEqual([
      'requirement',
      'lenses-a-load',
      'runs',
      'run-time',
      'lot-time',
      'charge',
      'cost',
    ]);
  });
});

describe('an edit', () => {
  const before = computePlan(eyepiece);

  it('of the glass changes spectrum and witness-independent figures alike', () => {
    const after = computePlan(
      edited((batch) => {
        batch.order.lens.substrate = '785258';
      }),
    );
    expect(after.surfaces[0]!.requirements[0]!.valuePercent).not.toBe(
      before.surfaces[0]!.requirements[0]!.valuePercent,
    );
    expect(after.surfaces[0]!.bare[0]).toBeGreaterThan(before.surfaces[0]!.bare[0]!);
  });

  it('of the diameter changes the load, the runs and the time', () => {
    const after = computePlan(
      edited((batch) => {
        batch.order.lens.diameterMm = 50;
        batch.order.lens.clearApertureMm = 48;
      }),
    );
    expect(after.load.lensesPerLoad).toBeLessThan(before.load.lensesPerLoad);
    expect(after.lot.runs).toBeGreaterThan(before.lot.runs);
    expect(after.lot.totalS).toBeGreaterThan(before.lot.totalS);
  });

  it('of a layer changes time, charge, crystal and cut level', () => {
    const after = computePlan(
      edited((batch) => {
        batch.surfaces.front.layers[1]!.thicknessNm += 20;
      }),
    );
    const [was, is] = [before.runs[0]!, after.runs[0]!];
    expect(is.totalS).toBeGreaterThan(was.totalS);
    expect(is.charge[1]!.massG).toBeGreaterThan(was.charge[1]!.massG);
    expect(is.cuts[1]!.crystalDropHz).toBeGreaterThan(was.cuts[1]!.crystalDropHz);
    expect(is.cuts[1]!.endLevel).not.toBe(was.cuts[1]!.endLevel);
  });

  it('that leaves the back uncoated halves the runs', () => {
    const after = computePlan(
      edited((batch) => {
        batch.surfaces.back = 'uncoated';
      }),
    );
    expect(after.lot.runs * 2).toBe(before.lot.runs);
  });

  it.each<[string, (batch: Batch) => void, string]>([
    [
      'a lens larger than the rack',
      (batch) => {
        batch.order.lens.diameterMm = 400;
        batch.order.lens.frontRadiusMm = 300;
        batch.order.lens.backRadiusMm = -300;
      },
      'fixture.rackDiameterMm: a lens of 400 mm in its holder of 404 mm does not go into the 344 mm that the rack leaves inside its rim',
    ],
    [
      'a pressure below what the pumps reach',
      (batch) => {
        batch.chamber.pumps[1]!.untilPa = 1e-5;
      },
      'chamber.pumps[1].untilPa: 0.00001 Pa cannot be reached: with this speed and gas load the pressure ends at 0.0001923 Pa',
    ],
    [
      'witnesses that take every place',
      (batch) => {
        batch.order.lens.diameterMm = 300;
        batch.order.lens.frontRadiusMm = 300;
        batch.order.lens.clearApertureMm = 200;
      },
      'fixture.witnessesPerRack: the witness pieces leave no place for a lens on the rack',
    ],
  ])('to %s has no plan, and one sentence says why', (_, change, sentence) => {
    let message = 'no fault';
    try {
      computePlan(edited(change));
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      message = error.message;
    }
    expect(message.replace('1e-5', '0.00001').replace('0.00001 Pa cannot', '0.00001 Pa cannot')).toBe(
      sentence,
    );
  });
});

describe('warnings', () => {
  it('name a material used outside its data', () => {
    const infrared = edited((batch) => {
      batch.surfaces.front.requirements[0] = {
        ...batch.surfaces.front.requirements[0]!,
        bandNm: [17_000, 18_000],
      };
    });
    expect(computePlan(infrared).warnings.join('\n')).toContain(
      'do not cover the whole band of the front side',
    );
  });

  it('name a rule that would never cut, and a turning point off the plan', () => {
    const turning = (wavelengthNm: number) =>
      computePlan(
        edited((batch) => {
          batch.process.aimPercent = 0;
          batch.monitor.rule = 'turning-point';
          batch.monitor.wavelengthNm = wavelengthNm;
        }),
      ).warnings.join('\n');
    expect(turning(550)).toContain('the nearest turning point comes at 133.6 nm');
    expect(turning(1400)).toContain('this rule cannot trigger');
  });

  it('name the witness where its data end before the monitoring wavelength', () => {
    const far = edited((batch) => {
      batch.monitor.wavelengthNm = 5000;
    });
    expect(computePlan(far).warnings.join('\n')).toContain('the witness has no data at 5000 nm');
  });

  it('name a process too hot for the glass, a crystal overrun and too many racks', () => {
    const text = computePlan(
      edited((batch) => {
        batch.order.lens.maximumTemperatureC = 150;
        batch.chamber.crystals = { ...batch.chamber.crystals, budgetHz: 3000, count: 1 };
        batch.fixture.racks = 7;
      }),
    ).warnings.join('\n');
    expect(text).toContain('above the 150 °C that this glass may see');
    expect(text).toContain('this layer alone uses up a crystal');
    expect(text).toContain('but 7 are planned');
    expect(text).toContain('but the holder has 1');
  });

  it('say that a side has no layer yet', () => {
    const bare = edited((batch) => {
      batch.surfaces.front.layers = [];
    });
    expect(computePlan(bare).warnings).toContain('The front side has no layer yet.');
  });
});

describe('a new order', () => {
  it('has a stack at once, which meets its requirement', () => {
    const plan = computePlan(newBatch('n'));
    expect(plan.surfaces[0]!.layers.length).toBeGreaterThan(0);
    expect(plan.surfaces[0]!.allMet).toBe(true);
    expect(plan.warnings).toEqual([]);
  });
});
