import { InputError } from '../base/errors.ts';
import { requireFileSize } from '../base/file-size.ts';
import { jsonFault } from '../base/json-fault.ts';
import { hasKey, parse } from '../base/schema.ts';
import { checkBatch } from './check-batch.ts';
import { BATCH_FORMAT, BATCH_VERSION, type Batch, batch, versionFault } from './document.ts';
import { migrate } from './migrate.ts';

/**
 * Reads a batch from the text of its file.
 * @throws InputError with one sentence where the text is no JSON, no batch, of a newer version, or wrong in
 * a field; the path names the field.
 */
export function readBatch(text: string): Batch {
  requireFileSize('', text.length);
  return batchFrom(jsonOf(text));
}

/**
 * Takes a batch from a value that JSON gave: migrates an older version, checks every field and then what
 * no single field can tell (materials known, places consistent).
 * @throws InputError as `readBatch`.
 */
export function batchFrom(value: unknown): Batch {
  if (!hasKey(value, 'format') || (value as { format: unknown }).format !== BATCH_FORMAT)
    throw new InputError('format', `this is not a Coatwright batch: its format is not "${BATCH_FORMAT}"`);
  const { version } = value as { version?: unknown };
  if (!Number.isInteger(version) || (version as number) < 1 || (version as number) > BATCH_VERSION)
    throw new InputError('version', versionFault(version));
  const result = parse(batch, migrate(value as Record<string, unknown>));
  checkBatch(result);
  return result;
}

/** The batch as the text of its file: two spaces of indentation, a line end at the end. */
export function writeBatch(document: Batch): string {
  return `${JSON.stringify(document, undefined, 2)}\n`;
}

function jsonOf(text: string): unknown {
  const plain = text.replace(/^\uFEFF/, '');
  if (plain.trim() === '') throw new InputError('', 'the file is empty');
  try {
    return JSON.parse(plain);
  } catch {
    throw new InputError('', `the file is not JSON: ${jsonFault(plain)}`);
  }
}
