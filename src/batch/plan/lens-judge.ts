import { filmOf, type SideFilms } from './place-films.ts';

/** Films that differ by less than this part are judged as one; a class stands for the mean of its films. */
const SAME_PART = 0.0025;

/**
 * Judges the lenses of a side for many runs: films that hardly differ are put into classes first, so that a load of a hundred
 * places takes a few dozen judgements a run. A lens is good where its centre and the edge of its clear aperture are.
 */
export class LensJudge {
  readonly #side: SideFilms;
  readonly #classes: readonly Float64Array[];
  /** For every lens, the classes of its centre and of what lies around its edge, each once. */
  readonly #lenses: readonly (readonly number[])[];
  readonly #passes: Int8Array;

  /** @param places the numbers of the places that hold a lens. */
  constructor(side: SideFilms, places: readonly number[]) {
    this.#side = side;
    const members: Float64Array[][] = [];
    const known = new Map<string, number>();
    const classOf = (factors: Float64Array): number => {
      const key = Array.from(factors, (factor) => Math.round(Math.log(factor) / SAME_PART)).join();
      const found = known.get(key) ?? members.push([]) - 1;
      known.set(key, found);
      members[found]!.push(factors);
      return found;
    };
    this.#lenses = places.map((place) => [
      ...new Set([side.centre[place]!, ...side.edges[place]!].map(classOf)),
    ]);
    this.#classes = members.map(meanOf);
    this.#passes = new Int8Array(members.length);
  }

  /**
   * Which lenses are good, in the order of the places.
   * @param thicknessNm what the run put on the mean lens place.
   */
  good(thicknessNm: Float64Array): boolean[] {
    this.#passes.fill(-1);
    return this.#lenses.map((classes) => classes.every((index) => this.#passed(index, thicknessNm)));
  }

  #passed(index: number, thicknessNm: Float64Array): boolean {
    if (this.#passes[index] === -1)
      this.#passes[index] = Number(this.#side.judge.passes(filmOf(thicknessNm, this.#classes[index]!)));
    return this.#passes[index] === 1;
  }
}

function meanOf(films: readonly Float64Array[]): Float64Array {
  const [first] = films;
  return first!.map((_, layer) => films.reduce((sum, film) => sum + film[layer]!, 0) / films.length);
}
