import { html, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { keyed } from 'lit/directives/keyed.js';
import { live } from 'lit/directives/live.js';
import { listed } from '../../base/format.ts';
import '../../elements/line-chart/cw-line-chart.ts';
import { findMaterial } from '../../materials/library.ts';
import { exportMaterialJson } from '../../materials/own/own-material.ts';
import type { MaterialRecord } from '../../materials/record.ts';
import { downloadText } from '../download.ts';
import { routeHref } from '../routes.ts';
import { StationElement } from '../station-element.ts';
import { formulaText, indexWords, materialsOf } from '../stations/material-words.ts';
import { type DamagedMaterial, MaterialShelf } from '../storage/material-shelf.ts';
import { StorageError } from '../storage/storage-port.ts';
import type { MakingEndedEvent } from './materials/making-ended-event.ts';
import { endMarkers, extinctionPicture, indexSeries, stretchOf } from './materials/material-chart-data.ts';
import { draftOf, type MaterialDraft, newDraft } from './materials/material-draft.ts';
import { indexTable, materialFacts } from './materials/material-facts.ts';
import { groupMaterials, type MaterialGroup } from './materials/material-groups.ts';
import './materials/material-maker.ts';
import type { MaterialMaker } from './materials/material-maker.ts';
import { materialsPageStyles } from './materials/materials-page-styles.ts';
import { isMissed, placesOf, putMaterial, removeMaterial } from './materials/own-material-edits.ts';

/**
 * The materials: index and extinction over the wavelength, range, source, properties, hazards, two side by side; and those
 * of the shop's own, which the batch carries, made, edited, imported, exported and taken out.
 */
@customElement('app-materials-page')
export class MaterialsPage extends StationElement {
  static override styles = materialsPageStyles;

  @property({ attribute: false }) material: string | undefined;
  @property({ attribute: false }) against: string | undefined;
  @state() private wanted = '';
  @state() private isWhole = false;
  @state() private making: MaterialDraft | undefined;
  /** What became of the last wish. */
  @state() private said = '';
  @state() private shelved: readonly MaterialRecord[] = [];
  @state() private damaged: readonly DamagedMaterial[] = [];
  /** What was taken off the shelf last, so that it can be put back. */
  @state() private dropped: MaterialRecord | undefined;
  private shelf: MaterialShelf | undefined;
  @query('.list') private readonly finder!: HTMLElement;
  @query('app-material-maker') private readonly maker!: MaterialMaker | null;

  override connectedCallback(): void {
    super.connectedCallback();
    this.requestUpdate('material'); // its entry is brought into view
    void this.updateComplete.then(() => this.onShelf(async () => undefined));
  }

  /** Materials that go before the library's: those of the batch, then those of the shelf. */
  private get own(): readonly MaterialRecord[] {
    const carried = this.state.batch.materials;
    const ids = idsOf(carried);
    return [...carried, ...this.shelved.filter(({ id }) => !ids.has(id))];
  }

  /** Brings the material that an address names into the list's view, without moving the page. */
  protected override updated(changed: PropertyValues<this>): void {
    if (!changed.has('material')) return;
    const { finder } = this;
    const entry = finder.querySelector<HTMLElement>('[aria-current]');
    if (entry === null) return;
    const [box, inside] = [finder.getBoundingClientRect(), entry.getBoundingClientRect()];
    if (inside.top < box.top || inside.bottom > box.bottom)
      finder.scrollTop += inside.top - box.top - box.height / 3;
  }

  override render() {
    const { batch } = this.state;
    const own = this.own;
    const all = materialsOf(['film', 'metal', 'substrate'], { materials: own });
    const groups = groupMaterials(all, idsOf(batch.materials), this.wanted, idsOf(this.shelved));
    const shown = findMaterial(this.material ?? 'mgf2', own);
    return html`<div class="stack" @dragover=${(event: DragEvent) => event.preventDefault()} @drop=${this.onDrop}>
      <div class="row head">
        <h1>Materials</h1>
        <button @click=${() => this.make(newDraft('variant', shown))}>Make a material</button>
        <button @click=${() => this.make(newDraft('text', undefined))}>Import a material</button>
      </div>
      ${this.damaged.map((one) => this.damagedNote(one))}
      <div class="bench">
        ${this.list(groups, all.length, shown)}
        <div class="stack">
          ${
            this.making !== undefined
              ? html`<app-material-maker .bench=${this.bench} .state=${this.state} .draft=${this.making} @app-making-ended=${this.onMakingEnded}></app-material-maker>`
              : shown === undefined
                ? html`<p class="empty">There is no material "${this.material}": neither the library nor this batch has one of that id. Pick one from the list.</p>${this.dropBack()}`
                : this.shown(shown, all)
          }
        </div>
      </div>
    </div>`;
  }

  private list(
    groups: readonly MaterialGroup[],
    most: number,
    shown: MaterialRecord | undefined,
  ): TemplateResult {
    const found = groups.reduce((sum, { records }) => sum + records.length, 0);
    const onSearch = (event: Event) => (this.wanted = (event.target as HTMLInputElement).value);
    return html`<div class="stack finder">
      <div class="field">
        <label for="search">Search by name, formula, glass code or author</label>
        <input id="search" type="search" .value=${this.wanted} @input=${onSearch} />
      </div>
      <p class="small soft" role="status">${found} of ${most} materials</p>
      <nav class="list" aria-label="Materials" tabindex="0">
        ${groups.map(
          ({ title, records }) => html`<h2>${title} <span class="soft small">${records.length}</span></h2>
            <ul class="plain">${records.map((record) => this.entry(record, record.id === shown?.id))}</ul>`,
        )}
      </nav>
    </div>`;
  }

  private entry(record: MaterialRecord, isShown: boolean): TemplateResult {
    const href = routeHref({ page: 'materials', material: record.id, against: this.against });
    return html`<li><a href=${href} aria-current=${isShown ? 'true' : nothing} @click=${this.look}>
      <span class="name">${record.name}${record.formula === undefined ? nothing : html` <span class="formula">${formulaText(record.formula)}</span>`}</span>
      <span class="soft small">${indexWords(record)}</span>
    </a></li>`;
  }

  private shown(record: MaterialRecord, all: readonly MaterialRecord[]): TemplateResult {
    const other = this.against === undefined ? undefined : findMaterial(this.against, this.own);
    const records = other === undefined || other.id === record.id ? [record] : [record, other];
    const stretch = stretchOf(records, this.isWhole);
    const picture = extinctionPicture(records, stretch);
    const xAxis = { title: 'Wavelength', unit: 'nm', min: stretch[0], max: stretch[1] };
    const onCompare = (event: Event) => {
      const against = (event.target as HTMLSelectElement).value || undefined;
      location.hash = routeHref({ page: 'materials', material: record.id, against });
    };
    return html`
      <h2>${listed(records.map(({ name }) => name))}</h2>
      <div class="row">
        <div class="field">
          <label for="against">Compare with</label>
          <select id="against" .value=${live(this.against ?? '')} @change=${onCompare}>
            <option value="">nothing</option>
            ${all.map(({ id, name }) => html`<option value=${id} ?selected=${id === this.against}>${name} (${id})</option>`)}
          </select>
        </div>
        <label class="flag"><input type="checkbox" .checked=${live(this.isWhole)} @change=${() => (this.isWhole = !this.isWhole)} />whole range of the data</label>
        ${this.deeds(record)}
      </div>
      <p class="told small" role="status">${this.said}</p>
      ${this.dropBack()}
      <div class="charts">
        <cw-line-chart .series=${indexSeries(records, stretch)} .markers=${endMarkers(records, stretch)} .xAxis=${xAxis} .yAxis=${{ title: 'Refractive index n', unit: '' }} .label=${'Refractive index'} .fileName=${`${record.id}-n`} .digits=${5}></cw-line-chart>
        <div class="stack">
          ${picture.series.length === 0 ? nothing : keyed(picture.axis.log, html`<cw-line-chart .series=${picture.series} .markers=${endMarkers(records, stretch)} .xAxis=${xAxis} .yAxis=${picture.axis} .label=${'Extinction'} .fileName=${`${record.id}-k`} .digits=${3}></cw-line-chart>`)}
          ${picture.notes.map((note) => html`<p class="small soft">${note}</p>`)}
        </div>
      </div>
      ${indexTable(records, stretch)}
      <div class="columns">${records.map((one) => materialFacts(one, this.state.batch.process.temperatureC))}</div>
    `;
  }

  /** What can be done with the material that is looked at. */
  private deeds(record: MaterialRecord): TemplateResult {
    const isOwn = this.state.batch.materials.some(({ id }) => id === record.id);
    return html`<div class="row deeds">
        <button @click=${() => this.make(newDraft('variant', record))}>Make a variant</button>
        <button @click=${() => downloadText(`${record.id}.json`, exportMaterialJson(record), 'application/json')}>Export</button>
        ${isOwn ? html`<button @click=${() => this.make(draftOf(record))}>Edit</button><button @click=${() => this.takeOut(record)}>Take out of the batch</button>` : nothing}
        ${this.shelfDeeds(record, isOwn)}
      </div>`;
  }

  private shelfDeeds(record: MaterialRecord, isOwn: boolean): TemplateResult {
    const kept = this.shelved.find(({ id }) => id === record.id);
    const isSame = kept !== undefined && exportMaterialJson(kept) === exportMaterialJson(record);
    return html`${isOwn && !isSame ? html`<button @click=${() => this.keep(record)}>${kept === undefined ? 'Keep on the shelf' : 'Keep on the shelf as it is now'}</button>` : nothing}
      ${!isOwn && kept !== undefined ? html`<button @click=${() => this.bench.edit(putMaterial(record))}>Put into this batch</button>` : nothing}
      ${kept === undefined ? nothing : html`<button @click=${() => this.drop(kept)}>Take off the shelf</button>`}`;
  }

  private dropBack(): TemplateResult | typeof nothing {
    const { dropped } = this;
    if (dropped === undefined) return nothing;
    return html`<p><button @click=${() => this.keep(dropped)}>Put ${dropped.name} back on the shelf</button></p>`;
  }

  private damagedNote({ id, text, reason }: DamagedMaterial): TemplateResult {
    return html`<p class="row">
      <span class="said">The material "${id}" on the shelf cannot be read: ${reason.replace(/\.$/, '')}. It is kept as it is.</span>
      <button @click=${() => downloadText(`${id}-damaged.txt`, text, 'text/plain')}>Export its text</button>
      <button @click=${() => this.onShelf((shelf) => shelf.delete(id))}>Take ${id} off the shelf</button>
    </p>`;
  }

  private async keep(record: MaterialRecord): Promise<void> {
    await this.onShelf(async (shelf) => {
      await shelf.put(record);
      this.dropped = undefined;
      this.said = `${record.name} lies on the shelf of this browser; every batch can take it in.`;
    });
  }

  private async drop(record: MaterialRecord): Promise<void> {
    await this.onShelf(async (shelf) => {
      await shelf.delete(record.id);
      this.dropped = record;
      this.said = `${record.name} is off the shelf.`;
    });
  }

  /** Does something on the shelf and shows what then lies there; where the browser stores nothing, that is said. */
  private async onShelf(deed: (shelf: MaterialShelf) => Promise<void>): Promise<void> {
    try {
      this.shelf ??= await MaterialShelf.open();
      await deed(this.shelf);
      const { records, damaged } = await this.shelf.list();
      [this.shelved, this.damaged] = [records, damaged];
    } catch (error) {
      if (!(error instanceof StorageError)) throw error;
      this.said =
        error.fault === 'full'
          ? 'The browser has no room left on the shelf of materials: export this one to a file, then take some off.'
          : 'The browser keeps no shelf of materials (a private window, or another version of the program has it): export them.';
    }
  }

  private takeOut(record: MaterialRecord): void {
    const { batch } = this.state;
    if (isMissed(batch, record.id)) {
      this.said = `${record.name} stays: it is used for ${listed(placesOf(batch, record.id))}. Choose another material there first.`;
      return;
    }
    this.said = '';
    this.dropped = undefined;
    this.bench.edit(removeMaterial(record));
  }

  private make(draft: MaterialDraft): void {
    this.said = '';
    this.making = draft;
  }

  private readonly look = (): void => {
    this.said = '';
    this.dropped = undefined;
    this.making = undefined;
  };

  private readonly onMakingEnded = ({ material }: MakingEndedEvent): void => {
    this.making = undefined;
    if (material !== undefined)
      location.hash = routeHref({ page: 'materials', material, against: this.against });
  };

  private readonly onDrop = async (event: DragEvent): Promise<void> => {
    const file = event.dataTransfer?.files[0];
    if (file === undefined) return;
    event.preventDefault();
    if (this.making === undefined) this.make(newDraft('text', undefined));
    await this.updateComplete;
    await this.maker?.takeFile(file);
  };
}

function idsOf(records: readonly MaterialRecord[]): ReadonlySet<string> {
  return new Set(records.map(({ id }) => id));
}
