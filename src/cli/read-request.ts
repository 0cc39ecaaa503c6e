import { InputError, joinPath } from '../base/errors.ts';
import { jsonFault } from '../base/json-fault.ts';
import { shown } from '../base/schema.ts';

/**
 * The JSON value in the bytes of a request, UTF-8 or UTF-16 with a byte order mark. `place` names the file
 * in a fault.
 * @throws InputError where the bytes are no JSON, or a field has a name that no request can have.
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
  refuseInheritedNames(request);
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

/** A field called `constructor` would slip through the schemas, which ask `name in entries`. */
function refuseInheritedNames(request: unknown): void {
  const waiting: { value: unknown; path: string }[] = [{ value: request, path: '' }];
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    const { value, path } = next;
    if (typeof value !== 'object' || value === null) continue;
    const isList = Array.isArray(value);
    if (isList && typeof value[0] === 'number' && typeof value.at(-1) === 'number') continue;
    for (const [key, field] of Object.entries(value)) {
      const place = joinPath(path, isList ? `[${key}]` : key);
      if (!isList && key in Object.prototype) throw new InputError(place, `unknown field ${shown(key)}`);
      if (typeof field === 'object') waiting.push({ value: field, path: place });
    }
  }
}
