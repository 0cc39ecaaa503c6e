import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { checkEdit, refusalOf } from '../../src/app/check-edit.ts';
import { changeName } from '../../src/app/fields/change-name.ts';
import { PlanBook } from '../../src/app/plan-book.ts';
import { readPreferences } from '../../src/app/preferences.ts';
import { STATIONS } from '../../src/app/routes.ts';
import { anglesText, readAngles } from '../../src/app/stations/order/angle-text.ts';
import { freeLayerId } from '../../src/app/stations/order/requirement-edits.ts';
import { factChanges, headline, stationFacts } from '../../src/app/stations/station-facts.ts';
import { BatchShelf, freeId } from '../../src/app/storage/batch-shelf.ts';
import { MemoryStorage } from '../../src/app/storage/memory-storage.ts';
import type { Batch } from '../../src/batch/document.ts';
import type { Plan } from '../../src/batch/plan/plan-types.ts';
import { readBatch } from '../../src/batch/read-batch.ts';

const demo = (): Batch =>
  readBatch(readFileSync(new URL('../../demo/eyepiece-field-lens.json', import.meta.url), 'utf8'));

/** A copy of the demo with another lens diameter and rack, as an edit would make it. */
function withLens(diameterMm: number, clearApertureMm: number): Batch {
  const batch = demo();
  return { ...batch, order: { ...batch.order, lens: { ...batch.order.lens, diameterMm, clearApertureMm } } };
}

describe('the check of an edit', () => {
  it('lets through what the file may hold', () => {
    const before = demo();
    expect(() => checkEdit(before, withLens(34, 30))).not.toThrow();
  });

  it('refuses in one sentence what a field or several fields together forbid', () => {
    const before = demo();
    expect(() => checkEdit(before, withLens(-3, 30))).toThrow('-3 mm is below 1 mm');
    expect(() => checkEdit(before, withLens(32, 40))).toThrow('40 mm is above the diameter of 32 mm');
    try {
      checkEdit(before, withLens(32, 40));
    } catch (error) {
      expect(refusalOf(error)).toBe('40 mm is above the diameter of 32 mm.');
    }
  });

  it('passes faults of the program on', () => {
    expect(() => refusalOf(new TypeError('x is undefined'))).toThrow(TypeError);
  });
});

describe('the book of plans', () => {
  it('computes each document once and keeps the sentence where there is no plan', () => {
    const book = new PlanBook();
    const batch = demo();
    expect(book.of(batch)).toBe(book.of(batch));
    expect(book.of(batch).plan?.lot.loads).toBeGreaterThan(0);
    const small = { ...batch, fixture: { ...batch.fixture, rackDiameterMm: 40 } };
    expect(book.of(small).plan).toBeUndefined();
    expect(book.of(small).fault?.path).toBe('fixture.rackDiameterMm');
  });

  it('keeps the plans of the documents that were looked at last, not those of a day', () => {
    let computed = 0;
    const book = new PlanBook(() => {
      computed++;
      return {} as Plan;
    });
    const batches = Array.from({ length: 100 }, (_, index) => withLens(40, 20 + index / 10));
    for (const batch of batches) book.of(batch);
    for (const batch of batches.slice(-30)) book.of(batch);
    expect(computed).toBe(100);
    book.of(batches[0]!);
    expect(computed).toBe(101);
    book.of({ ...batches[0]!, runs: [] });
    expect(computed).toBe(101);
  });
});

describe('the facts of a station', () => {
  const book = new PlanBook();
  const [one, other] = [demo(), withLens(50, 30)];
  const [plan, changed] = [book.of(one).plan!, book.of(other).plan!];

  it.each(STATIONS)('have names of their own and no unprintable figure: %s', (station) => {
    const facts = stationFacts(station, one, plan);
    expect(new Set(facts.map(({ name }) => name)).size).toBe(facts.length);
    expect(facts.length).toBeGreaterThan(0);
    for (const { text } of facts) expect(text).not.toMatch(/NaN|Infinity|undefined|–/);
    expect(headline(station, one, plan)).not.toMatch(/NaN|undefined|–/);
  });

  it('show a change where an edit reaches and none where it does not', () => {
    const changes = (station: (typeof STATIONS)[number]) =>
      factChanges(stationFacts(station, one, plan), stationFacts(station, other, changed)).map(
        ({ name }) => name,
      );
    expect(changes('load')).toContain('lenses a load');
    expect(changes('monitor')).toEqual([]);
  });

  it('name what came and what went', () => {
    expect(
      factChanges(
        [
          { name: 'a', text: '1' },
          { name: 'b', text: '2' },
        ],
        [
          { name: 'b', text: '2' },
          { name: 'c', text: '3' },
        ],
      ),
    ).toEqual([
      { name: 'c', before: 'none', after: '3' },
      { name: 'a', before: '1', after: 'none' },
    ]);
  });
});

describe('the shelf', () => {
  it('gives a second batch of one name another name', async () => {
    const shelf = new BatchShelf(new MemoryStorage());
    const first = await shelf.add(demo());
    const second = await shelf.add(demo());
    expect([first.batch.id, second.batch.id]).toEqual(['eyepiece-field-lens', 'eyepiece-field-lens-2']);
    expect((await shelf.list()).map(({ id }) => id).sort()).toEqual([
      'eyepiece-field-lens',
      'eyepiece-field-lens-2',
    ]);
  });

  it('hands a damaged batch back as text with the reason', async () => {
    const storage = new MemoryStorage();
    await storage.save({ id: 'x', title: '', lot: '', savedAt: 0, text: '{"format": 1}' }, 0);
    expect(await new BatchShelf(storage).take('x')).toMatchObject({ kind: 'damaged', text: '{"format": 1}' });
    expect(await new BatchShelf(storage).take('y')).toEqual({ kind: 'missing' });
  });

  it('copies a batch without its runs', async () => {
    const shelf = new BatchShelf(new MemoryStorage());
    const run = {
      id: 'run-1',
      number: 1,
      side: 'front' as const,
      startedAt: '2026-11-25',
      operator: 'kb',
      spectra: [],
    };
    const { batch } = await shelf.duplicate({ ...demo(), runs: [run] });
    expect(batch.runs).toEqual([]);
    expect(batch.order.title).toBe('Eyepiece field lens (copy)');
  });

  it('finds free names within 64 characters', () => {
    expect(freeId('a', new Set())).toBe('a');
    expect(freeId('a-2', new Set(['a-2', 'a-3']))).toBe('a-4');
    expect(freeId('b'.repeat(64), new Set(['b'.repeat(64)]))).toHaveLength(60);
  });
});

describe('preferences', () => {
  it.each([null, '', 'nonsense', '[]', '7', '{"theme":"neon"}'])(
    'that cannot be used are as usual: %s',
    (text) => {
      expect(readPreferences(text)).toMatchObject({
        theme: 'system',
        lengthUnit: 'nm',
        pressureUnit: 'mbar',
      });
    },
  );

  it('come back as they were kept', () => {
    const kept = { theme: 'chamber', lengthUnit: 'Å', pressureUnit: 'Torr', lastBatch: 'x', tourSeen: true };
    expect(readPreferences(JSON.stringify(kept))).toEqual(kept);
  });
});

describe('angles', () => {
  it.each([
    ['0, 25', [0, 25]],
    ['0 25.5', [0, 25.5]],
    ['0; 12,5; 30°', [0, 12.5, 30]],
  ])('are read from "%s"', (text, angles) => {
    expect(readAngles(text)).toEqual(angles);
  });

  it.each([
    ['', 'Type at least one angle, such as 0.'],
    ['0, steep', '"steep" is not an angle in degrees.'],
    ['90', '90° is not from 0° to below 90°.'],
  ])('that cannot be used are named: "%s"', (text, sentence) => {
    expect(readAngles(text)).toBe(sentence);
  });

  it('are written as they are typed', () => {
    expect(anglesText([0, 25])).toBe('0, 25');
  });
});

describe('names of edits', () => {
  it('say before, after and the unit that the reader prefers', () => {
    expect(changeName('Lens diameter', 32, 34, 'mm')).toBe('Lens diameter 32 → 34 mm');
    expect(changeName('Oxygen', 0.01, 0.02, 'Pa', 'mbar')).toBe('Oxygen 0.0001 → 0.0002 mbar');
    expect(changeName('Front radius', undefined, 120, 'mm')).toBe('Front radius empty → 120 mm');
    expect(changeName('Good lenses', 1000, 12000, '')).toBe('Good lenses 1000 → 12000');
  });
});

describe('names of layers', () => {
  it('are the first that is free', () => {
    const taken = new Set(['f1', 'f3']);
    expect([freeLayerId('f', 1, taken), freeLayerId('f', 1, taken), freeLayerId('b', 1, taken)]).toEqual([
      'f2',
      'f4',
      'b1',
    ]);
  });
});
