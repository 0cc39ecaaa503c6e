import * as v from 'valibot';
import { InputError } from '../base/errors.ts';
import { parse } from '../base/schema.ts';
import { checkBatch } from '../batch/check-batch.ts';
import { type Batch, batch } from '../batch/document.ts';

/**
 * Checks what an edit has made: the sections that changed against the schema, then what no single field can
 * tell. So nothing reaches storage that could not be read back.
 * @throws InputError with one sentence.
 */
export function checkEdit(before: Batch, after: Batch): void {
  const changed = (Object.keys(after) as (keyof Batch)[]).filter((name) => before[name] !== after[name]);
  if (changed.length > 0) parse(v.pick(batch, changed as [keyof Batch]), pickFrom(after, changed));
  checkBatch(after);
}

function pickFrom(document: Batch, names: readonly (keyof Batch)[]): object {
  return Object.fromEntries(names.map((name) => [name, document[name]]));
}

/** The sentence of an error that an edit was refused with; other errors are the program's own and thrown on. */
export function refusalOf(error: unknown): string {
  if (error instanceof InputError) return `${error.reason.replace(/\.$/, '')}.`;
  throw error;
}
