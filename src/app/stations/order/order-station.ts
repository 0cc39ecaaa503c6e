import { css, html, nothing } from 'lit';
import { customElement } from 'lit/decorators.js';
import { live } from 'lit/directives/live.js';
import { counted, duration, fixed } from '../../../base/format.ts';
import { edgeThicknessMm } from '../../../batch/lens-thickness.ts';
import { findMaterial } from '../../../materials/library.ts';
import { type Desk, numberField, textField } from '../../fields/fields.ts';
import '../../fields/material-field.ts';
import type { MaterialChosenEvent } from '../../fields/material-field.ts';
import '../../shell/change-line.ts';
import { StationElement } from '../../station-element.ts';
import { stationStyles } from '../../station-styles.ts';
import { costLabel, costNow, costText } from '../cost-now.ts';
import { lensDrawing } from './lens-drawing.ts';
import { setBack } from './requirement-edits.ts';
import { requirementTable } from './requirement-table.ts';

/** Order: what is to be delivered, on which lens, and what its surfaces have to do. */
@customElement('app-order-station')
export class OrderStation extends StationElement {
  static override styles = [
    stationStyles,
    css`
      .requirements {
        display: grid;
        gap: var(--cw-space-4);
        margin: 0;
        padding: 0;
        list-style: none;
      }
      .requirements li {
        display: grid;
        gap: var(--cw-space-2);
        justify-items: start;
      }
      .sentence {
        display: flex;
        flex-wrap: wrap;
        gap: var(--cw-space-2);
        align-items: baseline;
      }
      .sentence cw-quantity-field {
        --cw-field-width: 4.6em;
      }
      .angles input {
        width: 5.5em;
      }
      .unit {
        color: var(--cw-ink-soft);
      }
      app-material-field {
        flex: 1 1 15rem;
        max-width: 22rem;
      }
      .lens {
        display: block;
        width: 100%;
        max-height: 20rem;
      }
      .lens .glass {
        fill: var(--cw-glass);
        stroke: var(--cw-ink);
        stroke-width: 1px;
        vector-effect: non-scaling-stroke;
      }
      .lens .coat {
        fill: none;
        stroke: var(--cw-residual);
        stroke-width: 4px;
        stroke-linecap: round;
        vector-effect: non-scaling-stroke;
      }
      .lens .axis,
      .lens .size {
        fill: none;
        stroke: var(--cw-ink-soft);
        vector-effect: non-scaling-stroke;
      }
      .lens .axis {
        stroke-dasharray: 10 3 2 3;
      }
      dd.words {
        font-size: var(--cw-size-text);
      }
      .lens text {
        fill: var(--cw-ink);
      }
      .empty dt {
        margin-top: var(--cw-space-2);
        font-weight: 600;
      }
      .empty dd {
        margin: 0;
      }
    `,
  ];

  override render() {
    const { state, bench } = this;
    const desk: Desk = { bench, state };
    const { batch, plan } = state;
    return html`<div class="stack">
      <h1>Order</h1>
      <app-change-line .state=${state} .station=${'order'}></app-change-line>
      <div class="bench">
        <div class="stack">
          <div class="group">
            <h2>What is to be delivered</h2>
            <div class="fields">
              <div class="field wide">${textField(desk, ['order', 'title'], 'Title', { maxLength: 120 })}</div>
              ${textField(desk, ['order', 'lot'], 'Lot', { maxLength: 60 })}
              ${textField(desk, ['order', 'customer'], 'Customer', { optional: true, maxLength: 120 })}
            </div>
            <div class="fields">
              ${numberField(desk, ['order', 'quantity'], 'Good lenses')}
              ${numberField(desk, ['order', 'rejectReservePercent'], 'Reserve for rejects')}
            </div>
            ${textField(desk, ['order', 'drawing'], "The drawing's coating line", { optional: true, maxLength: 200 })}
            ${textField(desk, ['order', 'note'], 'Note', { optional: true, lines: 2, maxLength: 4000 })}
          </div>
          ${this.lensFields(desk)}
          ${requirementTable(desk, 'front')}
          ${this.backChoice()}
          ${typeof batch.surfaces.back === 'object' ? requirementTable(desk, 'back') : nothing}
        </div>
        <div class="stack picture">
          ${lensDrawing(batch)}
          ${plan === undefined ? nothing : this.summary()}
          ${batch.invented === undefined ? nothing : html`<p class="small soft">${batch.invented}</p>`}
        </div>
      </div>
    </div>`;
  }

  private lensFields(desk: Desk) {
    const { bench } = this;
    const { lens } = this.state.batch.order;
    const onGlass = ({ material }: MaterialChosenEvent) => {
      bench.edit({
        name: `Glass ${lens.substrate} → ${material}`,
        recipe: (draft) => {
          draft.order.lens.substrate = material;
        },
      });
    };
    return html`<div class="group">
      <h2>Lens</h2>
      <div class="fields">
        <app-material-field label="Glass: code or name" .bench=${bench} .state=${this.state} .value=${lens.substrate} .roles=${['substrate']} @app-material-chosen=${onGlass}></app-material-field>
        ${numberField(desk, ['order', 'lens', 'diameterMm'], 'Diameter', {
          name: 'Lens diameter',
          also: (draft, value) => {
            // The clear aperture cannot exceed the lens: it keeps its distance from the edge, in the same named edit.
            const { lens: part } = draft.order;
            if (value !== undefined && part.clearApertureMm > value)
              part.clearApertureMm = Math.max(0.5, value - (lens.diameterMm - lens.clearApertureMm));
          },
        })}
        ${numberField(desk, ['order', 'lens', 'clearApertureMm'], 'Clear aperture')}
        ${numberField(desk, ['order', 'lens', 'centreThicknessMm'], 'Centre thickness')}
      </div>
      <div class="fields">
        ${numberField(desk, ['order', 'lens', 'frontRadiusMm'], 'Front radius (empty: plane)', { optional: true, name: 'Front radius' })}
        ${numberField(desk, ['order', 'lens', 'backRadiusMm'], 'Back radius (empty: plane)', { optional: true, name: 'Back radius' })}
        ${numberField(desk, ['order', 'lens', 'maximumTemperatureC'], 'Must not be hotter than', { optional: true, name: 'Highest temperature' })}
      </div>
      <p class="small soft">Radii as on the drawing: positive where the centre of curvature lies behind the face, so a convex front is positive and a convex back negative.</p>
      ${edgeThicknessMm(lens) <= 0 ? html`<p class="said" role="status">The two faces meet before the edge: at ${fixed(lens.diameterMm, 1)} mm the thickness would be ${fixed(edgeThicknessMm(lens), 2)} mm. Check radii and centre thickness.</p>` : nothing}
    </div>`;
  }

  private backChoice() {
    const { back } = this.state.batch.surfaces;
    const value = typeof back === 'object' ? 'own' : back;
    const onChange = (event: Event) =>
      this.bench.edit(setBack((event.target as HTMLSelectElement).value as 'same' | 'uncoated' | 'own'));
    return html`<div class="group">
      <div class="field">
        <label for="back">The back is coated</label>
        <select id="back" .value=${live(value)} @change=${onChange}>
          <option value="same" ?selected=${value === 'same'}>as the front</option>
          <option value="uncoated" ?selected=${value === 'uncoated'}>not at all</option>
          <option value="own" ?selected=${value === 'own'}>with a coating of its own</option>
        </select>
      </div>
    </div>`;
  }

  private summary() {
    const { plan, batch } = this.state;
    if (plan === undefined) return nothing;
    const cost = costNow(this.state);
    const glass = findMaterial(batch.order.lens.substrate, batch.materials);
    return html`<dl class="facts">
      <div><dt>to start, reserve included</dt><dd>${counted(plan.lot.lensesToStart, 'lens', 'lenses')}</dd></div>
      <div><dt>loads, runs</dt><dd>${plan.lot.loads}, ${plan.lot.runs}</dd></div>
      <div><dt>machine time for the lot</dt><dd>${duration(plan.lot.totalS)}</dd></div>
      ${cost === undefined ? nothing : html`<div><dt>${costLabel(cost)}</dt><dd>${costText(cost)}</dd></div>`}
      <div><dt>glass</dt><dd class="words">${glass?.name ?? batch.order.lens.substrate}</dd></div>
    </dl>`;
  }
}
