import { css, html, nothing } from 'lit';
import { customElement, query, state } from 'lit/decorators.js';
import { counted } from '../../base/format.ts';
import { lotWords } from '../../batch/lot-words.ts';
import { type RecordCode, readCode } from '../../batch/record-code.ts';
import { routeHref } from '../routes.ts';
import { StationElement } from '../station-element.ts';
import { stationStyles } from '../station-styles.ts';
import type { BatchEntry } from '../storage/storage-port.ts';

/** Made once: making it takes longer than writing a thousand times with it. */
const SAVED_AT = new Intl.DateTimeFormat('en-GB', { dateStyle: 'medium', timeStyle: 'short' });

/** The shelf: all batches of this browser, the one worked on last first, with search. */
@customElement('app-batches-page')
export class BatchesPage extends StationElement {
  static override styles = [
    stationStyles,
    css`
      ul {
        display: grid;
        gap: 0;
        margin: 0;
        padding: 0;
        list-style: none;
      }
      li {
        display: flex;
        flex-wrap: wrap;
        gap: var(--cw-space-2) var(--cw-space-4);
        align-items: baseline;
        padding-block: var(--cw-space-2);
        border-bottom: var(--cw-hairline) solid var(--cw-rule);
        content-visibility: auto;
        contain-intrinsic-block-size: auto 2.5rem;
      }
      li > a {
        flex: 1 1 16rem;
        min-width: 0;
        overflow-wrap: anywhere;
      }
      dialog {
        max-width: 30rem;
        border: var(--cw-hairline) solid var(--cw-ink);
        border-radius: var(--cw-radius);
        background: var(--cw-sheet);
        color: var(--cw-ink);
      }
      dialog::backdrop {
        background: rgb(0 0 0 / 40%);
      }
      input[type='search'] {
        min-width: 14rem;
      }
    `,
  ];

  @state() private entries: readonly BatchEntry[] | undefined;
  @state() private wanted = '';
  @state() private doomed: BatchEntry | undefined;
  @query('dialog') private readonly dialog!: HTMLDialogElement;

  protected override firstUpdated(): void {
    void this.refresh();
  }

  override render() {
    const { entries, wanted } = this;
    const code = this.code;
    const found = entries?.filter(({ title, lot, id }) =>
      code === undefined
        ? `${title} ${lot} ${id}`.toLowerCase().includes(wanted.toLowerCase())
        : id === code.batchId,
    );
    return html`<div class="stack">
      <div class="row head">
        <h1>Batches</h1>
        <div class="field">
          <label for="search">Search by title or lot, or scan a printed code</label>
          <input id="search" type="search" .value=${wanted} @input=${(event: Event) => (this.wanted = (event.target as HTMLInputElement).value)} @keydown=${this.onKey} />
        </div>
        <a href=${routeHref({ page: 'new' })}>From a line or a template</a>
        <button class="main" @click=${() => this.create()}>New order</button>
      </div>
      <p class="soft small" role="status">${found === undefined ? 'Looking …' : `${counted(found.length, 'batch', 'batches')} in this browser`}</p>
      ${found === undefined ? nothing : html`<ul>${found.map((entry) => this.entry(entry))}</ul>`}
      <dialog aria-label="Delete a batch" @close=${() => (this.doomed = undefined)}>
        <p>Delete <b>${this.doomed?.title ?? ''}</b>${this.doomed?.lot ? `, ${lotWords(this.doomed.lot)}` : ''}? It cannot be brought back, but for a file that you have exported.</p>
        <p class="row">
          <button @click=${() => this.dialog.close()}>Keep it</button>
          <button class="main" @click=${() => this.delete()}>Delete</button>
        </p>
      </dialog>
    </div>`;
  }

  /** What was scanned or typed, where it is the code of a batch that is here. */
  private get code(): RecordCode | undefined {
    const code = readCode(this.wanted);
    return this.entries?.some(({ id }) => id === code?.batchId) ? code : undefined;
  }

  /** A scanner ends a code with Enter: it opens the record, a run's or the batch's. */
  private readonly onKey = (event: KeyboardEvent): void => {
    const { code } = this;
    if (event.key !== 'Enter' || code === undefined) return;
    const { batchId, runId, sheet } = code;
    location.hash = routeHref({
      page: 'station',
      batchId,
      station: 'inspect',
      ...(runId === undefined ? {} : { run: runId }),
      ...(sheet === undefined ? {} : { sheet }),
    });
  };

  private entry(entry: BatchEntry) {
    const { id, title, lot, savedAt } = entry;
    const isOpen = id === this.state.batch.id;
    return html`<li>
      <a href=${routeHref({ page: 'station', batchId: id, station: 'order' })}><b>${title || 'Untitled'}</b>${lot === '' ? nothing : html` · ${lotWords(lot)}`}${isOpen ? html` <span class="small soft">(on the bench)</span>` : nothing}</a>
      <span class="small soft">${SAVED_AT.format(savedAt)}</span>
      ${isOpen ? nothing : html`<a class="small" href=${routeHref({ page: 'compare', batchId: this.state.batch.id, withId: id })} aria-label="Compare ${title} with the open batch">Compare</a>`}
      <button class="quiet" aria-label="Delete ${title}${lot === '' ? '' : `, ${lotWords(lot)}`}" @click=${() => this.ask(entry)}>Delete</button>
    </li>`;
  }

  private async refresh(): Promise<void> {
    await this.bench.flush();
    this.entries = (await this.bench.orSay(() => this.bench.shelf.list())) ?? [];
  }

  private ask(entry: BatchEntry): void {
    this.doomed = entry;
    this.dialog.showModal();
  }

  private async delete(): Promise<void> {
    const { doomed } = this;
    this.dialog.close();
    if (doomed === undefined) return;
    await this.bench.delete(doomed.id);
    await this.refresh();
  }

  private async create(): Promise<void> {
    const batchId = await this.bench.create();
    if (batchId !== undefined) location.hash = routeHref({ page: 'station', batchId, station: 'order' });
  }
}
