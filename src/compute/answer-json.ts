import { InvariantError } from '../base/assert.ts';
import { joinPath } from '../base/errors.ts';

/**
 * An answer as JSON text: typed arrays as lists, numbers in full double precision, absent fields left out.
 * @throws InvariantError where the answer holds what no answer may hold: NaN, Infinity, null, a hole in a
 * list, or a value that JSON does not know.
 */
export function answerJson(answer: unknown): string {
  return JSON.stringify(plain(answer, ''));
}

/** The same value made of plain lists, objects, numbers, texts and booleans only. */
function plain(value: unknown, path: string): unknown {
  switch (typeof value) {
    case 'number':
      if (!Number.isFinite(value)) throw new InvariantError(`the answer has ${value} at ${path}`);
      return value;
    case 'string':
    case 'boolean':
      return value;
    case 'object':
      break;
    default:
      throw new InvariantError(`the answer has a value of type ${typeof value} at ${path}`);
  }
  if (value === null) throw new InvariantError(`the answer has null at ${path}`);
  if (ArrayBuffer.isView(value)) {
    if (value instanceof DataView) throw new InvariantError(`the answer has raw bytes at ${path}`);
    return Array.from(value as unknown as ArrayLike<number>, (item, i) => plain(item, `${path}[${i}]`));
  }
  if (Array.isArray(value)) return Array.from(value, (item, i) => plain(item, `${path}[${i}]`));
  const fields = Object.entries(value).filter(([, field]) => field !== undefined);
  return Object.fromEntries(fields.map(([key, field]) => [key, plain(field, joinPath(path, key))]));
}
