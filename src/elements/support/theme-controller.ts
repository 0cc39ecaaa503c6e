import type { ReactiveController, ReactiveControllerHost } from 'lit';
import { printTheme } from '../tokens/print-theme.ts';
import type { ColourToken } from '../tokens/token-names.ts';

/**
 * Tells an element that draws on a canvas which colours rule now, and updates it when the theme changes and
 * when the page is printed, since no style sheet reaches into a canvas.
 */
export class ThemeController implements ReactiveController {
  /** Counts changes, so that a host can see whether what it drew is of an older theme. */
  version = 0;

  private printing = false;
  private readonly values = new Map<string, string>();
  private readonly host: ReactiveControllerHost & HTMLElement;
  private readonly preferences = [
    '(prefers-color-scheme: dark)',
    '(prefers-contrast: more)',
    '(forced-colors: active)',
  ].map((query) => matchMedia(query));
  private readonly observer = new MutationObserver(() => this.changed());

  constructor(host: ReactiveControllerHost & HTMLElement) {
    this.host = host;
    host.addController(this);
  }

  hostConnected(): void {
    for (let place: Node | null = this.host; place; place = place.parentNode ?? hostOf(place))
      if (place instanceof HTMLElement)
        this.observer.observe(place, { attributes: true, attributeFilter: ['data-theme', 'style'] });
    for (const preference of this.preferences) preference.addEventListener('change', this.changed);
    addEventListener('beforeprint', this.toPaper);
    addEventListener('afterprint', this.toScreen);
    this.changed();
  }

  hostDisconnected(): void {
    this.observer.disconnect();
    for (const preference of this.preferences) preference.removeEventListener('change', this.changed);
    removeEventListener('beforeprint', this.toPaper);
    removeEventListener('afterprint', this.toScreen);
  }

  /** The colour that a token has at the host now. */
  colour(token: ColourToken): string {
    return this.printing ? printTheme[token] : this.value(token);
  }

  /** Any token's value at the host, by its name without `--cw-`, read once for each theme: reading makes the browser work out styles. */
  value(name: string): string {
    const known = this.values.get(name);
    if (known !== undefined) return known;
    const value = getComputedStyle(this.host).getPropertyValue(`--cw-${name}`).trim();
    if (this.host.isConnected) this.values.set(name, value);
    return value;
  }

  /** Whether curves must differ by their dashes, because the theme's colours cannot tell them apart. */
  get patterns(): boolean {
    return this.printing || this.value('patterns') === 'on';
  }

  /** Size of small type at the host, CSS pixels: it grows with the host's own type. */
  get smallTypePx(): number {
    return Math.round(Number.parseFloat(getComputedStyle(this.host).fontSize) * 0.82 * 10) / 10 || 12;
  }

  private readonly toPaper = (): void => {
    this.printing = true;
    this.changed();
  };

  private readonly toScreen = (): void => {
    this.printing = false;
    this.changed();
  };

  private readonly changed = (): void => {
    this.version += 1;
    this.values.clear();
    this.host.requestUpdate();
  };
}

function hostOf(node: Node): Node | null {
  return node instanceof ShadowRoot ? node.host : null;
}
