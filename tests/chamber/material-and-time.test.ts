import { describe, expect, it } from 'vitest';
import { planCalendar } from '../../src/chamber/calendar.ts';
import { lotCost } from '../../src/chamber/cost.ts';
import { planCrystals } from '../../src/chamber/crystal-life.ts';
import { planMaterial } from '../../src/chamber/material-use.ts';
import { toolingFactor } from '../../src/chamber/tooling.ts';

describe('tooling from geometry', () => {
  const source = { offsetMm: 0, exponent: 1 };
  it('is the ratio of the arrivals: (h2/h1)^2 on the axis', () => {
    const tooling = toolingFactor(source, { kind: 'rotating', heightMm: 600 }, 0, {
      offsetMm: 0,
      heightMm: 500,
    });
    expect(tooling.sensorOverLens).toBeCloseTo(1.44, 12);
    expect(tooling.sensorOverLens * tooling.lensOverSensor).toBeCloseTo(1, 12);
  });

  it('of a sensor that turns with the carrier does not depend on where the source stands', () => {
    const at = (azimuthDeg: number, turning: boolean) =>
      toolingFactor({ offsetMm: 200, exponent: 2, azimuthDeg }, { kind: 'rotating', heightMm: 600 }, 100, {
        offsetMm: 150,
        heightMm: 600,
        turning,
      }).sensorOverLens;
    expect(at(90, true)).toBeCloseTo(at(0, true), 12);
    expect(at(90, false)).toBeLessThan(at(0, false));
  });

  it('of a sensor that looks away is refused', () => {
    expect(() =>
      toolingFactor({ offsetMm: 0, exponent: 1 }, { kind: 'rotating', heightMm: 600 }, 0, {
        offsetMm: 300,
        heightMm: 100,
        tiltDeg: -89,
      }),
    ).toThrow('sensor: the source does not reach it');
  });
});

describe('the life of crystals', () => {
  const layer = { thicknessNm: 1000, densityGPerCm3: 2.2, zRatio: 1 };
  it('ends before the layer that would go beyond the budget', () => {
    // 1000 nm of density 2.2 is 220 µg/cm2: 17.9 kHz at 6 MHz (81.5 Hz cm2/µg), so 40 kHz last for two.
    const steps = planCrystals([layer, layer, layer, layer], { frequencyHz: 6e6, budgetHz: 40_000 });
    expect(steps.map((step) => step.changeBefore)).toEqual([false, false, true, false]);
    expect(steps[0]!.endHz).toBeCloseTo(17_877, -1);
    expect(steps[2]!.startHz).toBe(0);
    expect(steps.every((step) => !step.overBudget && step.endHz <= 40_000)).toBe(true);
  });

  it('counts what the first crystal has already lost, and tells where none would last', () => {
    const worn = planCrystals([layer], { frequencyHz: 6e6, budgetHz: 40_000, usedHz: 30_000 });
    expect(worn[0]).toMatchObject({ changeBefore: true, overBudget: false });
    const thick = planCrystals([{ ...layer, thicknessNm: 5000 }], { frequencyHz: 6e6, budgetHz: 40_000 });
    expect(thick[0]).toMatchObject({ changeBefore: false, overBudget: true });
  });
});

describe('material', () => {
  it('is filled up between runs, as late as the least filling allows', () => {
    const draws = [
      { material: 'ta2o5', pocket: 'A', massG: 3 },
      { material: 'ta2o5', pocket: 'A', massG: 2 },
      { material: 'sio2', pocket: 'B', massG: 30 },
    ];
    const plan = planMaterial(draws, 7, {
      A: { capacityG: 20, leastG: 5 },
      B: { capacityG: 25, leastG: 5 },
    });
    expect(plan[0]).toMatchObject({
      pocket: 'A',
      perRunG: 5,
      totalG: 35,
      refillBeforeRun: [1, 4, 7],
      overdrawn: false,
    });
    expect(plan[1]).toMatchObject({ pocket: 'B', overdrawn: true });
  });
});

describe('the cost of a lot', () => {
  const effort = {
    goodLenses: 95,
    machineS: 7200,
    labourS: 3600,
    materialG: { sio2: 10 },
    crystals: 1,
    lostLenses: 5,
  };
  const prices = {
    machinePerHour: 100,
    labourPerHour: 40,
    materialPerG: { sio2: 0.5 },
    perCrystal: 8,
    perLens: 3,
  };
  it('is the sum of its items, and the lost lenses are among them', () => {
    const cost = lotCost(effort, prices);
    expect(cost).toMatchObject({ material: 5, machine: 200, labour: 40, crystals: 8 });
    expect(cost.scrap).toBeCloseTo(15, 9);
    expect(cost.total).toBeCloseTo(268, 9);
    expect(cost.perGoodLens).toBeCloseTo(268 / 95, 9);
  });
  it('asks for the price of every material', () => {
    expect(() => lotCost(effort, { ...prices, materialPerG: {} })).toThrow('prices.materialPerG.sio2');
  });
});

describe('the calendar of a lot', () => {
  const day = { fromMin: 6 * 60, toMin: 14 * 60 };
  const run = { label: 'front 1', beginS: 1800, aloneS: 9000, endS: 1800 };
  const request = {
    firstDay: '2026-11-27',
    shifts: [day],
    weekdays: [1, 2, 3, 4, 5],
    runs: [run, run, run, run],
  };
  it('begins runs while people are there, ends them with people, and skips the weekend', () => {
    // 27 November 2026 is a Friday.
    const entries = planCalendar({ ...request, aloneOutsideShifts: true });
    expect(entries.map((entry) => [entry.begins, entry.ends])).toEqual([
      ['2026-11-27T06:00', '2026-11-27T09:30'],
      ['2026-11-27T09:30', '2026-11-27T13:00'],
      ['2026-11-27T13:00', '2026-11-30T06:30'],
      ['2026-11-30T06:30', '2026-11-30T10:00'],
    ]);
  });
  it('keeps whole runs inside shifts where the machine may not work alone', () => {
    const entries = planCalendar({ ...request, aloneOutsideShifts: false });
    expect(entries[2]!.begins).toBe('2026-11-30T06:00');
  });
  it('runs through midnight where one shift ends and the next begins there', () => {
    const night = [
      { fromMin: 22 * 60, toMin: 24 * 60 },
      { fromMin: 0, toMin: 6 * 60 },
    ];
    const [first, second] = planCalendar({
      ...request,
      firstDay: '2026-11-30',
      shifts: night,
      runs: [run, run],
      aloneOutsideShifts: false,
    });
    // 3 h 30 min a run: one from Monday's first hours, the next from 03:30 would end at 07:00 and waits for the evening.
    expect([first!.begins, first!.ends]).toEqual(['2026-11-30T00:00', '2026-11-30T03:30']);
    expect([second!.begins, second!.ends]).toEqual(['2026-11-30T22:00', '2026-12-01T01:30']);
  });
  it('does not run from Friday night into a free Saturday', () => {
    const entries = planCalendar({
      ...request,
      shifts: [
        { fromMin: 22 * 60, toMin: 24 * 60 },
        { fromMin: 0, toMin: 6 * 60 },
      ],
      runs: [run, run],
      aloneOutsideShifts: false,
    });
    expect(entries.map(({ begins }) => begins)).toEqual(['2026-11-27T00:00', '2026-11-30T00:00']);
  });
  it('tells when people are done and when they are needed again', () => {
    const [first] = planCalendar({ ...request, aloneOutsideShifts: true });
    expect(first).toEqual({
      label: 'front 1',
      begins: '2026-11-27T06:00',
      aloneFrom: '2026-11-27T06:30',
      unloadFrom: '2026-11-27T09:00',
      ends: '2026-11-27T09:30',
    });
  });
  it('takes shifts in any order, one within another too, and gives up after ten years', () => {
    const shifts = [
      { fromMin: 720, toMin: 780 },
      { fromMin: 600, toMin: 840 },
      { fromMin: 360, toMin: 480 },
    ];
    const short = { label: 'x', beginS: 3601, aloneS: 0, endS: 3600 };
    const entries = planCalendar({
      ...request,
      shifts,
      runs: [short, short, short],
      aloneOutsideShifts: false,
    });
    // 61 min and 60 min: the first does not fit into 6 to 8, two do from 10 to 14 but for two minutes.
    expect(entries.map(({ begins }) => begins)).toEqual([
      '2026-11-27T10:00',
      '2026-11-30T10:00',
      '2026-12-01T10:00',
    ]);
    const hour = { label: 'x', beginS: 3600, aloneS: 0, endS: 0 };
    expect(() =>
      planCalendar({
        ...{ firstDay: '2026-11-30', weekdays: [1], shifts: [{ fromMin: 0, toMin: 60 }] },
        ...{ runs: Array.from({ length: 524 }, () => hour), aloneOutsideShifts: false },
      }),
    ).toThrow('runs[523]: the lot does not end within 3660 days');
  });
  it('refuses a shift that ends before it begins and weekdays that are none', () => {
    expect(() =>
      planCalendar({ ...request, shifts: [{ fromMin: 600, toMin: 600 }], aloneOutsideShifts: true }),
    ).toThrow('shifts[0].toMin: 600 min is not above 600 min');
    expect(() => planCalendar({ ...request, shifts: [], aloneOutsideShifts: true })).toThrow('at least one');
    expect(() => planCalendar({ ...request, weekdays: [], aloneOutsideShifts: true })).toThrow(
      'no working day',
    );
    expect(() => planCalendar({ ...request, weekdays: [8], aloneOutsideShifts: true })).toThrow(
      'weekdays[0]: 8 is above 7',
    );
  });
  it('refuses a day that is none and a step longer than any shift', () => {
    expect(() => planCalendar({ ...request, firstDay: 'soon', aloneOutsideShifts: true })).toThrow(
      'firstDay: "soon" is not a day such as 2026-11-30',
    );
    expect(() =>
      planCalendar({ ...request, runs: [{ ...run, beginS: 36_000 }], aloneOutsideShifts: true }),
    ).toThrow('runs[0].beginS: 600 min with people is above the longest shift of 480 min');
  });
});
