import { css, html, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { live } from 'lit/directives/live.js';
import type { InputError } from '../../../base/errors.ts';
import { requireFileSize } from '../../../base/file-size.ts';
import { counted, fixed, significant } from '../../../base/format.ts';
import '../../../elements/line-chart/cw-line-chart.ts';
import '../../../elements/quantity-field/cw-quantity-field.ts';
import type {
  QuantityChangeEvent,
  QuantityInputEvent,
} from '../../../elements/quantity-field/quantity-events.ts';
import { findMaterial } from '../../../materials/library.ts';
import { headlineIndex } from '../../../materials/material-list.ts';
import { MIXTURE_RULES } from '../../../materials/mixture.ts';
import type { ImportResult } from '../../../materials/own/own-material.ts';
import { type Packing, vacuumToAirShift } from '../../../materials/packing.ts';
import type { MaterialRecord, MaterialRole } from '../../../materials/record.ts';
import { StationElement } from '../../station-element.ts';
import { stationStyles } from '../../station-styles.ts';
import { materialsOf } from '../../stations/material-words.ts';
import { sentenceOf } from '../../task-run.ts';
import { MakingEndedEvent } from './making-ended-event.ts';
import { extinctionPicture, indexSeries, stretchOf } from './material-chart-data.ts';
import { type DraftKind, type MaterialDraft, newDraft, readDraft, textKind } from './material-draft.ts';
import { freeMaterialId, putMaterial } from './own-material-edits.ts';

const KINDS: readonly (readonly [DraftKind, string])[] = [
  ['variant', 'another material, changed'],
  ['text', 'a table or a file'],
  ['cauchy', 'Cauchy: n = A + B/λ² + C/λ⁴'],
  ['sellmeier', 'Sellmeier: n² − 1 = Σ B λ²/(λ² − C)'],
  ['expression', 'an expression of my own'],
];

const ROLES: readonly (readonly [MaterialRole, string])[] = [
  ['film', 'a film'],
  ['metal', 'a metal film'],
  ['substrate', 'a glass or crystal'],
];

/**
 * Makes or edits one of the shop's own materials: what is typed is computed at once and shown as a curve, and nothing
 * reaches the batch before it is put there.
 */
@customElement('app-material-maker')
export class MaterialMaker extends StationElement {
  static override styles = [
    stationStyles,
    css`
      .wide {
        max-width: 44rem;
      }
      textarea {
        font-family: ui-monospace, monospace;
        font-size: var(--cw-size-small);
      }
      input.expression {
        min-width: min(24rem, 100%);
      }
      .pair {
        display: grid;
        grid-template-columns: repeat(auto-fit, minmax(min(18rem, 100%), 1fr));
        gap: var(--cw-space-4);
      }
      cw-line-chart {
        --cw-chart-height: 13rem;
      }
      table {
        width: auto;
      }
      input[type='file'] {
        max-width: 100%;
      }
      ::file-selector-button {
        margin-inline-end: var(--cw-space-3);
        padding: 0.1em 0.6em;
        border: var(--cw-hairline) solid var(--cw-rule-strong);
        border-radius: var(--cw-radius);
        background: var(--cw-sheet);
        color: var(--cw-ink);
        font: inherit;
      }
      ::placeholder {
        color: var(--cw-ink-soft);
      }
      .field > #name,
      .field > #id {
        width: 22rem;
        max-width: 100%;
      }
    `,
  ];

  /** What the making starts with. */
  @property({ attribute: false }) draft: MaterialDraft = newDraft('variant', undefined);
  @state() private current: MaterialDraft = this.draft;
  @state() private result: ImportResult | undefined;
  @query('h2') private readonly heading!: HTMLElement;
  private asked = 0;

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (!changed.has('draft')) return;
    this.current = this.draft;
    void this.read();
  }

  protected override firstUpdated(): void {
    this.heading.focus();
  }

  override render() {
    const { current, result } = this;
    const { edited, kind } = current;
    const isOwnFile = kind === 'text' && textKind(current.text, current.fileName) === 'record';
    return html`<form class="stack" @submit=${this.onSubmit} novalidate>
      <div class="row head">
        <h2 tabindex="-1">${edited === undefined ? "A material of the shop's own" : `Edit ${edited.name}`}</h2>
        <button type="button" @click=${() => this.dispatchEvent(new MakingEndedEvent(undefined))}>Leave</button>
      </div>
      ${edited === undefined ? this.choice('kind', 'Made from', KINDS) : nothing}
      ${isOwnFile ? nothing : this.naming()}
      ${this.fields()}
      <p class="said" role="status">${result !== undefined && 'fault' in result ? sentenceOf(result.fault) : nothing}</p>
      ${result !== undefined && 'material' in result ? this.preview(result.material, result.warnings) : nothing}
      <div class="row">
        <button class="main" type="submit" ?disabled=${result === undefined || 'fault' in result}>${this.verb()}</button>
        <span class="small soft">One step of the batch's history; Undo takes it back. The batch file carries the material with it.</span>
      </div>
    </form>`;
  }

  /** Reads a file that was chosen or dropped, as text. */
  async takeFile(file: File): Promise<void> {
    try {
      requireFileSize(file.name, file.size);
    } catch (error) {
      this.asked += 1; // what is being read counts no more
      this.result = { fault: (error as InputError).message };
      return;
    }
    const text = await file.text();
    const stem = file.name.replace(/\.[^.]*$/, '').slice(0, 100);
    const { current } = this;
    this.change({
      kind: 'text',
      text,
      fileName: file.name,
      name: current.kind === 'text' && current.name !== '' ? current.name : stem,
    });
  }

  private verb(): string {
    const { result, current } = this;
    if (current.edited !== undefined) return 'Keep the changes';
    const carried = result !== undefined && 'material' in result && this.carries(result.material.id);
    return carried ? 'Replace the one in the batch' : 'Put into the batch';
  }

  private carries(id: string): boolean {
    return this.state.batch.materials.some((record) => record.id === id);
  }

  private naming(): TemplateResult {
    const { current } = this;
    const free = freeMaterialId(current.name, this.state.batch);
    return html`<div class="fields">
      ${this.text('name', 'Name', 120)}
      ${current.edited === undefined ? this.text('id', 'Id, letters, digits and hyphens', 60, free) : nothing}
      ${current.kind === 'variant' ? nothing : html`${this.choice('role', 'Used as', ROLES)}${current.edited === undefined && current.role !== 'substrate' ? this.likeness() : nothing}${this.text('cites', 'Where the numbers come from', 1000)}`}
    </div>`;
  }

  private likeness(): TemplateResult {
    const films = materialsOf(['film', 'metal'], { materials: [] }).filter(({ film }) => film !== undefined);
    return this.choice('propertiesOf', 'Density, source and hazards as those of', [
      ['', 'nothing: they are not known'],
      ...films.map(({ id, name }) => [id, name] as const),
    ]);
  }

  private fields(): TemplateResult {
    const { current } = this;
    switch (current.kind) {
      case 'variant':
        return this.variantFields();
      case 'cauchy':
        return html`<div class="fields">${this.range()}${(['A', 'B', 'C'] as const).map((letter, index) => this.quantity(letter, current.cauchy[index]!, ['', 'µm²', 'µm⁴'][index]!, { digits: 8 }, (value) => ({ cauchy: current.cauchy.map((old, i) => (i === index ? value : old)) as unknown as MaterialDraft['cauchy'] })))}</div>`;
      case 'sellmeier':
        return this.sellmeierFields();
      case 'expression':
        return html`<div class="fields">${this.range()}</div>
          <div class="fields">${this.text('n', 'n =', 500, '', 'expression')}${this.text('k', 'k =', 500, '', 'expression')}</div>
          <p class="small soft">In <code>um</code> or <code>nm</code>, the wavelength in vacuum: <code>1.45 + 0.0035 / um^2</code>, <code>nm &lt; 400 ? 0.01 : 0</code>. Arithmetic, <code>sqrt</code>, <code>exp</code>, <code>log</code> and choices are known.</p>`;
      case 'text':
        return this.textFields();
    }
  }

  private variantFields(): TemplateResult {
    const { current } = this;
    const { batch } = this.state;
    const packed = current.packed
      ? html`${this.quantity('Packing density', current.packing, '', { min: 0.3, max: 1 }, (packing) => ({ packing }))}
          ${this.choice('voids', 'Voids filled with', [
            ['vacuum', 'nothing (under vacuum)'],
            ['water', 'water (in damp air)'],
          ])}
          ${this.choice(
            'rule',
            'Mixed by',
            MIXTURE_RULES.map((rule) => [rule, RULE_WORDS[rule]] as const),
          )}`
      : nothing;
    return html`<div class="fields">
        ${
          current.edited === undefined
            ? this.choice(
                'baseId',
                'The material',
                materialsOf(['film', 'metal', 'substrate'], batch).map(
                  ({ id, name }) => [id, `${name} (${id})`] as const,
                ),
              )
            : nothing
        }
        <label class="flag"><input type="checkbox" .checked=${live(current.packed)} @change=${() => this.change({ packed: !current.packed })} />porous</label>
        ${packed}
      </div>
      <div class="fields">
        ${this.quantity('Index times', current.indexScale, '', { min: 0.5, max: 2, digits: 6 }, (indexScale) => ({ indexScale }))}
        ${this.quantity('Added to k', current.addedK, '', { min: 0, max: 10 }, (addedK) => ({ addedK }))}
      </div>
      ${current.packed && current.packing < 1 ? html`<p class="small">${this.shiftWords()}</p>` : nothing}`;
  }

  /** The shift that shops see when damp air fills the voids, at the material's usual wavelength. */
  private shiftWords(): string {
    const { baseId, edited, packing: density, voids, rule } = this.current;
    const base = edited ?? findMaterial(baseId, this.state.batch.materials);
    if (base === undefined || density < 0.3 || density > 1) return '';
    const { variant: _, ...dense } = base;
    const { wavelengthNm, n, k } = headlineIndex(dense);
    const given: Packing = { density, voids, rule };
    const shift = vacuumToAirShift({ n, k }, given);
    return `From vacuum to damp air its optical thickness grows by ${fixed(100 * shift, 2)} % (at ${significant(wavelengthNm, 4)} nm): aim that much short.`;
  }

  private sellmeierFields(): TemplateResult {
    const { sellmeier } = this.current;
    const put = (index: number, part: object) => ({
      sellmeier: sellmeier.map((term, i) => (i === index ? { ...term, ...part } : term)),
    });
    return html`<div class="fields">${this.range()}</div>
      ${sellmeier.map(
        (term, index) => html`<div class="fields">
          ${this.quantity(`B${index + 1}`, term.strength, '', { digits: 10 }, (strength) => put(index, { strength }))}
          ${this.quantity(`C${index + 1}`, term.resonanceUm2, 'µm²', { min: -1e6, max: 1e10, digits: 10 }, (resonanceUm2) => put(index, { resonanceUm2 }))}
        </div>`,
      )}
      <div class="row">
        <button type="button" ?disabled=${sellmeier.length >= 3} @click=${() => this.change({ sellmeier: [...sellmeier, { strength: 0, resonanceUm2: 0 }] })}>One more term</button>
        <button type="button" ?disabled=${sellmeier.length <= 1} @click=${() => this.change({ sellmeier: sellmeier.slice(0, -1) })}>One less</button>
      </div>`;
  }

  private textFields(): TemplateResult {
    const { text, fileName } = this.current;
    return html`<div class="field">
        <label for="file">A file, chosen or dropped anywhere on this page</label>
        <input id="file" type="file" accept=".csv,.tsv,.txt,.dat,.yml,.yaml,.json,text/*,application/json" @change=${this.onFile} />
      </div>
      <div class="field wide">
        <label for="text">${fileName === '' ? 'Or its text: paste or type it here' : `The text of ${fileName}`}</label>
        <textarea id="text" rows="8" spellcheck="false" placeholder="nm; n; k" .value=${live(text)} @input=${(event: Event) => this.change({ text: (event.target as HTMLTextAreaElement).value })}></textarea>
      </div>
      <p class="small soft">A table of wavelength, n and k (nm, µm or Å; tabs, semicolons, commas or blanks), a record of the open refractive-index dataset (YAML), or a material exported here (JSON).</p>`;
  }

  private preview(material: MaterialRecord, warnings: readonly string[]): TemplateResult {
    const base =
      this.current.kind === 'variant' && this.current.edited === undefined
        ? findMaterial(this.current.baseId, this.state.batch.materials)
        : this.current.edited;
    const stretch = this.current.kind === 'variant' ? stretchOf([material], false) : material.rangeNm;
    const records = [material];
    const before =
      base === undefined ? [] : indexSeries([base], stretch).map((series) => ({ ...series, ghost: true }));
    const picture = extinctionPicture(records, stretch);
    const { dispersion } = material;
    return html`<div class="group">
      <h3>What it will be: ${material.name} <span class="soft small">${material.id}</span></h3>
      ${warnings.map((warning) => html`<p class="small">${warning}</p>`)}
      ${this.clashWords(material.id)}
      <div class="pair">
        <cw-line-chart bare .series=${[...indexSeries(records, stretch), ...before]} .xAxis=${WAVELENGTH} .yAxis=${{ title: 'Refractive index n', unit: '' }} .label=${'Refractive index of the new material'} .digits=${5}></cw-line-chart>
        ${picture.series.length === 0 ? html`<p class="empty">${picture.notes.join(' ')}</p>` : html`<cw-line-chart bare .series=${picture.series} .xAxis=${WAVELENGTH} .yAxis=${picture.axis} .label=${'Extinction of the new material'} .digits=${3}></cw-line-chart>`}
      </div>
      ${this.current.kind === 'text' && dispersion.form === 'table' ? tablePreview(dispersion) : nothing}
    </div>`;
  }

  private clashWords(id: string): TemplateResult | typeof nothing {
    if (this.current.edited?.id === id) return nothing;
    if (this.carries(id))
      return html`<p class="small">The batch carries a material "${id}" already; this one will take its place.</p>`;
    if (findMaterial(id) === undefined) return nothing;
    return html`<p class="small">The library has a material "${id}" too; in this batch, this one goes before it.</p>`;
  }

  private range(): TemplateResult {
    const { fromNm, toNm } = this.current;
    return html`${this.quantity('Valid from', fromNm, 'nm', { min: 1, max: 1e6 }, (value) => ({ fromNm: value }))}${this.quantity('to', toNm, 'nm', { min: 1, max: 1e6 }, (value) => ({ toNm: value }))}`;
  }

  private quantity(
    label: string,
    value: number,
    unit: string,
    { min, max, digits = 7 }: { readonly min?: number; readonly max?: number; readonly digits?: number },
    part: (value: number) => Partial<MaterialDraft>,
  ): TemplateResult {
    const onInput = (event: QuantityInputEvent | QuantityChangeEvent) => {
      if (event.value !== undefined) this.change(part(event.value));
    };
    return html`<cw-quantity-field .label=${label} .value=${live(value)} .unit=${unit} .min=${min} .max=${max} .digits=${digits} @cw-quantity-input=${onInput} @cw-quantity-change=${onInput}></cw-quantity-field>`;
  }

  private text(
    key: 'name' | 'id' | 'cites' | 'n' | 'k',
    label: string,
    most: number,
    placeholder = '',
    look = '',
  ): TemplateResult {
    const onInput = (event: Event) => this.change({ [key]: (event.target as HTMLInputElement).value });
    return html`<div class="field">
      <label for=${key}>${label}</label>
      <input id=${key} class=${look} type="text" autocomplete="off" spellcheck="false" maxlength=${most} placeholder=${placeholder} .value=${live(this.current[key])} @input=${onInput} />
    </div>`;
  }

  private choice(
    key: 'kind' | 'role' | 'voids' | 'rule' | 'baseId' | 'propertiesOf',
    label: string,
    choices: readonly (readonly [string, string])[],
  ): TemplateResult {
    const value = this.current[key];
    const onChange = (event: Event) => this.change({ [key]: (event.target as HTMLSelectElement).value });
    return html`<div class="field">
      <label for=${key}>${label}</label>
      <select id=${key} .value=${live(value)} @change=${onChange}>
        ${choices.map(([name, words]) => html`<option value=${name} ?selected=${name === value}>${words}</option>`)}
      </select>
    </div>`;
  }

  private change(part: Partial<MaterialDraft>): void {
    this.current = { ...this.current, ...part };
    void this.read();
  }

  /** Reads the draft; of several readings under way the newest counts. */
  private async read(): Promise<void> {
    this.asked += 1;
    const { asked, current } = this;
    const { batch } = this.state;
    const id = current.id === '' ? freeMaterialId(current.name, batch) : current.id;
    const result = await readDraft({ ...current, id }, batch.materials);
    if (asked === this.asked) this.result = result;
  }

  private readonly onFile = async (event: Event): Promise<void> => {
    const input = event.target as HTMLInputElement;
    const file = input.files?.[0];
    if (file !== undefined) await this.takeFile(file);
  };

  private readonly onSubmit = (event: Event): void => {
    event.preventDefault();
    const { result, current } = this;
    if (result === undefined || 'fault' in result) return;
    const { material } = result;
    if (this.bench.edit(putMaterial(material, current.edited?.id)))
      this.dispatchEvent(new MakingEndedEvent(material.id));
  };
}

const WAVELENGTH = { title: 'Wavelength', unit: 'nm' };

const RULE_WORDS: Readonly<Record<Packing['rule'], string>> = {
  linear: 'volume, linear in n',
  'lorentz-lorenz': 'Lorentz and Lorenz',
  bruggeman: 'Bruggeman',
  'bragg-pippard': 'Bragg and Pippard, columns',
};

const PREVIEWED = 6;

function tablePreview({
  wavelengthNm,
  n,
  k,
}: {
  wavelengthNm: readonly number[];
  n: readonly number[];
  k?: readonly number[];
}): TemplateResult {
  return html`<div class="scroll" tabindex="0" role="group" aria-label="The first rows"><table>
    <caption>${counted(wavelengthNm.length, 'row')}, ${significant(wavelengthNm[0]!, 5)} to ${significant(wavelengthNm.at(-1)!, 5)} nm${wavelengthNm.length > PREVIEWED ? `; the first ${PREVIEWED}` : ''}</caption>
    <thead><tr><th class="figure">Wavelength / nm</th><th class="figure">n</th>${k === undefined ? nothing : html`<th class="figure">k</th>`}</tr></thead>
    <tbody>${wavelengthNm.slice(0, PREVIEWED).map((nm, i) => html`<tr><td class="figure">${significant(nm, 6)}</td><td class="figure">${significant(n[i]!, 6)}</td>${k === undefined ? nothing : html`<td class="figure">${significant(k[i]!, 4)}</td>`}</tr>`)}</tbody>
  </table></div>`;
}
