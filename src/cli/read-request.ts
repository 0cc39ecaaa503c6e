import { InputError, joinPath } from '../base/errors.ts';
import { jsonFault } from '../base/json-fault.ts';
import { shown } from '../base/schema.ts';

/**
 * The JSON value in the bytes of a request, UTF-8 or UTF-16 with a byte order mark. `place` names the file
 * in a fault.
 * @throws InputError where the bytes are no JSON, a field has a name that no request can have, or values are nested too deep.
 */
export function readRequest(bytes: Uint8Array, place: string): unknown {
  const text = decoded(bytes, place);
  if (text.trim() === '') throw new InputError(place, 'the request is empty; it must be one JSON object');
  let request: unknown;
  try {
    request = JSON.parse(text);
  } catch {
    throw new InputError(place, `is not JSON: ${jsonFault(text)}`);
  }
  if (typeof request !== 'object' || request === null || Array.isArray(request))
    throw new InputError('request', `${shown(request)} is not an object`);
  refuseHostileShapes(request);
  return request;
}

function decoded(bytes: Uint8Array, place: string): string {
  const label = encodingOf(bytes);
  try {
    return new TextDecoder(label, { fatal: true }).decode(bytes);
  } catch {
    throw new InputError(place, `is not text in ${label.toUpperCase()}`);
  }
}

function encodingOf([first, second]: Uint8Array): string {
  if (first === 0xff && second === 0xfe) return 'utf-16le';
  if (first === 0xfe && second === 0xff) return 'utf-16be';
  return 'utf-8';
}

/** No request has a use for more levels; the engine's own stack ends at some thousand. */
const DEEPEST = 100;

/**
 * Refuses what the schemas cannot: a field called `constructor` would slip through them, since they ask
 * `name in entries`, and a value nested thousands deep would overflow the stack of whoever walks it.
 */
function refuseHostileShapes(request: unknown): void {
  const waiting: { value: unknown; path: string; depth: number }[] = [{ value: request, path: '', depth: 1 }];
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    const { value, path, depth } = next;
    if (typeof value !== 'object' || value === null) continue;
    if (depth > DEEPEST) throw new InputError('request', `it is nested more than ${DEEPEST} levels deep`);
    const isList = Array.isArray(value);
    if (isList && typeof value[0] === 'number' && typeof value.at(-1) === 'number') continue;
    for (const [key, field] of Object.entries(value)) {
      const place = joinPath(path, isList ? `[${key}]` : key);
      if (!isList && key in Object.prototype) throw new InputError(place, `unknown field ${shown(key)}`);
      if (typeof field === 'object') waiting.push({ value: field, path: place, depth: depth + 1 });
    }
  }
}
