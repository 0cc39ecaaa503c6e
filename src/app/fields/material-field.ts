import { css, html } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { live } from 'lit/directives/live.js';
import type { MaterialRecord } from '../../materials/record.ts';
import { StationElement } from '../station-element.ts';
import { stationStyles } from '../station-styles.ts';
import { indexWords, materialLabel, materialsOf } from '../stations/material-words.ts';

/** Somebody has chosen a material by its id. */
export class MaterialChosenEvent extends Event {
  readonly material: string;

  constructor(material: string) {
    super('app-material-chosen', { bubbles: true, composed: true });
    this.material = material;
  }
}

/**
 * Picks a material by typing its code, its name or its formula; the browser's own list shows what fits. What fits
 * nothing, or more than one, is said beside the field, and the material stays.
 */
@customElement('app-material-field')
export class MaterialField extends StationElement {
  static override styles = [
    stationStyles,
    css`
      input {
        width: 100%;
      }
      .words {
        color: var(--cw-ink-soft);
        font-size: var(--cw-size-small);
      }
    `,
  ];

  @property() label = 'Material';
  @property() value = '';
  @property({ attribute: false }) roles: readonly MaterialRecord['role'][] = ['substrate'];
  @state() private fault = '';

  override render() {
    const records = materialsOf(this.roles, this.state.batch);
    const current = records.find(({ id }) => id === this.value);
    return html`<div class="field text">
      <label for="input">${this.label}</label>
      <input
        id="input"
        type="text"
        list="materials"
        autocomplete="off"
        spellcheck="false"
        .value=${live(this.value)}
        aria-describedby="words"
        aria-invalid=${this.fault === '' ? 'false' : 'true'}
        @change=${this.onChange}
        @focus=${(event: Event) => (event.target as HTMLInputElement).select()}
      />
      <datalist id="materials">
        ${records.map((record) => html`<option value=${record.id}>${`${record.name}${record.formula === undefined ? '' : ` ${record.formula}`}, ${indexWords(record)}`}</option>`)}
      </datalist>
      <span id="words" class="words">${current === undefined ? '' : `${materialLabel(current)}, ${indexWords(current)}`}</span>
      <span class="said" role="status">${this.fault}</span>
    </div>`;
  }

  private readonly onChange = (event: Event): void => {
    const text = (event.target as HTMLInputElement).value.trim();
    const found = materialsNamed(text, materialsOf(this.roles, this.state.batch));
    if (found.length === 1 && found[0] !== undefined) {
      this.fault = '';
      this.dispatchEvent(new MaterialChosenEvent(found[0].id));
      this.requestUpdate();
      return;
    }
    const some = found.slice(0, 4).map(({ id }) => id);
    this.fault =
      found.length === 0
        ? `"${text}" is no material of the library; ${this.value} stays.`
        : `"${text}" fits ${found.length} materials (${some.join(', ')}${found.length > 4 ? ', …' : ''}): say which; ${this.value} stays.`;
    (event.target as HTMLInputElement).value = this.value;
  };
}

/** The materials that a text names: the one of that id, else all whose id, name or formula contains it. */
export function materialsNamed(text: string, records: readonly MaterialRecord[]): MaterialRecord[] {
  const wanted = text.toLowerCase();
  if (wanted === '') return [];
  const exact = records.filter(({ id, formula }) => id === wanted || formula?.toLowerCase() === wanted);
  if (exact.some(({ id }) => id === wanted)) return exact.filter(({ id }) => id === wanted);
  if (exact.length > 0) return exact;
  return records.filter(({ id, name }) => id.includes(wanted) || name.toLowerCase().includes(wanted));
}

declare global {
  interface HTMLElementEventMap {
    'app-material-chosen': MaterialChosenEvent;
  }
}
