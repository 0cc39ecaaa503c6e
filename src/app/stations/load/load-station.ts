import { css, html, nothing } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import { counted, fixed } from '../../../base/format.ts';
import type { Plan } from '../../../batch/plan/plan-types.ts';
import '../../../elements/load-picture/cw-load-picture.ts';
import { downloadText } from '../../download.ts';
import { choiceField, type Desk, numberField } from '../../fields/fields.ts';
import '../../shell/change-line.ts';
import { StationElement } from '../../station-element.ts';
import { stationStyles } from '../../station-styles.ts';
import { withoutPlan } from '../sides-shown.ts';
import { chamberScene, placesCsv, rackScene } from './load-scene.ts';

const PATTERNS = [
  ['best', 'the better one'],
  ['rings', 'rings'],
  ['hexagonal', 'hexagonal rows'],
] as const;

/** Load: how the lenses stand on the racks, how many go in at once, how many runs the lot takes. */
@customElement('app-load-station')
export class LoadStation extends StationElement {
  static override styles = [
    stationStyles,
    css`
      :host {
        --picture-share: 1.3fr;
      }
      cw-load-picture {
        max-width: 44rem;
        margin-inline: auto;
      }
      .keep-out {
        display: flex;
        flex-wrap: wrap;
        gap: var(--cw-space-2) var(--cw-space-3);
        align-items: end;
      }
      .keep-out cw-quantity-field {
        --cw-field-width: 5.5em;
      }
    `,
  ];

  @state() private isSingle = false;

  override render() {
    const { state: now, bench } = this;
    const desk: Desk = { bench, state: now };
    const { plan } = now;
    return html`<div class="stack">
      <h1>Load</h1>
      <app-change-line .state=${now} .station=${'load'}></app-change-line>
      <div class="bench">
        <div class="stack">
          ${plan === undefined ? nothing : this.counts(plan)}
          <div class="group">
            <h2>Rack</h2>
            <div class="fields">
              ${numberField(desk, ['fixture', 'rackDiameterMm'], 'Diameter', { name: 'Rack diameter' })}
              ${numberField(desk, ['fixture', 'rimMm'], 'Rim kept free', { name: 'Rim of the rack' })}
              ${numberField(desk, ['fixture', 'webMm'], 'Web between holes', { name: 'Web between holes' })}
              ${numberField(desk, ['fixture', 'holderRingMm'], 'Holder ring', { name: 'Holder ring' })}
              ${choiceField(desk, ['fixture', 'pattern'], 'Places stand in', PATTERNS)}
              ${numberField(desk, ['fixture', 'witnessesPerRack'], 'Witnesses on a rack')}
            </div>
            ${this.keepOuts(desk)}
          </div>
          <div class="group">
            <h2>Carrier</h2>
            <div class="fields">
              ${numberField(desk, ['fixture', 'racks'], 'Racks')}
              ${numberField(desk, ['fixture', 'carrierRadiusMm'], "Machine's axis to rack's axis", { name: 'Carrier radius' })}
              ${numberField(desk, ['fixture', 'heightMm'], 'Height above the sources', { name: 'Rack height' })}
              ${numberField(desk, ['fixture', 'tiltDeg'], 'Tilt towards the axis', { name: 'Tilt of the racks' })}
              ${numberField(desk, ['fixture', 'gearRatio'], 'Rack turns for one of the carrier', { optional: true, name: 'Gear ratio' })}
              ${numberField(desk, ['fixture', 'carrierTurnsPerMin'], 'Carrier turns', { name: 'Carrier turns' })}
            </div>
          </div>
        </div>
        <div class="stack picture">${plan === undefined ? withoutPlan(now) : this.picture(plan)}</div>
      </div>
    </div>`;
  }

  private counts({ load, lot }: Plan) {
    return html`<dl class="facts">
      <div><dt>lenses on a rack</dt><dd>${load.lensesPerRack}</dd></div>
      <div><dt>lenses a load</dt><dd>${load.lensesPerLoad}</dd></div>
      <div><dt>loads</dt><dd>${lot.loads}</dd></div>
      <div><dt>runs, all sides</dt><dd>${lot.runs}</dd></div>
      <div><dt>in the last load</dt><dd>${lot.lensesInLastLoad}</dd></div>
      <div><dt>of the rack used</dt><dd>${fixed(load.usedPercent, 0)} %</dd></div>
    </dl>
    ${
      load.racks > load.racksThatFit
        ? html`<p class="said" role="status">${counted(load.racks, 'rack')} of ${load.rackDiameterMm} mm touch each other or the wall: ${load.racksThatFit} would fit on this carrier.</p>`
        : nothing
    }`;
  }

  private picture(plan: Plan) {
    const { batch } = this.state;
    const { load } = plan;
    const scene = this.isSingle ? rackScene(batch, load) : chamberScene(batch, load);
    const pattern =
      load.pattern === 'rings' ? 'Rings' : load.pattern === 'hexagonal' ? 'Hexagonal rows' : load.pattern;
    return html`
      <div class="row head">
        <span class="soft">${pattern}, ${counted(load.places.length, 'place')} on a rack</span>
        <span role="group" aria-label="What the picture shows">
          <button aria-pressed=${!this.isSingle} @click=${() => this.show(false)}>Chamber</button>
          <button aria-pressed=${this.isSingle} @click=${() => this.show(true)}>One rack</button>
        </span>
      </div>
      <cw-load-picture .scene=${scene} .gearRatio=${batch.fixture.gearRatio ?? 3} label=${this.isSingle ? 'One rack from above' : 'The load in the chamber, from above'}></cw-load-picture>
      <div class="row">
        <button class="quiet" @click=${() => downloadText(`${batch.id}-places.csv`, placesCsv(load), 'text/csv')}>Save the places as CSV</button>
      </div>
    `;
  }

  private show(isSingle: boolean): void {
    this.isSingle = isSingle;
  }

  private keepOuts(desk: Desk) {
    const { bench } = this;
    const { keepOut } = this.state.batch.fixture;
    const add = () =>
      bench.edit({
        name: 'A place to keep free on the rack',
        recipe: (draft) => void draft.fixture.keepOut.push({ xMm: 0, yMm: 0, diameterMm: 40 }),
      });
    const remove = (index: number) =>
      bench.edit({
        name: `Place to keep free ${index + 1} taken away`,
        recipe: (draft) => void draft.fixture.keepOut.splice(index, 1),
      });
    return html`
      ${keepOut.map((_, index) => {
        const name = `Keep free ${index + 1}`;
        return html`<div class="keep-out" role="group" aria-label=${name}>
          ${numberField(desk, ['fixture', 'keepOut', index, 'xMm'], `${name}: x`)}
          ${numberField(desk, ['fixture', 'keepOut', index, 'yMm'], 'y', { name: `${name}: y` })}
          ${numberField(desk, ['fixture', 'keepOut', index, 'diameterMm'], 'Diameter', { name: `${name}: diameter` })}
          <button class="quiet" aria-label="Take ${name.toLowerCase()} away" @click=${() => remove(index)}>Remove</button>
        </div>`;
      })}
      <div><button class="quiet" @click=${add}>Keep a place free (post, clamp, thermocouple)</button></div>
    `;
  }
}
