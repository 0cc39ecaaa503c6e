/** A way into a document: names of fields and places in lists. */
export type Path = readonly (string | number)[];

/** What stands at `path`, or undefined where the way ends before. */
export function valueAt(document: unknown, path: Path): unknown {
  return path.reduce<unknown>(
    (holder, step) => (typeof holder === 'object' && holder !== null ? Reflect.get(holder, step) : undefined),
    document,
  );
}

/** Puts `value` at `path` of a draft; `undefined` takes the field away. Missing holders on the way are made. */
export function putAt(draft: object, path: Path, value: unknown): void {
  let holder: object = draft;
  for (const step of path.slice(0, -1)) {
    const next: unknown = Reflect.get(holder, step);
    if (typeof next !== 'object' || next === null) Reflect.set(holder, step, {});
    holder = Reflect.get(holder, step) as object;
  }
  const last = path.at(-1);
  if (last === undefined) return;
  if (value === undefined) Reflect.deleteProperty(holder, last);
  else Reflect.set(holder, last, value);
}

/** The path as errors write it: `surfaces.front.layers[2].thicknessNm`. */
export function pathText(path: Path): string {
  return path.reduce<string>(
    (text, step) => (typeof step === 'number' ? `${text}[${step}]` : text === '' ? step : `${text}.${step}`),
    '',
  );
}
