import { css, html, nothing } from 'lit';
import { customElement, property, query } from 'lit/decorators.js';
import { live } from 'lit/directives/live.js';
import { lotWords } from '../../batch/lot-words.ts';
import type { OfflineState } from '../offline/program-updates.ts';
import type { Preferences } from '../preferences.ts';
import { routeHref } from '../routes.ts';
import { StationElement } from '../station-element.ts';
import { stationStyles } from '../station-styles.ts';
import type { SaveState } from '../storage/autosave.ts';
import './history-list.ts';

const SAVING: Readonly<Record<SaveState['kind'], string>> = {
  saved: 'kept in this browser',
  saving: 'being kept …',
  failed: 'not kept!',
};

const OFFLINE: Readonly<Record<OfflineState, string>> = {
  ready: 'Works without a network.',
  storing: 'Getting ready to work without a network …',
  impossible: 'Needs its server: this browser does not keep the program.',
};

const THEME_NAMES: readonly (readonly [Preferences['theme'], string])[] = [
  ['system', 'as the system'],
  ['light', 'light'],
  ['dark', 'dark'],
  ['chamber', 'chamber room'],
];

/** Somebody wants the list of keys. */
export class HelpWantedEvent extends Event {
  constructor() {
    super('app-help-wanted', { bubbles: true, composed: true });
  }
}

/** Along the upper edge: whose batch is on the bench, the way back, and everything that is about the batch as a whole. */
@customElement('app-batch-bar')
export class BatchBar extends StationElement {
  static override styles = [
    stationStyles,
    css`
      header {
        display: flex;
        flex-wrap: wrap;
        gap: var(--cw-space-1) var(--cw-space-4);
        align-items: center;
        padding: var(--cw-space-2) clamp(0.75rem, 2.5vw, 2.25rem);
      }
      .mark {
        display: inline-flex;
        gap: var(--cw-space-2);
        align-items: center;
        font: 600 var(--cw-size-large) / 1.2 var(--cw-font-title);
        letter-spacing: 0.01em;
        text-decoration: none;
      }
      .mark svg {
        width: 1.5rem;
        height: 1.5rem;
        fill: none;
        stroke: currentColor;
        stroke-width: 1.8;
        stroke-linecap: round;
      }
      .mark .coat {
        stroke: var(--cw-residual);
      }
      .batch {
        flex: 1 1 12rem;
        min-width: 0;
        overflow-wrap: anywhere;
      }
      .tools {
        display: flex;
        flex-wrap: wrap;
        gap: var(--cw-space-1);
        align-items: center;
      }
      .saving {
        color: var(--cw-ink-soft);
        font-size: var(--cw-size-small);
      }
      .saving.failed {
        color: var(--cw-missed);
        font-weight: 700;
      }
      [popover] {
        inset: 3.25rem 1rem auto auto;
        width: min(22rem, calc(100vw - 2rem));
        max-height: calc(100vh - 6rem);
        margin: 0;
        padding: var(--cw-space-4);
        overflow: auto;
        border: var(--cw-hairline) solid var(--cw-ink);
        border-radius: var(--cw-radius);
        background: var(--cw-sheet);
        color: var(--cw-ink);
      }
      .menu {
        display: grid;
        gap: var(--cw-space-4);
      }
      .menu .deeds {
        display: grid;
        gap: var(--cw-space-2);
        justify-items: stretch;
      }
      .menu .deeds > * {
        text-align: start;
      }
      input[type='file'] {
        display: none;
      }
      @media (max-width: 48rem) {
        .saving {
          display: none;
        }
        .saving.failed {
          display: inline;
        }
        .batch {
          order: 3;
          flex-basis: 100%;
        }
        .tools {
          margin-inline-start: auto;
        }
      }
    `,
  ];

  @property() offline: OfflineState = 'storing';
  @query('input[type="file"]') private readonly file!: HTMLInputElement;
  @query('#menu') private readonly menu!: HTMLElement;

  override render() {
    const { batch, canUndo, canRedo, saving } = this.state;
    const { past } = this.bench.history;
    const { title, lot } = batch.order;
    return html`<header>
      <a class="mark" href=${routeHref({ page: 'batches' })} aria-label="Coatwright: all batches">
        <svg viewBox="0 0 24 24" aria-hidden="true"><path d="M8 3q6.500 9 0 18q-6.500-9 0-18z"/><path class="coat" d="M11.500 3q6.500 9 0 18"/><path class="coat" d="M15 3q6.500 9 0 18"/></svg>
        Coatwright
      </a>
      <span class="batch"><b>${title || 'Untitled'}</b>${lot === '' ? nothing : html` · ${lotWords(lot)}`}${batch.invented === undefined ? nothing : html` <span class="soft small">(invented demo)</span>`}</span>
      <span class="tools">
        <span class="saving ${saving.kind}">${SAVING[saving.kind]}</span>
        <button class="quiet" ?disabled=${!canUndo} @click=${() => this.bench.undo()} title=${canUndo ? `Undo: ${past.at(-1)?.name}` : 'Nothing to undo'}>Undo</button>
        <button class="quiet" ?disabled=${!canRedo} @click=${() => this.bench.redo()}>Redo</button>
        <button class="quiet" popovertarget="history">History</button>
        <a class="small" href=${routeHref({ page: 'traveller', batchId: batch.id })}>Traveller</a>
        <button popovertarget="menu">Batch</button>
      </span>
      <div popover id="history" @beforetoggle=${this.giveFocusBack} aria-label="History of edits"><app-history-list .bench=${this.bench} .state=${this.state}></app-history-list></div>
      <div popover id="menu" @beforetoggle=${this.giveFocusBack} aria-label="The batch and the bench">${this.menuContent()}</div>
      <input type="file" accept=".json,application/json" tabindex="-1" aria-label="Batch file" @change=${this.onFile} />
    </header>`;
  }

  private menuContent() {
    const { batch, preferences } = this.state;
    const close = (deed: () => unknown) => () => {
      this.menu.hidePopover();
      void deed();
    };
    return html`<div class="menu">
      <div class="deeds">
        <button @click=${close(() => this.goTo(this.bench.create()))}>New order</button>
        <a href=${routeHref({ page: 'new' })} @click=${close(() => undefined)}>Order from a line or a template</a>
        <button @click=${close(() => this.goTo(this.bench.duplicate()))}>Duplicate for the next lot</button>
        <button @click=${close(() => this.file.click())}>Import a batch file …</button>
        <button @click=${close(() => this.bench.export())}>Export this batch</button>
        <a href=${routeHref({ page: 'batches' })} @click=${close(() => undefined)}>All batches</a>
        <a href=${routeHref({ page: 'compare', batchId: batch.id, withId: undefined })} @click=${close(() => undefined)}>Compare with another batch</a>
        <a href=${routeHref({ page: 'materials', material: undefined, against: undefined })} @click=${close(() => undefined)}>Materials</a>
      </div>
      ${this.preference('theme', 'Light in this room', THEME_NAMES, preferences.theme)}
      ${this.preference(
        'lengthUnit',
        'Layers in',
        [
          ['nm', 'nm'],
          ['Å', 'Å'],
        ],
        preferences.lengthUnit,
      )}
      ${this.preference(
        'pressureUnit',
        'Pressures in',
        [
          ['mbar', 'mbar'],
          ['Torr', 'Torr'],
          ['Pa', 'Pa'],
        ],
        preferences.pressureUnit,
      )}
      <button @click=${close(() => this.dispatchEvent(new HelpWantedEvent()))}>Keys, help and tour</button>
      <p class="small soft">${OFFLINE[this.offline]}</p>
    </div>`;
  }

  private preference<Name extends 'theme' | 'lengthUnit' | 'pressureUnit'>(
    name: Name,
    label: string,
    choices: readonly (readonly [Preferences[Name], string])[],
    value: Preferences[Name],
  ) {
    const onChange = (event: Event) =>
      this.bench.prefer({ [name]: (event.target as HTMLSelectElement).value } as Partial<Preferences>);
    return html`<div class="field">
      <label for=${name}>${label}</label>
      <select id=${name} .value=${live(value)} @change=${onChange}>
        ${choices.map(([word, words]) => html`<option value=${word} ?selected=${word === value}>${words}</option>`)}
      </select>
    </div>`;
  }

  /** A panel that closes while the focus is in it gives the focus back to its button. */
  private readonly giveFocusBack = (event: ToggleEvent): void => {
    const panel = event.currentTarget as HTMLElement;
    const holdsFocus = panel.contains(this.shadowRoot?.activeElement ?? null);
    if (event.newState !== 'closed' || !holdsFocus) return;
    const button = this.renderRoot.querySelector<HTMLElement>(`[popovertarget='${panel.id}']`);
    queueMicrotask(() => button?.focus());
  };

  private async goTo(opened: Promise<string | undefined>): Promise<void> {
    const batchId = await opened;
    if (batchId !== undefined) location.hash = routeHref({ page: 'station', batchId, station: 'order' });
  }

  private readonly onFile = async (): Promise<void> => {
    const file = this.file.files?.[0];
    this.file.value = '';
    if (file !== undefined) await this.goTo(this.bench.import(file));
  };
}

declare global {
  interface HTMLElementEventMap {
    'app-help-wanted': HelpWantedEvent;
  }
}
