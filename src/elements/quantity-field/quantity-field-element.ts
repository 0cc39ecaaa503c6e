import { html, LitElement, nothing, type PropertyValues } from 'lit';
import { property, query, state } from 'lit/decorators.js';
import { live } from 'lit/directives/live.js';
import { type Limits, limitFault } from '../../base/errors.ts';
import { convertKnownUnit } from '../../base/known-units.ts';
import { type QuantityFault, readQuantity, stepLastDigit } from '../../base/quantity.ts';
import { readInUnit } from '../../base/read-in-unit.ts';
import { baseStyles, inputStyles } from '../shared-styles.ts';
import { QuantityChangeEvent, QuantityInputEvent } from './quantity-events.ts';
import { quantityFieldStyles } from './quantity-field-styles.ts';

/**
 * A number with a unit. Takes any unit ("1.2 um", "12 angstrom/s"), decimal commas, and steps by its last
 * digit on the arrow keys (ten times as far with Shift or Page keys); the wheel leaves it alone. What cannot
 * be used is said beside the field, and the last good value stays in force.
 *
 * @element cw-quantity-field
 * @property label - what the field is for
 * @property value - in `unit`; undefined while an optional field is empty
 * @property unit - unit of `value`, `min` and `max`, such as `nm`, `Pa`, `°C`; '' for a plain number
 * @property displayUnit - the shop's preferred unit, such as `Å` or `mbar`; must be an everyday one
 * @property min - least allowed value
 * @property max - greatest allowed value
 * @property above - the value must be greater than this
 * @property whole - only whole numbers
 * @property optional - may be left empty
 * @property digits - significant digits shown
 * @property compact - the label is for screen readers only, as in a table whose heading says it
 * @property disabled - cannot be edited
 * @property error - a sentence from outside (a later check), shown like one of its own
 * @fires cw-quantity-input - while something valid is typed
 * @fires cw-quantity-change - when the value is settled
 * @csspart input - the native input
 * @cssproperty [--cw-field-width=9em] - width of the input
 */
export class QuantityFieldElement extends LitElement {
  static override shadowRootOptions: ShadowRootInit = {
    ...LitElement.shadowRootOptions,
    delegatesFocus: true,
  };
  static override styles = [baseStyles, inputStyles, quantityFieldStyles];

  @property() label = '';
  @property({ type: Number }) value: number | undefined;
  @property() unit = '';
  @property({ attribute: 'display-unit' }) displayUnit = '';
  @property({ type: Number }) min: number | undefined;
  @property({ type: Number }) max: number | undefined;
  @property({ type: Number }) above: number | undefined;
  @property({ type: Boolean }) whole = false;
  @property({ type: Boolean }) optional = false;
  @property({ type: Number }) digits = 7;
  @property({ type: Boolean, reflect: true }) compact = false;
  @property({ type: Boolean }) disabled = false;
  @property() error = '';

  @state() private typed = '';
  @state() private fault = '';
  @query('input') private readonly input!: HTMLInputElement;

  /** The value that this field itself gave out last; the owner handing it back changes no text. */
  private given: number | undefined;
  /** The value when the field was last settled, so that leaving it unchanged fires nothing. */
  private settled: number | undefined;
  /** Counts readings, so that a late answer about a unit does not overrule newer typing. */
  private reading = 0;

  /** The unit that the reader sees and that a bare number counts in. */
  private get shownUnit(): string {
    const known = this.displayUnit !== '' && convertKnownUnit(1, this.unit, this.displayUnit) !== undefined;
    return known ? this.displayUnit : this.unit;
  }

  protected override willUpdate(changed: PropertyValues<this>): void {
    const unitChanged = changed.has('unit') || changed.has('displayUnit') || changed.has('digits');
    const valueChanged = changed.has('value') && (!this.hasUpdated || this.value !== this.given);
    if (!unitChanged && !valueChanged) return;
    this.typed = this.written(this.value);
    this.fault = '';
    this.given = this.value;
    this.settled = this.value;
    this.reading += 1;
  }

  override render() {
    const said = this.fault || this.error;
    const unit = this.shownUnit;
    const kept =
      this.fault !== '' && this.value !== undefined ? `${this.written(this.value)} ${unit}`.trim() : '';
    return html`
      <label for="input" class=${this.compact ? 'visually-hidden' : ''}>${this.label}</label>
      <span class="line">
        <input
          id="input"
          part="input"
          type="text"
          role="spinbutton"
          inputmode="decimal"
          autocomplete="off"
          spellcheck="false"
          .value=${live(this.typed)}
          ?disabled=${this.disabled}
          aria-valuenow=${this.value ?? nothing}
          aria-valuemin=${this.min ?? this.above ?? nothing}
          aria-valuemax=${this.max ?? nothing}
          aria-valuetext=${this.value === undefined ? 'empty' : `${this.typed} ${unit}`.trim()}
          aria-invalid=${said === '' ? 'false' : 'true'}
          aria-describedby=${said === '' ? nothing : 'said'}
          @input=${this.onInput}
          @change=${this.settle}
          @keydown=${this.onKeydown}
        />
        ${unit === '' ? nothing : html`<span class="unit">${unit}</span>`}
      </span>
      <span id="said" class="said" role="status">${said}${
        kept === '' ? nothing : html` <span class="kept">${kept} stays in force.</span>`
      }</span>
    `;
  }

  private written(value: number | undefined): string {
    if (value === undefined || !Number.isFinite(value)) return '';
    const shown = convertKnownUnit(value, this.unit, this.shownUnit) ?? value;
    return String(Number(shown.toPrecision(this.digits)));
  }

  /** Why a value cannot be used, in the shown unit, or undefined. */
  private refusal(value: number): string | undefined {
    if (this.whole && !Number.isInteger(value)) return `${value} is not a whole number`;
    const unit = this.shownUnit;
    const shown = (limit: number) => convertKnownUnit(limit, this.unit, unit) ?? limit;
    const limits: { -readonly [Side in keyof Limits]: Limits[Side] } = {};
    if (this.min !== undefined) limits.min = shown(this.min);
    if (this.max !== undefined) limits.max = shown(this.max);
    if (this.above !== undefined) limits.above = shown(this.above);
    return limitFault(shown(value), unit, limits);
  }

  /** Reads the text; on success `value` follows and is returned, else the fault stands beside the field. */
  private read(text: string, then: (value: number | undefined) => void): void {
    this.reading += 1;
    const own = this.reading;
    if (text.trim() === '' && this.optional) {
      this.accept(undefined, then);
      return;
    }
    const answer = readInUnit(text, this.unit, this.shownUnit);
    const take = (value: number | QuantityFault) => {
      if (own !== this.reading) return;
      const fault = typeof value === 'number' ? this.refusal(value) : value.fault;
      if (typeof value === 'number' && fault === undefined) this.accept(value, then);
      else this.fault = `${fault}.`;
    };
    if (answer instanceof Promise) answer.then(take);
    else take(answer);
  }

  private accept(value: number | undefined, then: (value: number | undefined) => void): void {
    this.fault = '';
    this.given = value;
    this.value = value;
    then(value);
  }

  private readonly onInput = (): void => {
    this.typed = this.input.value;
    const before = this.value;
    this.read(this.typed, (value) => {
      if (value !== before) this.dispatchEvent(new QuantityInputEvent(value));
    });
  };

  private readonly settle = (): void => {
    const text = this.input.value;
    this.read(text, (value) => {
      const typed = readQuantity(text);
      const bare = 'fault' in typed || typed.unit === '';
      this.typed = bare ? text.trim().replace(',', '.') : this.written(value);
      if (!('fault' in typed) && bare && Number(this.typed) !== typed.number)
        this.typed = this.written(value);
      if (value === this.settled) return;
      this.settled = value;
      this.dispatchEvent(new QuantityChangeEvent(value));
    });
  };

  private readonly onKeydown = (event: KeyboardEvent): void => {
    if (event.key === 'Enter') this.settle();
    if (event.key === 'Escape' && this.fault !== '') {
      event.stopPropagation();
      this.reading += 1;
      this.fault = '';
      this.typed = this.written(this.value);
    }
    const step = STEPS[event.key];
    if (step === undefined || this.disabled || event.altKey || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    const stepped = stepLastDigit(this.input.value || '0', event.shiftKey ? step * 10 : step);
    this.typed = stepped;
    this.read(stepped, (value) => {
      if (value === this.settled) return;
      this.settled = value;
      this.dispatchEvent(new QuantityChangeEvent(value));
    });
  };
}

const STEPS: Readonly<Record<string, number>> = { ArrowUp: 1, ArrowDown: -1, PageUp: 10, PageDown: -10 };
