import { Random } from '../../src/math/random.ts';

/** A source that gives these deviates and no more: a test sees what is drawn, and that nothing else is. */
export class ScriptedRandom extends Random {
  readonly #normals: number[];
  readonly #uniforms: number[];

  constructor(normals: readonly number[] = [], uniforms: readonly number[] = []) {
    super(0);
    this.#normals = [...normals];
    this.#uniforms = [...uniforms];
  }

  override normal(): number {
    return next(this.#normals);
  }

  override uniform(): number {
    return next(this.#uniforms);
  }

  /** How many numbers wait to be drawn. */
  get left(): number {
    return this.#normals.length + this.#uniforms.length;
  }
}

function next(numbers: number[]): number {
  const drawn = numbers.shift();
  if (drawn === undefined) throw new Error('one random number more was drawn than expected');
  return drawn;
}
