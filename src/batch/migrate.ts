import { BATCH_VERSION } from './document.ts';

type Raw = Record<string, unknown>;

/** What turns a document of version n into version n + 1, by n. Empty as long as version 1 is the only one. */
const STEPS: ReadonlyMap<number, (document: Raw) => Raw> = new Map();

/**
 * Brings an older document up to the present version, step by step; the document given is left untouched.
 * `steps` and `target` are arguments so that the walk itself can be tested.
 */
export function migrate(document: Raw, steps = STEPS, target: number = BATCH_VERSION): Raw {
  let result = document;
  for (let version = Number(document.version); version < target; version += 1) {
    const step = steps.get(version);
    if (step === undefined) return result; // the schema then refuses the version with a sentence
    result = { ...step(structuredClone(result)), version: version + 1 };
  }
  return result;
}
