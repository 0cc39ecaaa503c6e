import { html, nothing, type TemplateResult } from 'lit';
import { ifDefined } from 'lit/directives/if-defined.js';
import { live } from 'lit/directives/live.js';
import '../../elements/quantity-field/cw-quantity-field.ts';
import type {
  QuantityChangeEvent,
  QuantityInputEvent,
} from '../../elements/quantity-field/quantity-events.ts';
import type { Bench } from '../bench.ts';
import type { BenchState } from '../bench-state.ts';
import { changeName } from './change-name.ts';
import { fieldNote } from './field-note.ts';
import { type Path, pathText, putAt, valueAt } from './path.ts';

/** What a view hands to its fields. */
export interface Desk {
  readonly bench: Bench;
  readonly state: BenchState;
}

export interface NumberFieldOptions {
  /** What the edit is called in the history where the label alone would not be plain. */
  readonly name?: string;
  /** The unit that the reader prefers, such as `mbar`. */
  readonly displayUnit?: string;
  readonly optional?: boolean;
  /** The label is for screen readers only, as in a table. */
  readonly compact?: boolean;
  /** What holds while the batch says nothing. */
  readonly usual?: number;
  /** Further changes that go with this one, made in the same edit. */
  readonly also?: (draft: BenchState['batch'], value: number | undefined) => void;
  readonly digits?: number;
  readonly disabled?: boolean;
}

/** A number of the batch: unit and limits are those of the schema, and every change is a named edit. */
export function numberField(
  { bench, state }: Desk,
  path: Path,
  label: string,
  options: NumberFieldOptions = {},
): TemplateResult {
  const { unit = '', limits = {} } = fieldNote(path);
  const key = pathText(path);
  const refusal = state.refusals.get(key);
  const { fault } = state.outcome;
  // The value stands, but the chain has no answer to it.
  const unanswered = fault?.path === key ? `${fault.reason}.` : '';
  const value = (valueAt(state.batch, path) as number | undefined) ?? options.usual;
  const edit = (event: QuantityInputEvent | QuantityChangeEvent) => {
    bench.edit({
      key,
      name: (before) =>
        changeName(
          options.name ?? label,
          (valueAt(before, path) as number | undefined) ?? options.usual,
          event.value,
          unit,
          options.displayUnit,
        ),
      recipe: (draft) => {
        putAt(draft, path, event.value);
        options.also?.(draft, event.value);
      },
    });
  };
  return html`<cw-quantity-field
    .label=${label}
    .value=${unlessRefused(value, refusal)}
    .unit=${unit}
    .displayUnit=${options.displayUnit ?? ''}
    .min=${limits.min}
    .max=${limits.max}
    .above=${limits.above}
    .whole=${isWhole(path)}
    .optional=${options.optional ?? false}
    .compact=${options.compact ?? false}
    .digits=${options.digits ?? 7}
    .disabled=${options.disabled ?? false}
    .error=${refusal ?? unanswered}
    @cw-quantity-input=${edit}
    @cw-quantity-change=${edit}
  ></cw-quantity-field>`;
}

/** The value for a field to show; while one is refused, what was typed stays, and only a field newly made gets the value. */
function unlessRefused<Value>(value: Value, refusal: string | undefined) {
  return refusal === undefined ? live(value) : value;
}

const WHOLE = /(^|\.)(quantity|racks|witnessesPerRack|pockets|count|number|cleanEveryRuns)$/;

function isWhole(path: Path): boolean {
  return WHOLE.test(pathText(path));
}

/** A text of the batch. */
export function textField(
  { bench, state }: Desk,
  path: Path,
  label: string,
  options: { readonly optional?: boolean; readonly lines?: number; readonly maxLength?: number } = {},
): TemplateResult {
  const key = pathText(path);
  const id = key.replace(/\W+/g, '-');
  const value = (valueAt(state.batch, path) as string | undefined) ?? '';
  const refusal = state.refusals.get(key);
  const onInput = (event: Event) => {
    const text = (event.target as HTMLInputElement | HTMLTextAreaElement).value;
    bench.edit({
      key,
      name: `${label}: ${text === '' ? 'empty' : shortened(text)}`,
      recipe: (draft) => putAt(draft, path, text === '' && options.optional ? undefined : text),
    });
  };
  const shared = refusal === undefined ? nothing : html`<span class="said" role="status">${refusal}</span>`;
  return html`<div class="field text">
    <label for=${id}>${label}</label>
    ${
      options.lines === undefined
        ? html`<input id=${id} type="text" .value=${unlessRefused(value, refusal)} maxlength=${ifDefined(options.maxLength)} autocomplete="off" @input=${onInput} @change=${() => bench.settle()} />`
        : html`<textarea id=${id} rows=${options.lines} .value=${unlessRefused(value, refusal)} maxlength=${ifDefined(options.maxLength)} @input=${onInput} @change=${() => bench.settle()}></textarea>`
    }
    ${shared}
  </div>`;
}

/** A choice of a few words. */
export function choiceField<Value extends string>(
  { bench, state }: Desk,
  path: Path,
  label: string,
  choices: readonly (readonly [Value, string])[],
  options: {
    readonly usual?: Value;
    readonly compact?: boolean;
    readonly name?: string;
    readonly also?: (draft: BenchState['batch'], value: Value) => void;
  } = {},
): TemplateResult {
  const key = pathText(path);
  const id = key.replace(/\W+/g, '-');
  const value = (valueAt(state.batch, path) as Value | undefined) ?? options.usual;
  const onChange = (event: Event) => {
    const chosen = (event.target as HTMLSelectElement).value as Value;
    const words = choices.find(([name]) => name === chosen)?.[1] ?? chosen;
    bench.edit({
      key,
      name: `${options.name ?? label}: ${words}`,
      recipe: (draft) => {
        putAt(draft, path, chosen);
        options.also?.(draft, chosen);
      },
    });
    bench.settle();
  };
  return html`<div class="field">
    <label for=${id} class=${options.compact ? 'visually-hidden' : ''}>${label}</label>
    <select id=${id} .value=${live(value ?? '')} @change=${onChange}>
      ${choices.map(([name, words]) => html`<option value=${name} ?selected=${name === value}>${words}</option>`)}
    </select>
    ${state.refusals.has(key) ? html`<span class="said" role="status">${state.refusals.get(key)}</span>` : nothing}
  </div>`;
}

/** A yes or no of the batch; no is written as left out. */
export function flagField(
  { bench, state }: Desk,
  path: Path,
  label: string,
  options: { readonly compact?: boolean; readonly name?: string } = {},
): TemplateResult {
  const key = pathText(path);
  const onChange = (event: Event) => {
    const isOn = (event.target as HTMLInputElement).checked;
    bench.edit({
      name: `${options.name ?? label}: ${isOn ? 'yes' : 'no'}`,
      recipe: (draft) => putAt(draft, path, isOn ? true : undefined),
    });
  };
  return html`<label class="flag"
    ><input type="checkbox" data-path=${key} .checked=${live(valueAt(state.batch, path) === true)} @change=${onChange} /><span
      class=${options.compact ? 'visually-hidden' : ''}
      >${label}</span
    ></label
  >`;
}

function shortened(text: string): string {
  return text.length <= 40 ? text : `${text.slice(0, 37)}…`;
}
