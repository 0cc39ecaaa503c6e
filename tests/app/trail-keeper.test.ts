import { readFileSync } from 'node:fs';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { DocumentStore } from '../../src/app/document-store.ts';
import { TrailKeeper, withTrailOf } from '../../src/app/trail-keeper.ts';
import { trailFault } from '../../src/batch/audit-trail.ts';
import type { Batch } from '../../src/batch/document.ts';
import { readBatch } from '../../src/batch/read-batch.ts';

const text = readFileSync(new URL('../../demo/eyepiece-field-lens.json', import.meta.url), 'utf8');

function bench() {
  const store = new DocumentStore<Batch>({ ...readBatch(text), runs: [] }, withTrailOf);
  let written = 0;
  const keeper = new TrailKeeper(store, () => {
    written += 1;
  });
  const edit = (name: string, recipe: (draft: Batch) => void, key?: string) => {
    store.edit({ name, recipe, ...(key === undefined ? {} : { key }) });
    keeper.note(store.latest!, key);
  };
  const undo = () => {
    store.undo();
    keeper.note(store.latest!);
  };
  const log = () =>
    edit('Run 1 logged', (draft) => {
      draft.runs.push({ id: 'run-1', number: 1, side: 'front', startedAt: '', operator: 'MK', spectra: [] });
    });
  const note = (words: string) =>
    edit(
      `Note: ${words}`,
      (draft) => {
        draft.runs[0]!.note = words;
      },
      'runs[0].note',
    );
  const did = () => (store.document.trail ?? []).map((entry) => entry.did);
  return { store, keeper, edit, undo, log, note, did, told: () => written };
}

describe("the trail's keeper", () => {
  beforeEach(() => {
    vi.useFakeTimers();
  });
  afterEach(() => {
    vi.useRealTimers();
  });

  it('writes an edit of a run, its undoing and its doing again, and no walk takes them away', () => {
    const { store, keeper, undo, log, did } = bench();
    log();
    undo();
    expect(store.document.runs).toEqual([]);
    expect(did()).toEqual(['Run 1 logged', 'Undone: Run 1 logged']);
    store.redo();
    keeper.note(store.latest!);
    store.goTo(0);
    keeper.note(store.latest!);
    expect(did().slice(2)).toEqual(['Done again: Run 1 logged', 'Back to: the beginning']);
    expect(store.document.runs).toEqual([]);
    expect(trailFault(store.document.trail!)).toBeUndefined();
  });

  it('signs with the initials of the record, of one that was taken out too', () => {
    const { store, edit, log } = bench();
    log();
    edit('Run 1 taken out of the log', (draft) => void draft.runs.pop());
    expect(store.document.trail!.map(({ by, run }) => [by, run])).toEqual([
      ['MK', 1],
      ['MK', 1],
    ]);
  });

  it('writes typing once, when it has rested or something else is done', () => {
    const { note, undo, log, did, told } = bench();
    log();
    note('p');
    note('pump');
    note('pump slow');
    expect(did()).toEqual(['Run 1 logged']);
    vi.advanceTimersByTime(2000);
    expect(did()).toEqual(['Run 1 logged', 'Note: pump slow']);
    note('pump slow, then right');
    undo();
    expect(did().slice(2)).toEqual(['Note: pump slow, then right', 'Undone: Note: pump slow, then right']);
    expect(told()).toBe(4);
  });

  it('forgets typing that was taken back letter by letter', () => {
    const { note, edit, log, did } = bench();
    log();
    note('p');
    edit('Note: empty', (draft) => void delete draft.runs[0]!.note, 'runs[0].note');
    vi.advanceTimersByTime(2000);
    expect(did()).toEqual(['Run 1 logged']);
  });

  it('writes nothing of what is no matter of the run log', () => {
    const { store, edit } = bench();
    edit('Quantity', (draft) => {
      draft.order.quantity += 1;
    });
    expect(store.document.trail).toBeUndefined();
  });

  it('signs the emptying of the initials with those of before, and what follows as unsigned', () => {
    const { store, edit, log, note } = bench();
    log();
    edit('Operator: empty', (draft) => {
      draft.runs[0]!.operator = ' ';
    });
    expect(store.document.trail!.at(-1)!.by).toBe('MK');
    note('who was it');
    vi.advanceTimersByTime(2000);
    expect(store.document.trail!.at(-1)!.by).toBe('unsigned');
  });
});
