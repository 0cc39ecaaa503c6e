/** The accent waits this long for the next edit: a drag then costs one change of every style on the page, not one a frame. */
const PAUSE_MS = 150;

/**
 * Gives the page the open coating's residual colour as its accent. Each theme makes of it what is seen there. A property
 * of the root is inherited by all that stands on the page, so setting it makes the browser work out every style anew.
 */
export class Accent {
  #colour: string | undefined;
  #timer: ReturnType<typeof setTimeout> | undefined;

  /** Takes a colour soon, the first one at once; undefined gives the theme's own back. */
  follow(colour: string | undefined): void {
    if (colour === this.#colour) return;
    const isFirst = this.#colour === undefined && this.#timer === undefined;
    this.#colour = colour;
    clearTimeout(this.#timer);
    if (isFirst) this.#show();
    else this.#timer = setTimeout(() => this.#show(), PAUSE_MS);
  }

  #show(): void {
    this.#timer = undefined;
    const { style } = document.documentElement;
    if (this.#colour === undefined) style.removeProperty('--cw-residual-colour');
    else style.setProperty('--cw-residual-colour', this.#colour);
  }
}
