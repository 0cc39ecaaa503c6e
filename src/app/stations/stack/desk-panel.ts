import { html, nothing, type TemplateResult } from 'lit';
import '../../../elements/quantity-field/cw-quantity-field.ts';
import type { QuantityChangeEvent } from '../../../elements/quantity-field/quantity-events.ts';
import { Follows } from '../../follows.ts';
import { StationElement } from '../../station-element.ts';
import type { TaskState } from '../../task-run.ts';
import { type StackDesk, stackDeskOf } from './stack-desk.ts';

/** A panel that shows what the stack's desk knows. */
export abstract class DeskPanel extends StationElement {
  protected readonly follows = new Follows(this, () => this.desk);

  protected get desk(): StackDesk {
    return stackDeskOf(this.bench);
  }

  /** A number that belongs to the question, not to the batch. */
  protected wish(
    label: string,
    value: number,
    unit: string,
    limits: { readonly min: number; readonly max: number; readonly whole?: boolean },
    take: (value: number) => void,
  ): TemplateResult {
    const onChange = (event: QuantityChangeEvent) => {
      if (event.value === undefined) return;
      take(event.value);
      this.desk.changed();
    };
    return html`<cw-quantity-field .label=${label} .value=${value} .unit=${unit} .min=${limits.min} .max=${limits.max}
      .whole=${limits.whole ?? false} @cw-quantity-change=${onChange}></cw-quantity-field>`;
  }
}

/** The sentence of a question that could not be answered. */
export function faultLine(state: TaskState): TemplateResult | typeof nothing {
  return state.kind === 'fault' ? html`<p class="said">${state.sentence}</p>` : nothing;
}
