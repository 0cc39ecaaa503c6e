import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Batch } from '../../src/batch/document.ts';
import { planPlaces } from '../../src/batch/plan/places-plan.ts';
import { computePlan } from '../../src/batch/plan/plan.ts';
import { batchFrom, readBatch } from '../../src/batch/read-batch.ts';
import { travellerPage } from '../../src/batch/traveller/traveller-html.ts';
import { arrivalOnRotatingPlane } from '../../src/chamber/emission.ts';

const eyepiece = readBatch(readFileSync('demo/eyepiece-field-lens.json', 'utf8'));
const front = ({ distributions }: ReturnType<typeof computePlan>) => distributions[0]!;

function edited(change: (batch: Batch) => void): Batch {
  const copy = structuredClone(eyepiece);
  change(copy);
  return batchFrom(copy);
}

const onAxis = (motion: Batch['fixture']['motion'], change: (batch: Batch) => void = () => {}) =>
  edited((batch) => {
    batch.fixture.motion = motion!;
    batch.fixture.rackDiameterMm = 620;
    batch.surfaces.back = 'uncoated';
    change(batch);
  });

describe('a load of one turning rack', () => {
  const batch = onAxis('rotating');
  const plan = computePlan(batch);

  it('is one rack on the axis, whatever number of planets the batch keeps', () => {
    expect(batch.fixture.racks).toBeGreaterThan(1);
    expect(plan.load).toMatchObject({ racks: 1, racksThatFit: 1, racksAt: [{ xMm: 0, yMm: 0 }] });
    expect(plan.load.lensesPerLoad).toBe(plan.load.lensesPerRack);
    expect(plan.load.motion).toEqual({ kind: 'rotating', heightMm: batch.fixture.heightMm });
  });

  it('has the film of the closed form of a turning plane (Holland & Steckelmacher 1952)', () => {
    for (const { source, rack, perMassPerMm2 } of front(plan).materials) {
      const { offsetMm, exponent } = batch.chamber.sources.find(({ id }) => id === source)!;
      for (const [index, radius] of rack.radiusMm.entries()) {
        const expected = arrivalOnRotatingPlane(exponent, batch.fixture.heightMm, offsetMm, radius);
        expect((rack.relative[index]! * perMassPerMm2) / expected).toBeCloseTo(1, 9);
      }
    }
  });

  it('says on the traveller how it moves', () => {
    const page = travellerPage(batch, plan, { version: '0', fingerprint: '0'.repeat(64) });
    expect(page).toContain('one rack that turns on the axis');
    expect(page).toContain(`1 of 620 mm`);
  });

  it('that is too wide or low is refused with a sentence at its field', () => {
    expect(() =>
      computePlan(onAxis('rotating', ({ fixture }) => Object.assign(fixture, { rackDiameterMm: 1095 }))),
    ).toThrow(/^fixture\.rackDiameterMm: 1095 mm would touch the wall/);
    expect(() =>
      computePlan(onAxis('fixed', ({ fixture }) => Object.assign(fixture, { heightMm: 40 }))),
    ).toThrow(/^chamber\.sources\[0\]: the rack comes within 40 mm/);
  });
});

describe('a load at rest', () => {
  const batch = onAxis('fixed');
  const plan = computePlan(batch);

  it('has on every place the film of its distance from the source (Holland & Steckelmacher 1952)', () => {
    for (const { source, atPlaces, perMassPerMm2 } of front(plan).materials) {
      const { offsetMm, exponent, azimuthDeg } = batch.chamber.sources.find(({ id }) => id === source)!;
      const angle = (azimuthDeg * Math.PI) / 180;
      const h = batch.fixture.heightMm;
      plan.load.places.forEach(({ xMm, yMm }, place) => {
        const squared =
          h * h + (xMm - offsetMm * Math.cos(angle)) ** 2 + (yMm - offsetMm * Math.sin(angle)) ** 2;
        const expected =
          ((exponent + 1) * h ** (exponent + 1)) / (2 * Math.PI * squared ** ((exponent + 3) / 2));
        // Directions are rounded to 0.001°.
        expect((atPlaces[place]! * perMassPerMm2) / expected).toBeCloseTo(1, 4);
      });
    }
  });

  it('shows the film across the rack, thickest on the side of the source', () => {
    for (const { rack } of front(plan).materials) {
      expect(rack.radiusMm[0]).toBe(-310);
      expect(rack.radiusMm.at(-1)).toBe(310);
      expect(rack.relative.at(-1)).toBeGreaterThan(rack.relative[0]! + 0.1);
    }
  });

  it('has verdicts by direction, which a turning rack has not', () => {
    const { verdicts } = planPlaces(batch, plan);
    const good = plan.load.places.filter((_, place) => verdicts[place]!.centre);
    expect(good.length).toBeGreaterThan(0);
    expect(good.length).toBeLessThan(plan.load.places.length);
  });
});

describe('a load in a dome', () => {
  it('through a small flat source at its foot gets the same film everywhere (the sphere of Holland & Steckelmacher 1952)', () => {
    const batch = onAxis('dome', ({ fixture, chamber }) => {
      fixture.domeRadiusMm = fixture.heightMm / 2;
      for (const source of chamber.sources) Object.assign(source, { offsetMm: 0, exponent: 1 });
    });
    const { materials } = front(computePlan(batch));
    const { heightMm } = batch.fixture;
    for (const { rack, atPlaces, perMassPerMm2 } of materials) {
      for (const value of [...rack.relative, ...atPlaces]) expect(value).toBeCloseTo(1, 10);
      expect(perMassPerMm2 * Math.PI * heightMm ** 2).toBeCloseTo(1, 10);
    }
  });

  it('without a radius of its own has its centre on the level of the sources, its top at its height', () => {
    const { load } = computePlan(onAxis('dome'));
    const { heightMm } = eyepiece.fixture;
    expect(load.motion).toEqual({ kind: 'dome', radiusMm: heightMm, centreHeightMm: 0 });
  });

  it('is refused where its edge is wider than its sphere or its sphere does not rise above the sources', () => {
    expect(() =>
      computePlan(onAxis('dome', ({ fixture }) => Object.assign(fixture, { domeRadiusMm: 300 }))),
    ).toThrow("fixture.rackDiameterMm: 620 mm is wider than the dome's sphere, whose diameter is 600 mm");
  });
});

describe('geared planets', () => {
  it('give places at the same distance films of their own, free ones do not', () => {
    const free = computePlan(edited(({ fixture }) => void delete fixture.gearRatio));
    const geared = computePlan(edited(({ fixture }) => Object.assign(fixture, { gearRatio: 1 })));
    const spread = (plan: typeof free) => {
      const { places } = plan.load;
      const { atPlaces } = front(plan).materials[0]!;
      const outer = Math.max(...places.map(({ xMm, yMm }) => Math.hypot(xMm, yMm)));
      const films = [...atPlaces].filter(
        (_, place) => Math.hypot(places[place]!.xMm, places[place]!.yMm) > outer - 0.01,
      );
      return Math.max(...films) - Math.min(...films);
    };
    expect(spread(free)).toBeLessThan(1e-4);
    expect(spread(geared)).toBeGreaterThan(1e-3);
  });
});

describe('a material from two sources at once', () => {
  const [first, second] = eyepiece.chamber.sources;
  const material = eyepiece.surfaces.front.layers[0]!.material;
  const withPartner = (sharePercent: number) =>
    edited((batch) => {
      const { source } = batch.process.materials[material]!;
      const other = source === first!.id ? second!.id : first!.id;
      batch.process.materials[material]!.partner = { source: other, sharePercent };
    });
  const plan = computePlan(withPartner(30));
  const alone = computePlan(eyepiece);
  const swapped = computePlan(
    edited((batch) => {
      const settings = batch.process.materials[material]!;
      settings.source = settings.source === first!.id ? second!.id : first!.id;
    }),
  );
  const spreadIn = (one: typeof plan) => front(one).materials.find((spread) => spread.material === material)!;

  it('gets the sum of both films by their parts, and a charge for each', () => {
    const [both, one, other] = [spreadIn(plan), spreadIn(alone), spreadIn(swapped)];
    expect(both.perMassPerMm2).toBeCloseTo(0.7 * one.perMassPerMm2 + 0.3 * other.perMassPerMm2, 15);
    both.atPlaces.forEach((value, place) => {
      const sum =
        0.7 * one.atPlaces[place]! * one.perMassPerMm2 + 0.3 * other.atPlaces[place]! * other.perMassPerMm2;
      expect(value * both.perMassPerMm2).toBeCloseTo(sum, 15);
    });
    const charges = plan.runs[0]!.charge.filter((item) => item.material === material);
    expect(charges.map(({ source }) => source)).toHaveLength(2);
    expect(charges[1]!.netMassG / charges[0]!.netMassG).toBeCloseTo(30 / 70, 12);
    const wholeG = alone.runs[0]!.charge.find((item) => item.material === material)!.netMassG;
    expect(charges[0]!.netMassG + charges[1]!.netMassG).toBeCloseTo(
      (wholeG * one.perMassPerMm2) / both.perMassPerMm2,
      9,
    );
    expect(plan.lot.pockets.filter((pocket) => pocket.material === material)).toHaveLength(2);
  });

  it('takes the time that its rate says, of both together, and says so', () => {
    const deposits = (one: typeof plan) =>
      one.runs[0]!.steps.filter(({ kind }) => kind === 'deposit').map(({ durationS }) => durationS);
    expect(deposits(plan)).toEqual(deposits(alone));
    expect(plan.runs[0]!.steps.some(({ limitedBy }) => /, \S+ and \S+ together/.test(limitedBy))).toBe(true);
  });

  it('is refused where the second is the first or no source at all', () => {
    const refused = (source: string) =>
      edited((batch) => {
        batch.process.materials[material]!.partner = { source, sharePercent: 50 };
      });
    const { source } = eyepiece.process.materials[material]!;
    expect(() => refused(source)).toThrow(`"${source}" cannot fire together with itself`);
    expect(() => refused('gun-9')).toThrow('"gun-9" is no source of this chamber');
  });
});
