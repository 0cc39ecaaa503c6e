import { css, html, LitElement, nothing, type PropertyValues } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { baseStyles } from '../../elements/shared-styles.ts';
import type { Bench } from '../bench.ts';
import type { OfflineState } from '../offline/program-updates.ts';
import { parseRoute, type Route, routeHref } from '../routes.ts';
import { residualOf } from '../stations/residual.ts';
import { Accent } from './accent.ts';
import './batch-bar.ts';
import { benchKeyOf } from './bench-keys.ts';
import './figure-strip.ts';
import type { HelpDialog } from './help-dialog.ts';
import './journey-rail.ts';
import './notice-list.ts';
import { pageOf, pageTitle } from './pages.ts';
import type { TourStepEvent } from './tour-card.ts';
import type { TourStep } from './tour-steps.ts';

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
        forced-color-adjust: none;
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
      .pointed {
        outline: 3px dashed var(--cw-residual);
        outline-offset: -3px;
      }
      footer.pointed {
        outline-offset: 0;
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
  /** The step of the tour that is shown; undefined while there is no tour. */
  @state() private tourStep: number | undefined;
  @state() private tourSteps: readonly TourStep[] = [];
  @query('main') private readonly main!: HTMLElement;
  @query('app-help-dialog') private readonly help!: HelpDialog;
  readonly #accent = new Accent();
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
    this.bench.onCopied = (id) => {
      if ('batchId' in this.route) location.hash = routeHref({ ...this.route, batchId: id });
    };
    void this.openRouted();
    this.inviteToTour(this.bench);
  }

  protected override updated(): void {
    const { plan, side } = this.bench?.state ?? {};
    const surface = plan?.surfaces.find((one) => one.side === side) ?? plan?.surfaces[0];
    this.#accent.follow(residualOf(surface)?.vivid);
  }

  override render() {
    const { bench, route } = this;
    if (bench === undefined)
      return html`<main class="opening"><h1 class="visually-hidden">Coatwright</h1><p>Opening the bench …</p></main>`;
    const { state: now } = bench;
    document.title = pageTitle(route, now);
    const pointed = this.tourStep === undefined ? undefined : this.tourSteps[this.tourStep]?.points;
    return html`
      <a class="skip" href="#main" @click=${this.onSkip}>Skip to the ${route.page === 'station' ? route.station : 'page'}</a>
      <app-batch-bar .bench=${bench} .state=${now} .offline=${this.offline} @app-help-wanted=${this.showHelp}></app-batch-bar>
      <app-journey-rail .state=${now} .station=${route.page === 'station' ? route.station : undefined}></app-journey-rail>
      <div>
        <app-notice-list .bench=${bench} .notices=${now.notices}></app-notice-list>
        <main id="main" tabindex="-1" class=${pointed === 'station' ? 'pointed' : ''}>${pageOf(route, bench, now)}</main>
      </div>
      <footer aria-label="Figures of the whole chain" class=${pointed === 'figures' ? 'pointed' : ''}>
        ${route.page === 'station' || route.page === 'compare' ? html`<app-figure-strip .state=${now}></app-figure-strip>` : nothing}
      </footer>
      <app-help-dialog @app-tour-wanted=${this.startTour}></app-help-dialog>
      ${this.tourStep === undefined ? nothing : html`<app-tour-card .step=${this.tourStep} @app-tour-step=${({ step }: TourStepEvent) => this.tour(step)}></app-tour-card>`}
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

  /** The demo's first visitor is asked, not led. */
  private inviteToTour(bench: Bench): void {
    const { preferences, batch } = bench.state;
    if (preferences.tourSeen || batch.invented === undefined) return;
    const seen = () => bench.prefer({ tourSeen: true });
    bench.notices.post({
      id: 'tour',
      kind: 'news',
      text: 'New here? A short tour follows a lot through the bench.',
      actions: [{ label: 'Start the tour', run: () => void this.startTour() }],
      onClose: seen,
    });
  }

  // Help and tour are fetched when they are first asked for: most visits need neither.
  private readonly showHelp = async (): Promise<void> => {
    await import('./help-dialog.ts');
    await this.help.updateComplete;
    this.help.show();
  };

  private readonly startTour = async (): Promise<void> => {
    const [{ TOUR_STEPS }] = await Promise.all([import('./tour-steps.ts'), import('./tour-card.ts')]);
    this.tourSteps = TOUR_STEPS;
    this.tour(0);
  };

  /** Goes to a step of the tour, or ends it; then the focus lies on the station that was come to. */
  private tour(step: number | undefined): void {
    const { bench } = this;
    if (bench === undefined) return;
    bench.notices.remove('tour');
    if (!bench.state.preferences.tourSeen) bench.prefer({ tourSeen: true });
    this.tourStep = step;
    const next = step === undefined ? undefined : this.tourSteps[step];
    if (next === undefined) this.main.focus({ preventScroll: true });
    else location.hash = routeHref({ page: 'station', batchId: bench.state.batch.id, station: next.station });
  }

  private readonly onHash = (): void => {
    this.route = parseRoute(location.hash);
    void this.openRouted();
    window.scrollTo({ top: 0 });
    // On a tour the card keeps the focus.
    if (this.tourStep === undefined) this.main.focus({ preventScroll: true });
  };

  private readonly onHide = (): void => {
    if (document.visibilityState === 'hidden') void this.bench?.flush();
  };

  private readonly onSkip = (event: Event): void => {
    event.preventDefault();
    this.main.focus();
  };

  /** The bench's own keys; Ctrl+Z and Ctrl+Shift+Z or Ctrl+Y, but within a text field, which has its own. */
  private readonly onKey = (event: KeyboardEvent): void => {
    const { bench } = this;
    if (bench === undefined) return;
    const pressed = benchKeyOf(event, isWriting(event));
    if (pressed !== undefined) {
      event.preventDefault();
      if (pressed.deed === 'help') void this.showHelp();
      else location.hash = pressed.deed.href(bench.state.batch.id);
      return;
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
