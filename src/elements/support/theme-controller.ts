import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { ColourToken } from '../tokens/token-names.ts';

/** Tells an element that draws on a canvas which colours rule now, and updates it when the theme changes. */
export class ThemeController implements ReactiveController {
  /** Counts changes, so that a host can see whether what it drew is of an older theme. */
  version = 0;

  private readonly host: ReactiveControllerHost & HTMLElement;
  private readonly preference = matchMedia('(prefers-color-scheme: dark)');
  private readonly observer = new MutationObserver(() => this.changed());

  constructor(host: ReactiveControllerHost & HTMLElement) {
    this.host = host;
    host.addController(this);
  }

  hostConnected(): void {
    for (let place: Node | null = this.host; place; place = place.parentNode ?? hostOf(place))
      if (place instanceof HTMLElement)
        this.observer.observe(place, { attributes: true, attributeFilter: ['data-theme', 'style'] });
    this.preference.addEventListener('change', this.changed);
    this.changed();
  }

  hostDisconnected(): void {
    this.observer.disconnect();
    this.preference.removeEventListener('change', this.changed);
  }

  /** The colour that a token has at the host now. */
  colour(token: ColourToken): string {
    return this.value(token);
  }

  /** Any token's value at the host now, by its name without `--cw-`. */
  value(name: string): string {
    return getComputedStyle(this.host).getPropertyValue(`--cw-${name}`).trim();
  }

  private readonly changed = (): void => {
    this.version += 1;
    this.host.requestUpdate();
  };
}

function hostOf(node: Node): Node | null {
  return node instanceof ShadowRoot ? node.host : null;
}
