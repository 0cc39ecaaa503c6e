import { expect, it } from 'vitest';
import { InputError } from '../../src/base/errors.ts';

/** What asks for something that is out of range, and what it is told. */
export type Refusal = readonly [ask: () => unknown, sentence: string];

/** Refusals of a sound request of which some figures are changed. */
export function changed<T extends object>(
  sound: NoInfer<T>,
  ask: (request: T) => unknown,
  ...rows: readonly (readonly [Partial<T>, string])[]
): Refusal[] {
  return rows.map(([change, sentence]) => [() => ask({ ...sound, ...change }), sentence]);
}

/** What a message must begin with: a path before it that should not be there is seen as well. */
export function startingWith(sentence: string): RegExp {
  return new RegExp(`^${sentence.replace(/[.*+?^${}()|[\]\\/]/g, '\\$&')}`);
}

/** One test a refusal. */
export function expectRefused(refusals: readonly Refusal[]): void {
  it.each(refusals.map(([ask, sentence]) => [sentence, ask] as const))('%s', (sentence, ask) => {
    expect(ask).toThrow(startingWith(sentence));
    expect(ask).toThrow(InputError);
  });
}
