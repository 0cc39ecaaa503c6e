import type { Batch } from '../document.ts';

/** Answers that are kept: those of the document, of the one before it, and of another batch that it is compared with. */
const KEPT = 4;

/**
 * The same part of a plan, with its last answers kept. It follows from the named sections of the batch and from `rest`
 * alone: documents are never changed in place, so an edit elsewhere leaves these sections the same objects, and the part
 * need not be computed again. Faults are not kept.
 * @param keyOf what of `rest` the part follows from, compared by identity; all of it where left out.
 */
export function bySections<Part, Rest extends readonly unknown[]>(
  sections: readonly (keyof Batch)[],
  compute: (document: Batch, ...rest: Rest) => Part,
  keyOf: (...rest: Rest) => readonly unknown[] = (...rest) => rest,
): (document: Batch, ...rest: Rest) => Part {
  let kept: { readonly key: readonly unknown[]; readonly part: Part }[] = [];
  return (document, ...rest) => {
    const key = [...sections.map((name) => document[name]), ...keyOf(...rest)];
    const known = kept.find((one) => isAlike(one.key, key)) ?? { key, part: compute(document, ...rest) };
    kept = [known, ...kept.filter((one) => one !== known)].slice(0, KEPT);
    return known.part;
  };
}

function isAlike(one: readonly unknown[], other: readonly unknown[]): boolean {
  return one.length === other.length && one.every((value, place) => value === other[place]);
}
