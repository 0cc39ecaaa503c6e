/** One difference between two documents, and where it lies. */
export type Difference =
  | { readonly at: Path; readonly value: unknown }
  | { readonly at: Path; readonly gone: true }
  /** In the list at `at`, from the place `from` on, `out` items give way to `put`. */
  | { readonly at: Path; readonly from: number; readonly out: number; readonly put: readonly unknown[] };

type Path = readonly (string | number)[];

type Tree = Record<string | number, unknown>;

/** What turns `one` document of plain objects, lists and values into `other`; parts that both share are not looked into. */
export function differences(one: object, other: object): Difference[] {
  const found: Difference[] = [];
  compare(one, other, [], found);
  return found;
}

/**
 * Changes a draft of the one document into the other.
 * @throws RangeError where a place is not there: the differences belong to another document.
 */
export function applyDifferences(draft: object, all: readonly Difference[]): void {
  for (const difference of all) {
    if ('put' in difference) {
      const list = placeOf(draft, difference.at);
      if (!Array.isArray(list) || difference.from + difference.out > list.length)
        throw notThere(difference.at);
      list.splice(difference.from, difference.out, ...difference.put);
      continue;
    }
    const parent = placeOf(draft, difference.at.slice(0, -1)) as Tree;
    const name = difference.at.at(-1)!;
    if (!isObject(parent) || name === '__proto__') throw notThere(difference.at);
    if ('gone' in difference) delete parent[name];
    else parent[name] = difference.value;
  }
}

function compare(one: unknown, other: unknown, at: Path, found: Difference[]): void {
  if (Object.is(one, other)) return;
  if (Array.isArray(one) && Array.isArray(other)) compareLists(one, other, at, found);
  else if (isTree(one) && isTree(other)) {
    for (const name of Object.keys(one))
      if (one[name] !== undefined && other[name] === undefined) found.push({ at: [...at, name], gone: true });
    for (const name of Object.keys(other)) {
      if (other[name] === undefined) continue;
      if (one[name] === undefined) found.push({ at: [...at, name], value: other[name] });
      else compare(one[name], other[name], [...at, name], found);
    }
  } else found.push({ at, value: other });
}

/** Lists are held against each other from both ends, so that an item that came or went does not touch the others. */
function compareLists(
  one: readonly unknown[],
  other: readonly unknown[],
  at: Path,
  found: Difference[],
): void {
  const shorter = Math.min(one.length, other.length);
  let from = 0;
  while (from < shorter && alike(one[from], other[from])) from += 1;
  let tail = 0;
  while (tail < shorter - from && alike(one.at(-1 - tail), other.at(-1 - tail))) tail += 1;
  const [left, right] = [one.slice(from, one.length - tail), other.slice(from, other.length - tail)];
  if (left.length === right.length && left.every(isObject) && right.every(isObject))
    for (const [index, item] of left.entries()) compare(item, right[index], [...at, from + index], found);
  else if (left.length + right.length > 0) found.push({ at, from, out: left.length, put: right });
}

function isObject(value: unknown): value is object {
  return typeof value === 'object' && value !== null;
}

function alike(one: unknown, other: unknown): boolean {
  const found: Difference[] = [];
  compare(one, other, [], found);
  return found.length === 0;
}

function isTree(value: unknown): value is Tree {
  return isObject(value) && !Array.isArray(value);
}

function placeOf(root: object, at: Path): unknown {
  let place: unknown = root;
  for (const name of at) {
    if (!isObject(place) || !Object.hasOwn(place, name)) throw notThere(at);
    place = (place as Tree)[name];
  }
  return place;
}

function notThere(at: Path): RangeError {
  return new RangeError(`${at.join('.')}: the document has no such place`);
}
