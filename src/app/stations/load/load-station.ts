import { css, html, nothing, type PropertyValues } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import { counted, fixed, percent } from '../../../base/format.ts';
import { lotWords } from '../../../batch/lot-words.ts';
import { PATTERN_WORDS, patternWords } from '../../../batch/pattern-words.ts';
import { motionKindOf } from '../../../batch/plan/load-motion.ts';
import type { PlacesPlan } from '../../../batch/plan/places-plan.ts';
import type { Plan } from '../../../batch/plan/plan-types.ts';
import { drillingSvg, positionsCsv } from '../../../chamber/rack-drawing.ts';
import type {
  ChamberMoveEvent,
  ChamberMoveInputEvent,
} from '../../../elements/chamber-side/chamber-move-events.ts';
import '../../../elements/chamber-side/cw-chamber-side.ts';
import '../../../elements/load-picture/cw-load-picture.ts';
import type { LoadMoveEvent, LoadMoveInputEvent } from '../../../elements/load-picture/load-events.ts';
import type { ValueScale } from '../../../elements/load-picture/load-scene.ts';
import { downloadText } from '../../download.ts';
import { changeName } from '../../fields/change-name.ts';
import { choiceField, type Desk, numberField } from '../../fields/fields.ts';
import '../../shell/change-line.ts';
import { StationElement } from '../../station-element.ts';
import { stationStyles } from '../../station-styles.ts';
import { shownSide, sidePicker, withoutPlan } from '../sides-shown.ts';
import { filmCharts, placeSpectra, toolingTable } from './film-charts.ts';
import { chamberScene, loadMoveChange, rackScene, turnsOf } from './load-scene.ts';
import { lastLoadWords } from './load-words.ts';
import { lotsPanel } from './lots-panel.ts';
import { motionPanel } from './motion-panel.ts';
import { PlacesDesk } from './places-desk.ts';
import { ShieldDesk } from './shield-desk.ts';
import { shieldPanel } from './shield-panel.ts';
import { chamberSideScene, moveChange } from './side-scene.ts';
import { sourcePanel } from './source-panel.ts';

/** What the places are coloured by: nothing, their verdict, or the film of a material. */
type Colouring = '' | 'verdict' | `film ${string}`;

const PATTERNS = (['best', 'rings', 'hexagonal'] as const).map(
  (pattern) => [pattern, PATTERN_WORDS[pattern]!] as const,
);

/** Whether verdicts are those of the lots that the load has now. */
function isOfLots(judged: PlacesPlan | undefined, { otherLots }: Plan['load']): judged is PlacesPlan {
  return (
    judged !== undefined &&
    judged.others.length === otherLots.length &&
    judged.others.every(({ verdicts }, index) => verdicts.length === otherLots[index]!.places.length)
  );
}

const TURN_WORDS = {
  planetary: 'Turn the carrier',
  rotating: 'Turn the rack',
  dome: 'Turn the dome',
} as const;

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
      .bench > .picture {
        position: static;
      }
      .charts {
        display: grid;
        grid-template-columns: repeat(auto-fit, minmax(min(22rem, 100%), 1fr));
        gap: var(--cw-space-5);
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
  @state() private isTurning = false;
  /** Which row of loads the picture shows. */
  @state() private row = 0;
  @state() private colouring: Colouring = 'verdict';
  readonly #places = new PlacesDesk(this);
  readonly #shields = new ShieldDesk(this);

  protected override updated(changed: PropertyValues<this>): void {
    const { plan, isStale, batch } = this.state;
    if (changed.has('state') && plan !== undefined && !isStale) this.#places.want(batch, plan);
  }

  override render() {
    const { state: now, bench } = this;
    const desk: Desk = { bench, state: now };
    const { plan } = now;
    const kind = motionKindOf(now.batch.fixture);
    return html`<div class="stack">
      <div class="row head"><h1>Load</h1>${sidePicker(desk)}</div>
      <app-change-line .state=${now} .station=${'load'}></app-change-line>
      <div class="bench">
        <div class="stack">
          ${plan === undefined ? nothing : this.counts(plan)}
          <div class="group">
            <h2>${kind === 'dome' ? 'Dome' : 'Rack'}</h2>
            <div class="fields">
              ${numberField(desk, ['fixture', 'rackDiameterMm'], kind === 'dome' ? 'Diameter at the open edge' : 'Diameter', { name: kind === 'dome' ? 'Dome diameter' : 'Rack diameter' })}
              ${numberField(desk, ['fixture', 'rimMm'], 'Rim kept free', { name: 'Rim of the rack' })}
              ${numberField(desk, ['fixture', 'webMm'], 'Web between holes', { name: 'Web between holes' })}
              ${numberField(desk, ['fixture', 'holderRingMm'], 'Holder ring', { name: 'Holder ring' })}
              ${choiceField(desk, ['fixture', 'pattern'], 'Places stand in', PATTERNS)}
              ${numberField(desk, ['fixture', 'witnessesPerRack'], 'Witnesses on a rack')}
            </div>
            ${this.holder(desk, plan)}
            ${this.keepOuts(desk)}
          </div>
          ${motionPanel(desk, plan)}
          ${lotsPanel(desk, plan, this.#places.places?.plan === plan ? this.#places.places?.answer : undefined)}
          ${sourcePanel(desk)}
          ${shieldPanel(desk, this.#shields, plan)}
        </div>
        <div class="stack picture">${plan === undefined ? withoutPlan(now) : this.picture(plan)}</div>
      </div>
      ${plan === undefined ? nothing : this.film(plan, desk)}
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
    <p class="small">${lastLoadWords(load, lot)}</p>
    ${
      load.racks > load.racksThatFit
        ? html`<p class="said" role="status">${counted(load.racks, 'rack')} of ${load.rackDiameterMm} mm touch each other or the wall: ${load.racksThatFit} would fit on this carrier.</p>`
        : nothing
    }`;
  }

  private picture(plan: Plan) {
    const { batch, side } = this.state;
    const { load } = plan;
    const { rows } = plan.lot;
    const distribution = plan.distributions.find((one) => one.side === side) ?? plan.distributions[0];
    const spread = distribution?.materials.find(({ material }) => this.colouring === `film ${material}`);
    const judged = this.colouring === 'verdict' ? this.#places.places?.answer : undefined;
    const colours = {
      ...(spread === undefined ? {} : { spread }),
      ...(judged?.verdicts.length === load.places.length ? { verdicts: judged.verdicts } : {}),
      ...(isOfLots(judged, load) ? { otherVerdicts: judged.others.map(({ verdicts }) => verdicts) } : {}),
    };
    const scale: ValueScale | undefined =
      spread === undefined
        ? undefined
        : {
            label: `${spread.label} over the mean`,
            unit: '%',
            middle: 100,
            reach: Math.max(0.1, Number(spread.deviationPercent.toPrecision(1))),
          };
    const scene = this.isSingle
      ? rackScene(batch, load, colours)
      : chamberScene(batch, load, colours, (rows[this.row] ?? rows[0])?.racks);
    return html`
      <div class="row head">
        <span class="soft">${counted(load.places.length, 'place')} on a rack: ${patternWords(batch.fixture.pattern, load.pattern)}</span>
        <span role="group" aria-label="What the picture shows">
          <button aria-pressed=${!this.isSingle} @click=${() => this.show(false)}>Chamber</button>
          <button aria-pressed=${this.isSingle} @click=${() => this.show(true)}>One rack</button>
        </span>
        ${load.motion.kind === 'fixed' ? nothing : html`<button aria-pressed=${this.isTurning} ?disabled=${this.isSingle} @click=${this.turn}>${TURN_WORDS[load.motion.kind]}</button>`}
        ${
          rows.length < 2 || this.isSingle
            ? nothing
            : html`<span class="field">
          <label for="shown-load">Load</label>
          <select id="shown-load" @change=${this.showRow}>
            ${rows.map(({ from, to }, index) => html`<option value=${index} ?selected=${index === this.row}>${from === to ? from : `${from}–${to}`}</option>`)}
          </select>
        </span>`
        }
        <span class="field">
          <label for="colouring">Places coloured by</label>
          <select id="colouring" @change=${this.colour}>
            ${[
              ['verdict', 'verdict'],
              ...(distribution?.materials ?? []).map(({ material, label }) => [
                `film ${material}`,
                `film of ${label}`,
              ]),
              ['', 'nothing'],
            ].map(
              ([value, words]) =>
                html`<option value=${value!} ?selected=${value === this.colouring}>${words}</option>`,
            )}
          </select>
        </span>
      </div>
      <cw-load-picture
        .scene=${scene}
        .scale=${scale}
        .turning=${this.isTurning && !this.isSingle}
        .movable=${!this.isSingle}
        @cw-load-move-input=${this.moveAbove}
        @cw-load-move=${this.moveAbove}
        .gearRatio=${turnsOf(load.motion)}
        label=${this.isSingle ? 'One rack from above' : 'The load in the chamber, from above'}
      ></cw-load-picture>
      ${this.verdictWords(plan)}
      <cw-chamber-side
        .scene=${chamberSideScene(batch)}
        label="The chamber from the side: sources${load.motion.kind === 'planetary' ? ', height and tilt' : ' and height'} can be moved"
        @cw-chamber-move-input=${this.move}
        @cw-chamber-move=${this.move}
      ></cw-chamber-side>
      <div class="row">
        <button class="quiet" @click=${() => downloadText(`${batch.id}-places.csv`, positionsCsv(load.places), 'text/csv')}>Save the places as CSV</button>
        <button class="quiet" @click=${() => downloadText(`${batch.id}-rack.svg`, this.drawing(plan), 'image/svg+xml')}>Save the drilling picture, to scale</button>
      </div>
    `;
  }

  private drawing({ load }: Plan): string {
    const { order, fixture } = this.state.batch;
    return drillingSvg({
      title: `${order.title}, ${lotWords(order.lot)}`,
      rackDiameterMm: load.rackDiameterMm,
      rimMm: fixture.rimMm,
      part: { diameterMm: load.holderDiameterMm },
      positions: load.places,
      keepOut: fixture.keepOut,
    });
  }

  /** How many places are good, as planned and with the run's own errors, and the aim that would make most of them good. */
  private verdictWords(plan: Plan) {
    const { places, fault } = this.#places;
    if (fault !== '')
      return html`<p class="said" role="status">The places could not be judged: ${fault}.</p>`;
    if (places === undefined) return html`<p class="small soft">The places are being judged.</p>`;
    const isOld = places.plan !== plan;
    return html`<div class=${isOld ? 'soft' : ''}>
      <p>As planned, <b>${places.answer.goodPerLoad}</b> of ${plan.load.lensesPerLoad} lenses a load meet every requirement at centre and edge${isOld ? ' (being judged anew)' : ''}. ${this.yieldWords(plan)}</p>
      ${this.aimWords(plan)}
    </div>`;
  }

  /** The expected yield speaks of the same places, under the errors of the run. */
  private yieldWords({ load }: Plan) {
    const { answer, isUpdating } = this.state.yields;
    if (answer === undefined) return isUpdating ? 'The yield is being computed.' : nothing;
    return html`<span class=${isUpdating ? 'soft' : ''}>With the errors of the run ${percent(answer.yield, 1)} are expected, about ${fixed(answer.yield * load.lensesPerLoad, 0)} a full load${isUpdating ? ' (updating)' : ''}.</span>`;
  }

  private aimWords(plan: Plan) {
    const { aim } = this.#places;
    if (aim?.plan !== plan) return html`<p class="small soft">The best aim is being looked for.</p>`;
    const own = this.state.batch.process.aimPercent ?? 0;
    const { percent: best, goodPerLoad, ownGoodPerLoad } = aim.answer;
    const take = () =>
      this.bench.edit({
        name: changeName('Thickness aim', own, best, '%'),
        recipe: (draft) => {
          draft.process.aimPercent = best;
        },
      });
    const lenses = plan.load.lensesPerLoad;
    return html`<p class="small">${
      goodPerLoad - ownGoodPerLoad >= 0.5
        ? `With the film aimed at ${fixed(best, 1)} % over the stack about ${fixed(goodPerLoad, 0)} of ${lenses} would be good, instead of about ${fixed(ownGoodPerLoad, 0)}.`
        : `No other aim gives more; the middle of what gives as many is ${fixed(best, 1)} % over the stack.`
    }
    ${best === own ? nothing : html`<button class="quiet" @click=${take}>Take this aim</button>`}</p>`;
  }

  private film(plan: Plan, desk: Desk) {
    const { planBefore } = this.state;
    const side = shownSide(this.state);
    const now = plan.distributions.find((one) => one.side === side);
    if (now === undefined || now.materials.length === 0) return nothing;
    const before = planBefore?.distributions.find((one) => one.side === side);
    return html`<div class="group">
      <h2>Film over rack and lens</h2>
      <p>On the lens places the film deviates from its mean by at most <b>±${fixed(now.deviationPercent, 2)} %</b>; at the edge of a lens's clear aperture it differs from the centre by <b>${fixed(now.edgePercent, 2)} %</b>.</p>
      <div class="fields">${numberField(desk, ['process', 'aimPercent'], 'Film aimed at, over the stack', { optional: true, usual: 0, name: 'Thickness aim' })}</div>
      <div class="charts">
        ${filmCharts(now, before, plan.load.motion.kind === 'fixed')}
        ${this.#places.places === undefined ? nothing : placeSpectra(this.#places.places.answer, this.#places.before, side)}
      </div>
      ${toolingTable(now)}
    </div>`;
  }

  /** The ring: what the batch says of it and the sizes that follow. */
  private holder(desk: Desk, plan: Plan | undefined) {
    const { batch } = this.state;
    const own = batch.fixture.holder !== undefined;
    const ring = plan?.load.holder;
    const change = () =>
      this.bench.edit({
        name: own ? 'Holder ring: the usual play and ledge' : 'Holder ring: own play, ledge and lip',
        recipe: (draft) => {
          if (own || ring === undefined) delete draft.fixture.holder;
          else draft.fixture.holder = { playMm: ring.rule.playMm, ledgeMm: ring.rule.ledgeMm, lipMm: 0 };
        },
      });
    return html`
      ${ring === undefined ? nothing : html`<p class="small">The ring: outside ${fixed(ring.outerMm, 2)} mm, seat ${fixed(ring.seatMm, 2)} mm, opening ${fixed(ring.openingMm, 2)} mm${own ? '' : ' (usual play and ledge)'}${ring.lipMm === 0 ? '' : `, with a lip of ${ring.lipMm} mm that shadows the lens's edge`}.</p>`}
      ${
        own
          ? html`<div class="fields" role="group" aria-label="Holder ring">
              ${numberField(desk, ['fixture', 'holder', 'playMm'], 'Play around the lens', { name: 'Play in the holder' })}
              ${numberField(desk, ['fixture', 'holder', 'ledgeMm'], 'Ledge under the edge', { name: 'Ledge of the holder' })}
              ${numberField(desk, ['fixture', 'holder', 'lipMm'], 'Lip before the edge', { name: 'Lip of the holder' })}
            </div>`
          : nothing
      }
      <div><button class="quiet" ?disabled=${!own && ring === undefined} @click=${change}>${own ? 'Take the usual ring' : 'Give play, ledge and lip'}</button></div>
    `;
  }

  private readonly move = (event: ChamberMoveInputEvent | ChamberMoveEvent): void => {
    const isHeld = event.type === 'cw-chamber-move-input';
    this.bench.edit({ ...moveChange(event.move), isHeld });
    if (!isHeld) this.bench.settle();
  };

  private readonly moveAbove = (event: LoadMoveInputEvent | LoadMoveEvent): void => {
    const isHeld = event.type === 'cw-load-move-input';
    this.bench.edit({ ...loadMoveChange(event.move), isHeld });
    if (!isHeld) this.bench.settle();
  };

  private readonly turn = (): void => {
    this.isTurning = !this.isTurning;
  };

  private readonly colour = (event: Event): void => {
    this.colouring = (event.target as HTMLSelectElement).value as Colouring;
  };

  private readonly showRow = (event: Event): void => {
    this.row = Number((event.target as HTMLSelectElement).value);
  };

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
        name: `Place to keep free ${index + 1} removed`,
        recipe: (draft) => void draft.fixture.keepOut.splice(index, 1),
      });
    return html`
      ${keepOut.map((_, index) => {
        const name = `Keep free ${index + 1}`;
        return html`<div class="keep-out" role="group" aria-label=${name}>
          ${numberField(desk, ['fixture', 'keepOut', index, 'xMm'], `${name}: x`)}
          ${numberField(desk, ['fixture', 'keepOut', index, 'yMm'], 'y', { name: `${name}: y` })}
          ${numberField(desk, ['fixture', 'keepOut', index, 'diameterMm'], 'Diameter', { name: `${name}: diameter` })}
          <button class="quiet" aria-label="Remove ${name.toLowerCase()}" @click=${() => remove(index)}>Remove</button>
        </div>`;
      })}
      <div><button class="quiet" @click=${add}>Keep a place free (post, clamp, thermocouple)</button></div>
    `;
  }
}
