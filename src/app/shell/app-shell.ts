import { css, html, LitElement, nothing, type PropertyValues } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { baseStyles } from '../../elements/shared-styles.ts';
import type { Bench } from '../bench.ts';
import type { OfflineState } from '../offline/program-updates.ts';
import { parseRoute, type Route, routeHref, STATIONS } from '../routes.ts';
import { residualOf } from '../stations/residual.ts';
import './batch-bar.ts';
import './figure-strip.ts';
import './journey-rail.ts';
import './notice-list.ts';
import { pageOf, pageTitle } from './pages.ts';

/** The bench itself: what is being worked on above, the lens's way, the open station, the figures along the lower edge. */
@customElement('app-shell')
export class AppShell extends LitElement {
  static override styles = [
    baseStyles,
    css`
      :host {
        display: grid;
        grid-template-rows: auto auto 1fr auto;
        grid-template-columns: minmax(0, 1fr);
        min-height: 100vh;
        min-height: 100dvh;
        background: var(--cw-paper);
      }
      .skip {
        position: absolute;
        top: -6rem;
        left: var(--cw-space-4);
        z-index: 10;
        padding: var(--cw-space-2) var(--cw-space-4);
        background: var(--cw-ink);
        color: var(--cw-paper);
      }
      .skip:focus {
        top: 0;
      }
      app-journey-rail,
      main,
      app-notice-list {
        width: 100%;
        max-width: 96rem;
        margin-inline: auto;
        padding-inline: clamp(0.75rem, 2.5vw, 2.25rem);
      }
      main {
        padding-block: var(--cw-space-4) var(--cw-space-6);
      }
      main:focus {
        outline: none;
      }
      footer {
        position: sticky;
        bottom: 0;
        z-index: 2;
        min-width: 0;
      }
      .opening {
        padding: var(--cw-space-7);
        color: var(--cw-ink-soft);
      }
      @media (max-height: 30rem) {
        footer {
          position: static;
        }
      }
      @media print {
        :host {
          display: block;
          min-height: 0;
        }
        .skip,
        app-batch-bar,
        app-journey-rail,
        app-notice-list,
        footer {
          display: none;
        }
        main {
          padding: 0;
        }
      }
    `,
  ];

  @property({ attribute: false }) bench: Bench | undefined;
  @property() offline: OfflineState = 'storing';
  @state() private route: Route = parseRoute(location.hash);
  @query('main') private readonly main!: HTMLElement;
  #leave: (() => void) | undefined;

  override connectedCallback(): void {
    super.connectedCallback();
    window.addEventListener('hashchange', this.onHash);
    window.addEventListener('keydown', this.onKey);
    document.addEventListener('visibilitychange', this.onHide);
    window.addEventListener('pagehide', this.onHide);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    window.removeEventListener('hashchange', this.onHash);
    window.removeEventListener('keydown', this.onKey);
    document.removeEventListener('visibilitychange', this.onHide);
    window.removeEventListener('pagehide', this.onHide);
    this.#leave?.();
  }

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (!changed.has('bench') || this.bench === undefined) return;
    this.#leave?.();
    this.#leave = this.bench.subscribe(() => this.requestUpdate());
    void this.openRouted();
  }

  /** The open coating's residual colour is the page's only accent; each theme makes of it what is seen there. */
  protected override updated(): void {
    const { plan, side } = this.bench?.state ?? {};
    const surface = plan?.surfaces.find((one) => one.side === side) ?? plan?.surfaces[0];
    const { style } = document.documentElement;
    const vivid = residualOf(surface)?.vivid;
    if (vivid === undefined) style.removeProperty('--cw-residual-colour');
    else style.setProperty('--cw-residual-colour', vivid);
  }

  override render() {
    const { bench, route } = this;
    if (bench === undefined)
      return html`<main class="opening"><h1 class="visually-hidden">Coatwright</h1><p>Opening the bench …</p></main>`;
    const { state: now } = bench;
    document.title = pageTitle(route, now);
    return html`
      <a class="skip" href="#main" @click=${this.onSkip}>Skip to the ${route.page === 'station' ? route.station : 'page'}</a>
      <app-batch-bar .bench=${bench} .state=${now} .offline=${this.offline}></app-batch-bar>
      <app-journey-rail .state=${now} .station=${route.page === 'station' ? route.station : undefined}></app-journey-rail>
      <div>
        <app-notice-list .bench=${bench} .notices=${now.notices}></app-notice-list>
        <main id="main" tabindex="-1">${pageOf(route, bench, now)}</main>
      </div>
      <footer aria-label="Figures of the whole chain">
        ${route.page === 'station' || route.page === 'compare' ? html`<app-figure-strip .state=${now}></app-figure-strip>` : nothing}
      </footer>
    `;
  }

  /** Opens the batch that the address names; an address without one gets the open batch's. */
  private async openRouted(): Promise<void> {
    const { bench, route } = this;
    if (bench === undefined || !('batchId' in route)) return;
    if (route.batchId === undefined || !(await bench.open(route.batchId))) {
      const { id } = bench.state.batch;
      const station = route.page === 'station' ? route.station : 'order';
      history.replaceState(undefined, '', routeHref({ page: 'station', batchId: id, station }));
      this.route = parseRoute(location.hash);
    }
  }

  private readonly onHash = (): void => {
    this.route = parseRoute(location.hash);
    this.bench?.forgetRefusals();
    void this.openRouted();
    window.scrollTo({ top: 0 });
    this.main.focus({ preventScroll: true });
  };

  private readonly onHide = (): void => {
    if (document.visibilityState === 'hidden') void this.bench?.flush();
  };

  private readonly onSkip = (event: Event): void => {
    event.preventDefault();
    this.main.focus();
  };

  /** Ctrl+Z and Ctrl+Shift+Z or Ctrl+Y, but within a text field, which has its own; Alt+1 to Alt+6 go to the stations. */
  private readonly onKey = (event: KeyboardEvent): void => {
    const { bench } = this;
    if (bench === undefined) return;
    if (event.altKey && !event.ctrlKey && !event.metaKey && /^Digit[1-6]$/.test(event.code)) {
      event.preventDefault();
      const station = STATIONS[Number(event.code.slice(-1)) - 1]!;
      location.hash = routeHref({ page: 'station', batchId: bench.state.batch.id, station });
    }
    if (!(event.ctrlKey || event.metaKey) || event.altKey || isWriting(event)) return;
    const key = event.key.toLowerCase();
    const deed = key === 'y' || (key === 'z' && event.shiftKey) ? 'redo' : key === 'z' ? 'undo' : undefined;
    if (deed === undefined) return;
    event.preventDefault();
    bench[deed]();
  };
}

/** Whether the key goes to a place where text is written that has not been settled yet. */
function isWriting(event: KeyboardEvent): boolean {
  const [target] = event.composedPath();
  return (
    target instanceof HTMLTextAreaElement ||
    (target instanceof HTMLInputElement && target.type === 'text' && target.role !== 'spinbutton')
  );
}

declare global {
  interface HTMLElementTagNameMap {
    'app-shell': AppShell;
  }
}
