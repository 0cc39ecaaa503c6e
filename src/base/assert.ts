/** A broken invariant: a fault of the program, not of its input. */
export class InvariantError extends Error {
  override name = 'InvariantError';
}

/** Throws where something that must hold by construction does not. `message` says what should have held. */
export function assert(condition: boolean, message: string): asserts condition {
  if (!condition) throw new InvariantError(message);
}

/** Closes a switch over a union: the compiler complains where a case was forgotten. */
export function unreachable(value: never): never {
  throw new InvariantError(`no case for ${JSON.stringify(value)}`);
}
