import type { CoatedSurface } from './coated-surface.ts';
import { ChannelBook, isMet, type JudgedGoal, withIndexFactors } from './judged-channels.ts';
import { ChannelLight, type LightChannel } from './light-channel.ts';
import type { Requirement } from './requirement.ts';
import { thicknessesOf } from './sample-surface.ts';

/**
 * Tells for many sets of thicknesses of one surface whether all requirements are met. Where the index stays as
 * recorded, tables are made once and then nothing is allocated.
 */
export class ThicknessJudge {
  readonly #channels: readonly LightChannel[];
  readonly #goals: readonly JudgedGoal[];
  readonly #lights: readonly ChannelLight[];
  readonly #backNm: Float64Array;
  /** For each channel whether its light is that of the coating at hand. */
  readonly #isFresh: boolean[];

  constructor(surface: CoatedSurface, requirements: readonly Requirement[]) {
    const book = new ChannelBook(surface);
    this.#goals = book.goals(requirements);
    this.#channels = book.channels;
    this.#lights = book.channels.map((channel) => new ChannelLight(channel));
    this.#backNm = thicknessesOf(surface).backNm;
    this.#isFresh = book.channels.map(() => false);
  }

  /**
   * Whether these thicknesses (nm, from the substrate on) meet every requirement; stops at the first missed.
   * @param indexFactor for each layer, on n and k alike, as a denser film has more of both.
   */
  passes(thicknessNm: Float64Array, indexFactor?: Float64Array): boolean {
    const lights =
      indexFactor === undefined
        ? this.#lights
        : this.#channels.map(
            (channel) => new ChannelLight(withIndexFactors(channel, indexFactor, indexFactor)),
          );
    this.#isFresh.fill(false);
    const lightAt = (place: number): ChannelLight => {
      const light = lights[place]!;
      if (!this.#isFresh[place]) light.update(thicknessNm, this.#backNm);
      this.#isFresh[place] = true;
      return light;
    };
    return this.#goals.every((goal) => isMet(goal, lightAt));
  }
}
