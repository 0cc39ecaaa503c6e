import { produce } from 'immer';
import { InputError } from '../../base/errors.ts';
import type { Batch } from '../../batch/document.ts';
import { writeBatch } from '../../batch/read-batch.ts';
import { loadWholeLibrary } from '../../materials/library.ts';
import { prepareMaterials } from '../../materials/own/own-material.ts';
import { checkEdit } from '../check-edit.ts';
import type { Edit } from '../document-store.ts';
import { readWithLibrary } from '../storage/batch-shelf.ts';
import { applyDifferences, type Difference, differences } from './document-patch.ts';

/** The named edits of a batch as storage keeps them: each as what turns the document after it into the one before, or back. */
export interface KeptHistory {
  readonly id: string;
  /** The batch, between past and future, as the text of its file. */
  readonly text: string;
  /** Steps back, the newest last. */
  readonly past: readonly string[];
  /** Steps forth, the next one first. */
  readonly future: readonly string[];
}

/** The way back and forth from a batch. */
export interface Ways {
  readonly past: readonly Edit<Batch>[];
  readonly future: readonly Edit<Batch>[];
}

interface Step {
  readonly name: string;
  readonly changes: readonly Difference[];
}

/** Most steps that are kept either way, and the most characters that they take together; the farthest are let go. */
export const MOST_KEPT = 100;
const MOST_CHARACTERS = 1_000_000;

const texts = new WeakMap<Edit<Batch>, { back?: string; forth?: string }>();

/** What is to be kept of the edits around a batch. */
export function keptHistory(batch: Batch, { past, future }: Ways): KeptHistory {
  const back = withinRoom(past.toReversed(), (edit) => stepText(edit, 'back')).reverse();
  const forth = withinRoom(future, (edit) => stepText(edit, 'forth'));
  return { id: batch.id, text: writeBatch(batch), past: back, future: forth };
}

/**
 * The edits again, around the batch as it was opened. Where it was changed since, in another window or while this one closed,
 * that is one more edit. A step that cannot be taken ends the way in its direction.
 * @throws InputError where the kept batch itself cannot be read.
 */
export async function recalledHistory(kept: KeptHistory, opened: Batch): Promise<Ways> {
  if (![kept.past, kept.future].every(Array.isArray) || typeof kept.text !== 'string')
    throw new InputError('', 'the kept history is damaged');
  await loadWholeLibrary();
  const then = await readWithLibrary(kept.text);
  const isSame = differences(bare(then), bare(opened)).length === 0;
  const start = isSame ? opened : then;
  const past = walk(start, kept.past.toReversed())
    .map(({ name, from, to }) => ({ name, before: to, after: from }))
    .reverse();
  const future = isSame
    ? walk(start, kept.future).map(({ name, from, to }) => ({ name, before: from, after: to }))
    : [];
  if (!isSame) past.push({ name: 'Later edits', before: then, after: opened });
  await prepareMaterials(
    [...past, ...future].flatMap(({ before, after }) => [...before.materials, ...after.materials]),
  );
  return { past, future };
}

function walk(start: Batch, steps: readonly string[]): { name: string; from: Batch; to: Batch }[] {
  const walked: { name: string; from: Batch; to: Batch }[] = [];
  let from = start;
  for (const text of steps) {
    const taken = take(text, from);
    if (taken === undefined) break;
    walked.push({ ...taken, from });
    from = taken.to;
  }
  return walked;
}

/** A step from a document; undefined where it does not fit it, or leads to what no batch may be. */
function take(text: string, from: Batch): { name: string; to: Batch } | undefined {
  try {
    const { name, changes } = JSON.parse(text) as Step;
    const to = produce(from, (draft) => applyDifferences(draft, changes));
    checkEdit(from, to);
    return { name, to };
  } catch (error) {
    if (error instanceof RangeError || error instanceof SyntaxError || error instanceof TypeError)
      return undefined;
    throw error;
  }
}

/** The texts of the nearest edits, as many as there is room for. */
function withinRoom(edits: readonly Edit<Batch>[], textOf: (edit: Edit<Batch>) => string): string[] {
  const kept: string[] = [];
  let room = MOST_CHARACTERS;
  for (const edit of edits.slice(0, MOST_KEPT)) {
    const text = textOf(edit);
    room -= text.length;
    if (room < 0) break;
    kept.push(text);
  }
  return kept;
}

/** An edit never changes, so it is put into words once. */
function stepText(edit: Edit<Batch>, way: 'back' | 'forth'): string {
  const known = texts.get(edit) ?? {};
  texts.set(edit, known);
  const [from, to] = way === 'back' ? [edit.after, edit.before] : [edit.before, edit.after];
  known[way] ??= JSON.stringify({
    name: edit.name,
    changes: differences(bare(from), bare(to)),
  } satisfies Step);
  return known[way];
}

/** A batch without the trail, which no walk back or forth changes. */
function bare({ trail: _, ...rest }: Batch): Omit<Batch, 'trail'> {
  return rest;
}
