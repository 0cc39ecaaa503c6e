import { describe, expect, it } from 'vitest';
import { appendEntry, trailFault } from '../../src/batch/audit-trail.ts';
import { controlChart, RANGE_OF_TWO } from '../../src/inspect/control-chart.ts';
import { removeBackSide } from '../../src/inspect/remove-back-side.ts';
import { smoothSpectrum } from '../../src/inspect/smooth-spectrum.ts';
import { correctedTooling, pooledTooling } from '../../src/inspect/tooling-correction.ts';
import { startingWith } from '../support/refusals.ts';

describe('the tooling for the next run', () => {
  it('is smaller by as much as the lens came out thicker, and then gives the plan', () => {
    const planned = 100;
    const truth = 0.8; // sensor over lens
    const used = 0.84;
    const onLens = (tooling: number) => (planned * tooling) / truth;
    const { tooling, sigma } = correctedTooling(used, onLens(used) / planned, 0.0105);
    expect(tooling).toBeCloseTo(truth, 12);
    expect(onLens(tooling)).toBeCloseTo(planned, 10);
    expect(sigma).toBeCloseTo((0.8 * 0.0105) / 1.05, 12);
  });

  it('is pooled from runs by their certainty, and scatter beyond it counts', () => {
    expect(pooledTooling([])).toBeUndefined();
    expect(pooledTooling([{ tooling: 0.8, sigma: 0.01 }])).toEqual({ tooling: 0.8, sigma: 0.01 });
    const near = pooledTooling([
      { tooling: 0.8, sigma: 0.01 },
      { tooling: 0.83, sigma: 0.02 },
    ])!;
    expect(near.tooling).toBeCloseTo((0.8 * 4 + 0.83) / 5, 12);
    // Weights 10000 and 2500; chi squared 0.6² + 1.2² with one degree of freedom.
    expect(near.sigma).toBeCloseTo(Math.sqrt(1.8 / 12_500), 12);
    const agreeing = [0.8, 0.805, 0.795].map((tooling) => ({ tooling, sigma: 0.01 }));
    expect(pooledTooling(agreeing)!.sigma).toBeCloseTo(0.01 / Math.sqrt(3), 12);
    const astray = [0.7, 0.8, 0.9].map((tooling) => ({ tooling, sigma: 0.01 }));
    expect(pooledTooling(astray)!.sigma).toBeCloseTo(0.1 / Math.sqrt(3), 12);
    const far = pooledTooling([
      { tooling: 0.7, sigma: 0.01 },
      { tooling: 0.9, sigma: 0.01 },
    ])!;
    expect(far.sigma).toBeCloseTo(0.1, 12); // half the distance, as scatter alone would give
  });

  it('is refused where a factor makes no sense', () => {
    const sound = { tooling: 0.8, sigma: 0.01 };
    for (const [ask, fault] of [
      [() => correctedTooling(0, 1, 0), 'tooling: 0 is not above 0'],
      [() => correctedTooling(1, 0, 0), 'thicknessFactor: 0 is not above 0'],
      [() => correctedTooling(1, 1, -0.1), 'sigmaOfFactor: -0.1 is below 0'],
      [() => pooledTooling([sound, { ...sound, tooling: 0 }]), '[1].tooling: 0 is not above 0'],
      [() => pooledTooling([sound, { ...sound, sigma: 0 }]), '[1].sigma: 0 is not above 0'],
    ] as const)
      expect(ask).toThrow(startingWith(fault));
    expect(correctedTooling(1, 1, 0)).toEqual({ tooling: 1, sigma: 0 });
  });
});

describe('the control chart', () => {
  it('has the published constants, which follow from the range of two normal numbers', () => {
    const d2 = 2 / Math.sqrt(Math.PI); // mean of |x1 − x2| in units of sigma
    const d3 = Math.sqrt(2 - d2 ** 2);
    expect(RANGE_OF_TWO.d2).toBe(Number(d2.toFixed(3)));
    expect(RANGE_OF_TWO.limitFactor).toBe(Number((3 / 1.128).toFixed(2)));
    expect(RANGE_OF_TWO.D4).toBe(Number((1 + (3 * d3) / d2).toFixed(3)));
  });

  it('draws limits from moving ranges', () => {
    const chart = controlChart([10, 12, 11, 13, 9])!;
    expect(chart.centre).toBe(11);
    expect(chart.meanRange).toBe((2 + 1 + 2 + 4) / 4);
    expect(chart.upper).toBeCloseTo(11 + 2.66 * 2.25, 12);
    expect(chart.alarms).toEqual([]);
    expect(controlChart([1, 2, 3, 4])).toBeUndefined();
  });

  it('alarms at a point outside, a jump, a one-sided run and a trend', () => {
    const quiet = [0, 1, 0, 1, 0, 1, 0, 1, 0, 1];
    const kinds = (values: readonly number[]) =>
      controlChart(values)!.alarms.map(({ kind, point }) => [kind, point]);
    expect(kinds([...quiet, 20])).toEqual(
      expect.arrayContaining([
        ['outside', 10],
        ['jump', 10],
      ]),
    );
    expect(kinds([...quiet.map((value) => value - 5), ...quiet])).toContainEqual(['one-sided', 8]);
    expect(kinds([1, 0, 1, 0, 2, 3, 4, 5, 6])).toContainEqual(['trend', 8]);
    expect(kinds(quiet)).toEqual([]);
    const names = [...quiet, 20].map((_, i) => `run ${i + 4}`);
    const outside = controlChart([...quiet, 20], names)!.alarms.find(({ kind }) => kind === 'outside');
    expect(outside!.sentence).toBe('run 14 lies outside the control limits');
  });
});

describe('corrections of a measured curve', () => {
  const nm = Float64Array.from({ length: 21 }, (_, i) => 400 + 10 * i + (i % 3));

  it('smooth noise and leave a parabola as it is', () => {
    const parabola = nm.map((x) => 0.01 + ((x - 480) / 1000) ** 2);
    smoothSpectrum(nm, parabola, 7).forEach((value, i) => {
      expect(value).toBeCloseTo(parabola[i]!, 12);
    });
    const jagged = nm.map((_, i) => (i % 2 === 0 ? 1 : -1));
    const left = smoothSpectrum(nm, jagged, 9).map(Math.abs);
    expect(Math.max(...left.slice(4, 17))).toBeLessThan(0.3);
  });

  it.each([1e-3, 1, 1e3])('leave a parabola as it is where the points lie %f nm apart', (spacing) => {
    const x = nm.map((value) => spacing * value);
    const parabola = x.map((value) => 0.5 - (value / (spacing * 800)) ** 2);
    for (const points of [5, 7, 21])
      smoothSpectrum(x, parabola, points).forEach((value, i) => {
        expect(value).toBeCloseTo(parabola[i]!, 9);
      });
  });

  it('smooth the ends by the parabola of the nearest five: (31, 9, −3, −5, 3) / 35', () => {
    // The weights for the first of five even points, from the same normal equations (textbook; worked out by hand).
    const even = Float64Array.of(1, 2, 3, 4, 5, 6, 7);
    for (const [i, weight] of [31, 9, -3, -5, 3].entries()) {
      const unit = new Float64Array(7);
      unit[i] = 1;
      expect(smoothSpectrum(even, unit, 5)[0]).toBeCloseTo(weight / 35, 12);
      expect(smoothSpectrum(even, unit.toReversed(), 5)[6]).toBeCloseTo(weight / 35, 12);
    }
  });

  it('smooth with the weights that were published for five even points: (−3, 12, 17, 12, −3) / 35', () => {
    const even = Float64Array.of(1, 2, 3, 4, 5);
    for (const [i, weight] of [-3, 12, 17, 12, -3].entries()) {
      const unit = new Float64Array(5);
      unit[i] = 1;
      expect(smoothSpectrum(even, unit, 5)[2]).toBeCloseTo(weight / 35, 12);
      const longer = Float64Array.of(0, 0, ...unit, 0);
      expect(smoothSpectrum(Float64Array.of(-1, 0, ...even, 6), longer, 5)[4]).toBeCloseTo(weight / 35, 12);
    }
  });

  it('take the back side off again that was added', () => {
    const [front, back] = [0.004, 0.0426];
    const total = (front + back - 2 * front * back) / (1 - front * back);
    expect(removeBackSide(Float64Array.of(total), Float64Array.of(back))[0]).toBeCloseTo(front, 14);
  });

  it.each([
    [() => smoothSpectrum(nm, nm, 6), 'points: 6 is not an odd whole number from 5'],
    [() => smoothSpectrum(nm, nm, 3), 'points: 3 is not an odd whole number from 5'],
    [() => smoothSpectrum(nm, nm, 5.5), 'points: 5.5 is not an odd whole number from 5'],
    [
      () => smoothSpectrum(new Float64Array(5).fill(400), nm.slice(0, 5), 5),
      'wavelengthNm: the wavelengths are not all different',
    ],
    [
      () => smoothSpectrum(Float64Array.of(400, 400, 400, 410, 410), nm.slice(0, 5), 5),
      'wavelengthNm: the wavelengths are not all different',
    ],
    [
      () => removeBackSide(Float64Array.of(0.1), Float64Array.of(-0.1)),
      'back[0]: -0.1 is not from 0 to below 1',
    ],
    [() => smoothSpectrum(nm, nm, 23), 'points: 23 is above 21, the number of wavelengths'],
    [() => removeBackSide(nm, nm.slice(1)), 'back: there are 20 values for 21 wavelengths'],
    [() => removeBackSide(Float64Array.of(0.1), Float64Array.of(1)), 'back[0]: 1 is not from 0 to below 1'],
  ])('are refused with one sentence (%#)', (correct, fault) => {
    expect(correct).toThrow(startingWith(fault));
  });

  it('take nothing off where the back side is coated to have no reflectance', () => {
    expect(removeBackSide(Float64Array.of(0.1), Float64Array.of(0))).toEqual(Float64Array.of(0.1));
  });
});

describe('the audit trail', () => {
  const first = { at: '2026-03-02T08:15:00Z', by: 'mk', did: 'run 1 loaded, 48 lenses' };
  const second = { at: '2026-03-02T11:40:00Z', by: 'mk', did: 'run 1 done' };
  const trail = appendEntry(appendEntry([], first), second);

  it('is appended to and leaves what it was', () => {
    const before = appendEntry([], first);
    const after = appendEntry(before, second);
    expect(before.length).toBe(1);
    expect(after[0]).toBe(before[0]);
    expect(trailFault(after)).toBeUndefined();
  });

  it.each([
    ['changed', trail.map((entry, i) => (i === 0 ? { ...entry, did: 'run 1 loaded, 50 lenses' } : entry)), 1],
    ['taken out', trail.slice(1), 1],
    ['slipped in', [trail[0]!, appendEntry([], second)[0]!, trail[1]!], 2],
    ['put in another order', [...trail].reverse(), 1],
    ['changed at its end', trail.map((entry, i) => (i === 1 ? { ...entry, by: 'xx' } : entry)), 2],
  ])('shows that an entry was %s, and goes on showing it when more is written', (_, tampered, number) => {
    const fault = `entry ${number} was changed, or one before it taken out or slipped in, after it was made`;
    expect(trailFault(tampered)).toBe(fault);
    expect(trailFault(appendEntry(tampered, second))).toBe(fault);
  });

  it('seals the number of the run with the entry', () => {
    const about = appendEntry([], { ...first, run: 1 });
    expect(trailFault(about)).toBeUndefined();
    expect(trailFault([{ ...about[0]!, run: 2 }])).toContain('entry 1');
  });

  it.each([
    [{ ...first, did: ' ' }, 'did: the entry says nothing'],
    [{ ...first, by: '' }, "by: the entry lacks the person's initials"],
    [{ ...first, at: 'yesterday' }, 'at: "yesterday" is no date and time'],
  ])('refuses an entry that says too little', (entry, fault) => {
    expect(() => appendEntry([], entry)).toThrow(fault);
  });
});
