import type { GenericSchema } from 'valibot';
import type { FieldNote } from '../../base/schema.ts';
import { batch, surface } from '../../batch/document.ts';
import type { Path } from './path.ts';

/** The parts of a schema object that its field notes are found by. */
interface Shape {
  readonly type: string;
  readonly entries?: Readonly<Record<string, Shape>>;
  readonly item?: Shape;
  readonly items?: readonly Shape[];
  readonly value?: Shape;
  readonly wrapped?: Shape;
  readonly pipe?: readonly (Shape & { readonly metadata?: FieldNote })[];
}

const notes = new Map<string, FieldNote>();

/**
 * Unit, limits and note of a field of the batch, read from the schema, so that the screen allows what the
 * file allows and nothing else.
 */
export function fieldNote(path: Path): FieldNote {
  const key = path.join('/');
  const known = notes.get(key);
  if (known !== undefined) return known;
  const note = notesOf(walk(path));
  notes.set(key, note);
  return note;
}

function walk(path: Path): readonly Shape[] {
  let shapes = opened(batch as GenericSchema as unknown as Shape);
  for (const [index, step] of path.entries()) {
    const isBack = index === 1 && path[0] === 'surfaces' && step === 'back';
    const next = isBack ? (surface as GenericSchema as unknown as Shape) : stepInto(shapes, step);
    if (next === undefined) throw new Error(`the batch has no field ${path.join('.')}`);
    shapes = opened(next);
  }
  return shapes;
}

function stepInto(shapes: readonly Shape[], step: string | number): Shape | undefined {
  for (const shape of shapes) {
    const next =
      typeof step === 'number'
        ? (shape.item ?? shape.items?.[step])
        : (shape.entries?.[step] ?? (shape.type === 'record' ? shape.value : undefined));
    if (next !== undefined) return next;
  }
  return undefined;
}

/** The schema with all that it wraps or pipes. */
function opened(shape: Shape): readonly Shape[] {
  const inner = [
    ...(shape.wrapped === undefined ? [] : [shape.wrapped]),
    ...(shape.pipe ?? []).filter((part) => part !== shape),
  ];
  return [shape, ...inner.flatMap((part) => (part.pipe === shape.pipe ? [part] : opened(part)))];
}

function notesOf(shapes: readonly Shape[]): FieldNote {
  const found = shapes.flatMap((shape) => [shape, ...(shape.pipe ?? [])]) as {
    readonly metadata?: FieldNote;
  }[];
  return Object.assign({}, ...found.map(({ metadata }) => metadata ?? {})) as FieldNote;
}
