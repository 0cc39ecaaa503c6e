import { atPath, InputError } from '../../base/errors.ts';

/** Runs `compute`; a fault of its input is told as one at `place` of the batch. */
export function within<Result>(place: string, compute: () => Result): Result {
  try {
    return compute();
  } catch (error) {
    throw error instanceof InputError ? atPath(place, error) : error;
  }
}
