import * as v from 'valibot';
import { InputError, joinPath, type Limits, limitFault } from './errors.ts';

/** What a field's help and JSON Schema say about it beyond its type. */
export interface FieldNote {
  readonly unit?: string;
  readonly limits?: Limits;
  readonly note?: string;
}

/** A finite number with a unit ('' where it has none) and limits; a fault reads "-3 nm is below 0 nm". */
export function quantity(unit: string, limits: Limits = {}, note?: string) {
  const described: FieldNote = { unit, limits, ...(note === undefined ? {} : { note }) };
  return v.pipe(
    v.number((issue) => `${shown(issue.input)} is not a number`),
    v.check<number, (issue: v.CheckIssue<number>) => string>(
      (value) => limitFault(value, unit, limits) === undefined,
      (issue) => limitFault(issue.input, unit, limits) ?? '',
    ),
    v.metadata({ ...described }),
  );
}

/** A whole number within limits. */
export function count(limits: Limits = { min: 0 }, note?: string) {
  return v.pipe(
    quantity('', limits, note),
    v.check(
      (value: number) => Number.isInteger(value),
      (issue) => `${shown(issue.input)} is not a whole number`,
    ),
  );
}

/** One of a few words; a fault lists them. */
export function word<const Words extends readonly string[]>(words: Words, note?: string) {
  return v.pipe(
    v.picklist(
      words,
      (issue) => `${shown(issue.input)} is not one of ${words.map((w) => `"${w}"`).join(', ')}`,
    ),
    v.metadata(note === undefined ? {} : { note }),
  );
}

/** A text of at most `max` characters. */
export function text(max = 200, note?: string) {
  return v.pipe(
    v.string((issue) => `${shown(issue.input)} is not a text in quotes`),
    v.check(
      (value: string) => value.length <= max,
      (issue) => `the text has ${issue.input.length} characters, more than ${max}`,
    ),
    v.metadata(note === undefined ? {} : { note }),
  );
}

/** A list with length limits. */
export function list<Item extends v.GenericSchema>(item: Item, limits: Limits = {}, note?: string) {
  return v.pipe(
    v.array(item, (issue) => `${shown(issue.input)} is not a list`),
    v.check(
      (value: v.InferOutput<Item>[]) => limitFault(value.length, 'entries', limits) === undefined,
      (issue) => lengthFault(issue.input.length, limits),
    ),
    v.metadata({ limits, ...(note === undefined ? {} : { note }) }),
  );
}

function lengthFault(length: number, { min = 0, max = Number.POSITIVE_INFINITY }: Limits): string {
  const held = `the list has ${length === 0 ? 'no entries' : length === 1 ? '1 entry' : `${length} entries`}`;
  return length < min ? `${held}; it needs at least ${min}` : `${held}; it may have ${max} at most`;
}

/** True or false; a fault shows the value. */
export function yesOrNo(note?: string) {
  return v.pipe(
    v.boolean((issue) => `${shown(issue.input)} is neither true nor false`),
    v.metadata(note === undefined ? {} : { note }),
  );
}

/**
 * A choice between shapes where `pick` tells from the raw input which shape was meant, so that a fault
 * speaks of that shape alone. `shapes` lists all, for the JSON Schema and the help.
 */
export function choice<Shape extends v.GenericSchema>(
  shapes: readonly Shape[],
  pick: (input: unknown) => Shape,
  note?: string,
) {
  return v.pipe(
    v.lazy((input) => pick(input)),
    v.metadata({ shapes, ...(note === undefined ? {} : { note }) }),
  );
}

/** Whether `input` is a plain object that has the key. */
export function hasKey(input: unknown, key: string): boolean {
  return typeof input === 'object' && input !== null && Object.hasOwn(input, key);
}

/**
 * Checks `input` against `schema` and returns it typed, with defaults filled in.
 * @throws InputError at the first fault, its path as `layers[2].thicknessNm`.
 */
export function parse<Schema extends v.GenericSchema>(schema: Schema, input: unknown): v.InferOutput<Schema> {
  const result = v.safeParse(schema, input, { abortEarly: true });
  if (result.success) return result.output;
  const issue = result.issues[0];
  const { path, reason } = describe(issue);
  throw new InputError(path, reason);
}

type Issue = v.BaseIssue<unknown>;

function describe(issue: Issue): { path: string; reason: string } {
  const steps = issue.path ?? [];
  const last = steps.at(-1);
  if (issue.type !== 'strict_object') return { path: pathOf(steps), reason: reasonOf(issue) };
  if (issue.expected === 'never' && last !== undefined) {
    const holder = last.input;
    if (Array.isArray(holder))
      return { path: pathOf(steps.slice(0, -1)), reason: `${shown(holder)} is not an object` };
    return { path: pathOf(steps), reason: `unknown field ${shown(last.key)}` };
  }
  const missing = issue.received === 'undefined' && last !== undefined;
  return { path: pathOf(steps), reason: missing ? 'is missing' : `${shown(issue.input)} is not an object` };
}

/** What the schema says of a fault; where it says nothing of its own, what the value should have been. */
function reasonOf({ type, message, input, expected }: Issue): string {
  if (!message.startsWith('Invalid ')) return message;
  if (type === 'array' || type === 'tuple' || type === 'strict_tuple') return `${shown(input)} is not a list`;
  if (type === 'record') return `${shown(input)} is not an object`;
  return `${shown(input)} is not ${expected ?? 'allowed here'}`;
}

function pathOf(steps: readonly v.IssuePathItem[]): string {
  return steps.reduce(
    (path, { key }) => joinPath(path, typeof key === 'number' ? `[${key}]` : nameOf(String(key))),
    '',
  );
}

/** A field's name as it stands in a path: quoted and cut short where it is not one that a person would give. */
function nameOf(key: string): string {
  return /^[\p{L}\p{N}_.-]{1,60}$/u.test(key) ? key : shown(key);
}

/** A value as a person would recognise it in a sentence: short, quoted where it is a text. */
export function shown(value: unknown): string {
  if (typeof value === 'number') return String(value);
  if (value === undefined) return 'nothing';
  const json = jsonOf(value);
  return json.length <= 60 ? json : `${json.slice(0, 57)}...`;
}

function jsonOf(value: unknown): string {
  try {
    return JSON.stringify(value) ?? String(value);
  } catch {
    return Array.isArray(value) ? '[...]' : '{...}'; // nested deeper than the engine's stack, or in a circle
  }
}
