import { html, LitElement, nothing, type PropertyValues, svg, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { styleMap } from 'lit/directives/style-map.js';
import { figureText, placeText } from '../line-chart/figure-text.ts';
import { baseStyles, buttonStyles } from '../shared-styles.ts';
import { verdictSign, verdictWord } from '../verdict/verdict-element.ts';
import { type LoadMove, LoadMoveEvent, LoadMoveInputEvent, PartSelectEvent } from './load-events.ts';
import { loadPictureStyles } from './load-picture-styles.ts';
import {
  type LoadFixed,
  type LoadPart,
  type LoadRack,
  type LoadScene,
  type LoadShield,
  neighbour,
  type PlacedPart,
  placedParts,
  scaleColour,
  sceneMoved,
  sceneReachMm,
  type ValueScale,
} from './load-scene.ts';

/**
 * The load from above, to scale: chamber, carrier, racks with their parts, sources, witnesses, crystals and
 * keep-outs. Places are coloured by a value or by a verdict. Arrow keys go from place to place (the nearest
 * in that direction), Enter picks one.
 *
 * @element cw-load-picture
 * @property scene - `LoadScene`
 * @property scale - `ValueScale` of the parts' values; undefined colours by verdict
 * @property turning - the racks turn as the gears do; stands still where reduced motion is asked for
 * @property gearRatio - turns of a planet about its own axis for one of the carrier, seen from the carrier
 * @property carrierTurnS - seconds that one turn of the carrier takes on the screen
 * @property movable - sources and shields can be dragged (give the keyboard a field or `cw-chamber-side` beside)
 * @property selected - id of the part that is picked
 * @property label - what the picture shows
 * @fires cw-part-select - a place is picked by a click or Enter
 * @fires cw-load-move-input - while a source or shield is dragged
 * @fires cw-load-move - when it is let go
 * @csspart picture - the SVG picture
 */
export class LoadPictureElement extends LitElement {
  static override styles = [baseStyles, buttonStyles, loadPictureStyles];

  @property({ attribute: false }) scene: LoadScene = { racks: [] };
  @property({ attribute: false }) scale: ValueScale | undefined;
  @property({ type: Boolean, reflect: true }) turning = false;
  @property({ type: Number, attribute: 'gear-ratio' }) gearRatio = 3;
  @property({ type: Number, attribute: 'carrier-turn-s' }) carrierTurnS = 24;
  @property({ type: Boolean }) movable = false;
  @property() selected = '';
  @property() label = 'The load from above';

  /** Index into `parts` of the place that is read out. */
  @state() private at = -1;
  private parts: readonly PlacedPart[] = [];
  private drag: Drag | undefined;

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (!changed.has('scene')) return;
    this.parts = placedParts(this.scene);
    if (this.at >= this.parts.length) this.at = -1;
  }

  override render() {
    const reach = sceneReachMm(this.scene) * 1.02;
    const turns = {
      '--carrier-turn': `${this.carrierTurnS}s`,
      '--planet-turn': `${this.carrierTurnS / Math.max(Math.abs(this.gearRatio), 1e-6)}s`,
      '--planet-way': this.gearRatio < 0 ? 'reverse' : 'normal',
    };
    const active = this.at < 0 ? nothing : `part-${this.at}`;
    let index = -1;
    return html`
      <svg
        part="picture"
        class=${this.scene.carrierRadiusMm === undefined ? '' : 'gears'}
        style=${styleMap(turns)}
        viewBox="${-reach} ${-reach} ${2 * reach} ${2 * reach}"
        role="listbox"
        tabindex="0"
        aria-label=${this.label}
        aria-activedescendant=${active}
        @keydown=${this.onKeydown}
        @pointerleave=${() => (this.at = -1)}
      >
        <defs>
          <pattern id="keep-out" width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
            <path class="hatch" d="M0 0V8"></path>
          </pattern>
        </defs>
        ${this.chamber()}
        <g class="carrier" role="presentation">
          ${this.scene.racks.map((rack) => this.rack(rack, () => (index += 1)))}
        </g>
        ${(this.scene.shields ?? []).map((item) => this.grip(shieldSvg(item), { what: 'shield', id: item.id, azimuthDeg: item.azimuthDeg }))}
        ${this.ordered('source').map((item) => this.grip(fixedThing(item), { what: 'source', id: item.id, xMm: item.xMm, yMm: item.yMm }))}
        ${this.ordered('keep-out').map(fixedThing)}
        ${[...this.ordered('witness'), ...this.ordered('crystal')].map(fixedThing)}
      </svg>
      <p class="readout"><span role="status">${this.spoken()}</span>${this.spoken() === '' ? this.summary() : nothing}</p>
      ${this.legend()}
    `;
  }

  /** Something that can be dragged, with what it is now. */
  private grip(drawn: TemplateResult<2>, now: LoadMove) {
    if (!this.movable) return drawn;
    return svg`<g class="grip" @pointerdown=${(event: PointerEvent) => this.begin(event, now)} @pointermove=${this.onMove} @pointerup=${this.onUp} @pointercancel=${this.onCancel}>${drawn}</g>`;
  }

  private begin(event: PointerEvent, now: LoadMove): void {
    if (event.button !== 0) return;
    if (event.isTrusted) (event.currentTarget as Element).setPointerCapture(event.pointerId);
    this.drag = { pointer: event.pointerId, from: this.placeOf(event), before: now, now };
  }

  /** Where the pointer is, mm from the chamber's axis, y up. */
  private placeOf(event: PointerEvent): readonly [number, number] {
    const picture = this.renderRoot.querySelector('svg')!;
    const box = picture.getBoundingClientRect();
    const mmPerPx = picture.viewBox.baseVal.width / Math.max(box.width, 1);
    return [
      (event.clientX - box.left - box.width / 2) * mmPerPx,
      (box.top + box.height / 2 - event.clientY) * mmPerPx,
    ];
  }

  private readonly onMove = (event: PointerEvent): void => {
    const { drag } = this;
    if (drag === undefined || event.pointerId !== drag.pointer) return;
    this.drag = { ...drag, now: dragged(drag, this.placeOf(event)) };
    this.scene = sceneMoved(this.scene, this.drag.now);
    this.dispatchEvent(new LoadMoveInputEvent(this.drag.now));
  };

  private readonly onUp = (event: PointerEvent): void => {
    const { drag } = this;
    if (drag === undefined || event.pointerId !== drag.pointer) return;
    this.drag = undefined;
    if (drag.now !== drag.before) this.dispatchEvent(new LoadMoveEvent(drag.now));
  };

  private readonly onCancel = (): void => {
    const { drag } = this;
    if (drag === undefined) return;
    this.drag = undefined;
    this.scene = sceneMoved(this.scene, drag.before);
    this.dispatchEvent(new LoadMoveInputEvent(drag.before));
  };

  private ordered(kind: LoadFixed['kind']): readonly LoadFixed[] {
    return (this.scene.fixed ?? []).filter((item) => item.kind === kind);
  }

  private chamber() {
    const { chamberDiameterMm, carrierRadiusMm } = this.scene;
    return svg`
      ${chamberDiameterMm === undefined ? nothing : svg`<circle class="chamber" r=${chamberDiameterMm / 2}></circle>`}
      ${
        carrierRadiusMm === undefined
          ? nothing
          : svg`<circle class="path" r=${carrierRadiusMm}></circle><path class="axis" d="M-12 0H12M0-12V12"></path>`
      }
    `;
  }

  private rack(rack: LoadRack, next: () => number) {
    const radius = rack.diameterMm / 2;
    return svg`
      <g role="presentation" transform="translate(${rack.xMm} ${-rack.yMm})">
        <g class="planet" role="presentation">
          <circle class="rack" r=${radius}></circle>
          ${rack.rimMm ? svg`<circle class="rim" r=${radius - rack.rimMm}></circle>` : nothing}
          ${(rack.keepOuts ?? []).map(
            (item) =>
              svg`<circle class="keep-out" cx=${item.xMm} cy=${-item.yMm} r=${item.diameterMm / 2}></circle>`,
          )}
          ${rack.parts.map((part) => this.place(part, rack, next()))}
        </g>
      </g>
    `;
  }

  private place(part: LoadPart, rack: LoadRack, index: number) {
    const classes = [
      'part',
      part.role ?? 'part',
      this.scale === undefined ? (part.verdict ?? '') : '',
      index === this.at ? 'at' : '',
      part.id === this.selected ? 'picked' : '',
    ].join(' ');
    const fill =
      this.scale !== undefined && part.value !== undefined
        ? `fill:${scaleColour(part.value, this.scale)}`
        : '';
    const { widthMm: width = 0, heightMm: height = 0 } = part;
    const shape =
      part.diameterMm === undefined
        ? svg`<rect x=${-width / 2} y=${-height / 2} width=${width} height=${height}></rect>`
        : svg`<circle r=${part.diameterMm / 2}></circle>`;
    return svg`
      <g
        id="part-${index}"
        class=${classes}
        style=${fill}
        role="option"
        aria-selected=${part.id === this.selected ? 'true' : 'false'}
        aria-label="${rack.label}, ${this.partText(part)}"
        transform="translate(${part.xMm} ${-part.yMm}) rotate(${-(part.angleDeg ?? 0)})"
        @pointerenter=${() => (this.at = index)}
        @click=${() => this.pick(index)}
      >${shape}${part.role === 'witness' ? svg`<circle class="dot" r=${(part.diameterMm ?? Math.min(width, height)) / 8}></circle>` : nothing}${missedSign(part, this.scale)}</g>
    `;
  }

  private partText(part: LoadPart): string {
    const value =
      part.value === undefined || this.scale === undefined
        ? ''
        : `, ${figureText(part.value)} ${this.scale.unit}`;
    const verdict = part.verdict === undefined ? '' : `, ${verdictWord(part.verdict)}`;
    const role = part.role === 'witness' ? ' (witness)' : part.role === 'dummy' ? ' (blank)' : '';
    return `${part.label}${role}${value.trimEnd()}${verdict}`;
  }

  /** The place that is pointed at; what the whole picture shows is no news, since every edit may change it. */
  private spoken(): string {
    const place = this.parts[this.at];
    if (place === undefined) return '';
    const { part, rack } = place;
    const radius = Math.hypot(part.xMm, part.yMm);
    return `${rack.label}, ${this.partText(part)}; x ${part.xMm.toFixed(1)} mm, y ${part.yMm.toFixed(1)} mm, ${radius.toFixed(1)} mm from the rack's centre`;
  }

  private summary(): string {
    const parts = this.parts.filter(({ part }) => (part.role ?? 'part') === 'part').length;
    const racks = this.scene.racks.length;
    return `${parts} ${parts === 1 ? 'part' : 'parts'} on ${racks} ${racks === 1 ? 'rack' : 'racks'}`;
  }

  private legend() {
    if (this.scale === undefined) return verdictLegend(this.parts);
    const { label, unit, middle, reach } = this.scale;
    const ends = [middle - reach, middle, middle + reach].map((value) => placeText(value));
    return html`
      <div class="legend">
        <span>${label}${unit === '' ? '' : ` / ${unit}`}</span>
        <span class="bar" aria-hidden="true"></span>
        <span class="ends">${ends.map((text) => html`<span>${text}</span>`)}</span>
      </div>
    `;
  }

  private pick(index: number): void {
    const place = this.parts[index];
    if (place === undefined) return;
    this.at = index;
    this.selected = place.part.id;
    this.dispatchEvent(new PartSelectEvent(place.rack.id, place.part.id));
  }

  private readonly onKeydown = (event: KeyboardEvent): void => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const way = WAYS[event.key];
    if (way !== undefined) this.at = this.at < 0 ? 0 : neighbour(this.parts, this.at, way[0], way[1]);
    else if (event.key === 'Home') this.at = this.parts.length > 0 ? 0 : -1;
    else if (event.key === 'End') this.at = this.parts.length - 1;
    else if (event.key === 'Escape' && this.drag !== undefined) this.onCancel();
    else if (event.key === 'Escape') this.at = -1;
    else if (event.key === 'Enter' || event.key === ' ') this.pick(this.at);
    else return;
    event.preventDefault();
  };
}

/** A drag under way: where it began, what was moved then and what it has come to. */
interface Drag {
  readonly pointer: number;
  readonly from: readonly [number, number];
  readonly before: LoadMove;
  readonly now: LoadMove;
}

/** Sources go with the pointer, to a tenth of a mm; shields turn about the axis with it, to a tenth of a degree. */
function dragged({ from, before }: Drag, to: readonly [number, number]): LoadMove {
  const tenth = (value: number) => Math.round(10 * value) / 10;
  if (before.what === 'source')
    return {
      ...before,
      xMm: tenth(before.xMm + to[0] - from[0]),
      yMm: tenth(before.yMm + to[1] - from[1]),
    };
  const turn = Math.atan2(to[1], to[0]) - Math.atan2(from[1], from[0]);
  const azimuth = before.azimuthDeg + (turn * 180) / Math.PI;
  return { ...before, azimuthDeg: tenth(azimuth - 360 * Math.round(azimuth / 360)) };
}

function shieldSvg({ label, azimuthDeg, outline }: LoadShield) {
  const path = outline.map(({ xMm, yMm }) => `${xMm.toFixed(1)} ${(-yMm).toFixed(1)}`).join('L');
  return svg`<path class="shield" d="M${path}Z" transform="rotate(${-azimuthDeg})"><title>${label}</title></path>`;
}

const WAYS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowRight: [1, 0],
  ArrowLeft: [-1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};

const SYMBOL: Readonly<Record<LoadFixed['kind'], string>> = {
  source: 'M-1 0H1M0-1V1',
  witness: '',
  crystal: 'M-.6-.6L.6.6M-.6.6L.6-.6',
  'keep-out': '',
};

function fixedThing(item: LoadFixed) {
  const radius = item.diameterMm / 2;
  return svg`
    <g class="fixed ${item.kind}" transform="translate(${item.xMm} ${-item.yMm})">
      <title>${item.label}</title>
      <circle r=${radius}></circle>
      <path d=${SYMBOL[item.kind]} transform="scale(${radius * 0.7})"></path>
    </g>
  `;
}

/** A stroke through a place that misses, so that colour is not all that says so. */
function missedSign(part: LoadPart, scale: ValueScale | undefined) {
  if (part.verdict !== 'missed') return nothing;
  const half = (part.diameterMm ?? Math.min(part.widthMm ?? 0, part.heightMm ?? 0)) * 0.28;
  return svg`<path class="cross ${scale === undefined ? '' : 'over'}" d="M${-half} ${-half}L${half} ${half}M${-half} ${half}L${half} ${-half}"></path>`;
}

function verdictLegend(parts: readonly PlacedPart[]) {
  const verdicts = (['met', 'watch', 'missed', 'open'] as const)
    .map((verdict) => ({ verdict, count: parts.filter(({ part }) => part.verdict === verdict).length }))
    .filter(({ count }) => count > 0);
  if (verdicts.length === 0) return nothing;
  return html`
    <ul class="legend verdicts">
      ${verdicts.map(
        ({ verdict, count }) =>
          html`<li class=${verdict}>${verdictSign(verdict)} ${count} ${verdictWord(verdict)}</li>`,
      )}
    </ul>
  `;
}
