import { html, LitElement, nothing, svg } from 'lit';
import { property, state } from 'lit/decorators.js';
import { baseStyles } from '../shared-styles.ts';
import { ResizeController } from '../support/resize-controller.ts';
import { LayerSelectEvent, LayerThicknessChangeEvent, LayerThicknessInputEvent } from './layer-events.ts';
import {
  filmShade,
  rulerStepNm,
  type SectionLayer,
  type SectionLayout,
  sectionLayout,
} from './section-layout.ts';
import { stackSectionStyles } from './stack-section-styles.ts';

const RULER_PX = 46;
const LABELS_PX = 178;
const NARROW_LABELS_PX = 156;

/** A boundary on its way. */
interface Drag {
  readonly layer: number;
  readonly pointer: number;
  readonly fromY: number;
  readonly fromNm: number;
  readonly pxPerNm: number;
}

/**
 * The stack in cross-section, to scale, layers in the order of deposition from the glass up. The upper
 * boundary of every layer can be dragged, or moved with the arrow keys on its label (1 nm; Shift 0.1 nm;
 * Page keys 10 nm). Escape takes a drag back.
 *
 * @element cw-stack-section
 * @property layers - `SectionLayer[]`, the first lies on the glass
 * @property substrate - what lies below
 * @property incident - what lies above
 * @property selected - index of the layer that is picked, or undefined
 * @property previousNm - thicknesses before the last edit, drawn as dotted boundaries
 * @property minNm - least thickness that dragging gives
 * @property maxNm - greatest thickness that dragging gives
 * @property label - what the picture shows
 * @property fixed - nothing can be dragged
 * @fires cw-layer-thickness-input - while a boundary is dragged
 * @fires cw-layer-thickness-change - when it is let go, and on every key
 * @fires cw-layer-select - a layer is picked
 * @cssproperty [--cw-section-height=340] - height in CSS pixels, a plain number
 */
export class StackSectionElement extends LitElement {
  static override styles = [baseStyles, stackSectionStyles];

  @property({ attribute: false }) layers: readonly SectionLayer[] = [];
  @property() substrate = 'glass';
  @property() incident = 'air';
  @property({ type: Number }) selected: number | undefined;
  @property({ attribute: false }) previousNm: readonly number[] = [];
  @property({ type: Number, attribute: 'min-nm' }) minNm = 0;
  @property({ type: Number, attribute: 'max-nm' }) maxNm = 5000;
  @property() label = 'Stack in cross-section';
  @property({ type: Boolean }) fixed = false;

  @state() private drag: Drag | undefined;
  private readonly size = new ResizeController(this);

  override connectedCallback(): void {
    super.connectedCallback();
    window.addEventListener('keydown', this.onEscape);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    window.removeEventListener('keydown', this.onEscape);
  }

  override render() {
    const height = Number(getComputedStyle(this).getPropertyValue('--cw-section-height')) || 340;
    const layout = sectionLayout(this.layers, height, this.drag?.pxPerNm);
    const width = this.size.widthPx;
    const right = width - (width < 480 ? NARROW_LABELS_PX : LABELS_PX);
    return html`
      <div class="picture" role="group" aria-label=${this.label} style="height:${layout.heightPx}px">
        ${width === 0 ? nothing : this.picture(layout, width, right)}
        ${this.layers.map((layer, i) => this.grip(layer, i, layout, right))}
        ${this.layers.length === 0 ? html`<p class="bare">Bare surface: no layer yet.</p>` : nothing}
      </div>
      ${
        this.layers.some((layer) => layer.sensitivity !== undefined)
          ? html`<p class="key"><span class="swatch" aria-hidden="true"></span> what an error of this layer costs, beside the most sensitive one</p>`
          : nothing
      }
    `;
  }

  private picture(layout: SectionLayout, width: number, right: number) {
    const { heightPx, surfacePx } = layout;
    const filmTop = layout.layers.at(-1)?.topPx ?? surfacePx;
    return html`
      <svg width=${width} height=${heightPx} aria-hidden="true">
        <defs>
          <pattern id="locked" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
            <path class="hatch" d="M0 0V6"></path>
          </pattern>
        </defs>
        <rect class="glass" x=${RULER_PX} y=${surfacePx} width=${right - RULER_PX} height=${heightPx - surfacePx}></rect>
        <text class="medium" x=${RULER_PX + 10} y=${surfacePx + 28}>${this.substrate}</text>
        <text class="medium" x=${RULER_PX + 10} y=${Math.max(filmTop - 14, 16)}>${this.incident}</text>
        ${ray(right - 74, filmTop)}
        ${this.layers.map((layer, i) => this.film(layer, i, layout, right))}
        ${this.ghosts(layout, right)}
        ${ruler(layout)}
        ${this.layers.map((_, i) => this.boundary(i, layout, right))}
      </svg>
    `;
  }

  private film(layer: SectionLayer, i: number, layout: SectionLayout, right: number) {
    const { topPx, bottomPx } = layout.layers[i]!;
    const height = Math.max(bottomPx - topPx, 0);
    const box = { width: right - RULER_PX, height };
    const { index, indexChange = 0 } = layer;
    const outer = index === undefined ? undefined : index * (1 + indexChange / 2);
    const inner = index === undefined ? undefined : index * (1 - indexChange / 2);
    const bar = Math.min(6, Math.max(height - 2, 1.5));
    const select = () => this.select(i);
    return svg`
      <g @click=${select}>
        <rect class="film" x=${RULER_PX} y=${topPx} width=${box.width} height=${box.height}
          style="fill:${indexChange === 0 ? filmColour(index) : `url(#graded${i})`}"></rect>
        ${indexChange === 0 ? nothing : shades(i, filmColour(inner), filmColour(outer))}
        ${layer.locked ? svg`<rect x=${RULER_PX} y=${topPx} width=${box.width} height=${box.height} fill="url(#locked)"></rect>` : nothing}
        ${
          layer.sensitivity === undefined
            ? nothing
            : svg`<rect class="sensitivity" x=${RULER_PX} y=${(topPx + bottomPx - bar) / 2} height=${bar}
                width=${Math.max(2, layer.sensitivity * (box.width - 90))}></rect>`
        }
        ${i === this.selected ? svg`<rect class="selected" x=${RULER_PX + 1} y=${topPx + 1} width=${box.width - 2} height=${Math.max(box.height - 2, 1)}></rect>` : nothing}
      </g>
    `;
  }

  private boundary(i: number, layout: SectionLayout, right: number) {
    const { topPx, bottomPx, labelPx } = layout.layers[i]!;
    const middle = (topPx + bottomPx) / 2;
    const still = this.fixed || this.layers[i]!.locked === true;
    return svg`
      <path class="leader ${this.drag?.layer === i ? 'moving' : ''}" d="M${right} ${middle}C${right + 9} ${middle} ${right + 9} ${labelPx} ${right + 18} ${labelPx}"></path>
      <path class="edge" d="M${RULER_PX} ${topPx}H${right}"></path>
      ${
        still
          ? nothing
          : svg`<path class="reach" d="M${RULER_PX} ${topPx}H${right}"
              @pointerdown=${(event: PointerEvent) => this.begin(event, i, layout)} @touchstart=${keepFromScrolling}
              @pointermove=${this.onMove} @pointerup=${this.onUp} @pointercancel=${this.onCancel}></path>`
      }
    `;
  }

  private ghosts(layout: SectionLayout, right: number) {
    let y = layout.surfacePx;
    return this.previousNm.map((thickness) => {
      y -= thickness * layout.pxPerNm;
      return svg`<path class="before" d="M${RULER_PX} ${y}H${right}"></path>`;
    });
  }

  private grip(layer: SectionLayer, i: number, layout: SectionLayout, right: number) {
    const still = this.fixed || layer.locked === true;
    const graded = layer.indexChange ? `, index ${changeText(layer.indexChange)} outwards` : '';
    const share =
      layer.sensitivity === undefined ? '' : `, sensitivity ${Math.round(layer.sensitivity * 100)} %`;
    return html`
      <div
        class="grip ${i === this.selected ? 'picked' : ''} ${still ? 'still' : ''}"
        role="slider"
        tabindex="0"
        style="top:${layout.layers[i]!.labelPx}px;left:${right + 18}px"
        aria-label="Layer ${i + 1} of ${this.layers.length}, ${layer.material}, thickness"
        aria-orientation="vertical"
        aria-valuemin=${this.minNm}
        aria-valuemax=${this.maxNm}
        aria-valuenow=${layer.thicknessNm}
        aria-valuetext="${nmText(layer.thicknessNm)} nm${graded}${share}${layer.locked ? ', locked' : ''}"
        aria-disabled=${still ? 'true' : nothing}
        @focus=${() => this.select(i)}
        @keydown=${(event: KeyboardEvent) => this.onKeydown(event, i)}
        @pointerdown=${(event: PointerEvent) => (still ? undefined : this.begin(event, i, layout))}
        @pointermove=${this.onMove}
        @pointerup=${this.onUp}
        @pointercancel=${this.onCancel}
      >
        <span class="number">${i + 1}</span>
        <span class="material">${layer.material}${layer.indexChange ? html` <span class="change" title="index ${changeText(layer.indexChange)} outwards">${layer.indexChange < 0 ? '↘' : '↗'}</span>` : nothing}</span>
        <span class="thickness">${nmText(layer.thicknessNm)}</span>
        <span class="unit">nm</span>
        ${layer.locked ? lockSign : nothing}
      </div>
    `;
  }

  private select(layer: number): void {
    if (this.selected === layer) return;
    this.selected = layer;
    this.dispatchEvent(new LayerSelectEvent(layer));
  }

  private begin(event: PointerEvent, layer: number, { pxPerNm }: SectionLayout): void {
    if (event.button !== 0 || pxPerNm === 0) return;
    const target = event.currentTarget as Element;
    if (event.isTrusted) target.setPointerCapture(event.pointerId);
    const fromNm = this.layers[layer]!.thicknessNm;
    this.drag = { layer, pointer: event.pointerId, fromY: event.clientY, fromNm, pxPerNm };
    this.select(layer);
  }

  private readonly onMove = (event: PointerEvent): void => {
    const { drag } = this;
    if (drag === undefined || event.pointerId !== drag.pointer) return;
    const moved = ((drag.fromY - event.clientY) / drag.pxPerNm) * (event.shiftKey ? 0.1 : 1);
    if (this.give(drag.layer, drag.fromNm + moved))
      this.dispatchEvent(new LayerThicknessInputEvent(drag.layer, this.layers[drag.layer]!.thicknessNm));
  };

  private readonly onUp = (event: PointerEvent): void => {
    const { drag } = this;
    if (drag === undefined || event.pointerId !== drag.pointer) return;
    this.drag = undefined;
    const { thicknessNm } = this.layers[drag.layer]!;
    if (thicknessNm !== drag.fromNm)
      this.dispatchEvent(new LayerThicknessChangeEvent(drag.layer, thicknessNm));
  };

  /** The drag never was: the layer gets its thickness back, and whoever follows the drag is told so. */
  private readonly onCancel = (): void => {
    const { drag } = this;
    if (drag === undefined) return;
    this.drag = undefined;
    if (this.give(drag.layer, drag.fromNm, false))
      this.dispatchEvent(new LayerThicknessInputEvent(drag.layer, drag.fromNm));
  };

  /** Heard wherever the focus is: a boundary under the mouse takes none. */
  private readonly onEscape = (event: KeyboardEvent): void => {
    if (event.key !== 'Escape' || this.drag === undefined) return;
    event.preventDefault();
    this.onCancel();
  };

  private onKeydown(event: KeyboardEvent, layer: number): void {
    const nm = KEY_NM[event.key];
    if (event.ctrlKey || event.metaKey || event.altKey || (nm === undefined && event.key !== 'Home')) return;
    event.preventDefault();
    const { thicknessNm, locked } = this.layers[layer]!;
    if (this.fixed || locked) return;
    const wanted = nm === undefined ? this.minNm : thicknessNm + nm * (event.shiftKey ? 0.1 : 1);
    if (this.give(layer, wanted))
      this.dispatchEvent(new LayerThicknessChangeEvent(layer, this.layers[layer]!.thicknessNm));
  }

  /** Gives a layer a thickness within the limits, to 0.01 nm; false where that changes nothing. */
  private give(layer: number, thicknessNm: number, rounded = true): boolean {
    const within = Math.min(Math.max(thicknessNm, this.minNm), this.maxNm);
    const given = rounded ? Math.round(within * 100) / 100 : thicknessNm;
    const before = this.layers[layer];
    if (before === undefined || before.thicknessNm === given) return false;
    this.layers = this.layers.with(layer, { ...before, thicknessNm: given });
    return true;
  }
}

/** A finger on a boundary drags it: browsers do not all heed `touch-action` on a path of a drawing. */
function keepFromScrolling(event: TouchEvent): void {
  event.preventDefault();
}

const KEY_NM: Readonly<Record<string, number>> = {
  ArrowUp: 1,
  ArrowRight: 1,
  ArrowDown: -1,
  ArrowLeft: -1,
  PageUp: 10,
  PageDown: -10,
};

const nmText = (nm: number) => (nm < 1000 ? nm.toFixed(1) : nm.toFixed(0));

const filmColour = (index: number | undefined) =>
  `color-mix(in oklab, var(--cw-film-high) ${Math.round(filmShade(index) * 100)}%, var(--cw-film-low))`;

const changeText = (change: number) => `${change < 0 ? '−' : '+'}${+(100 * Math.abs(change)).toFixed(2)} %`;

/** The shades of a film whose index changes. */
function shades(i: number, inner: string, outer: string) {
  return svg`
    <linearGradient id="graded${i}" x1="0" y1="1" x2="0" y2="0">
      <stop offset="0" style="stop-color:${inner}"></stop>
      <stop offset="1" style="stop-color:${outer}"></stop>
    </linearGradient>
  `;
}

const lockSign = html`<svg class="lock" viewBox="0 0 12 14" width="10" height="12" aria-hidden="true">
  <path d="M3 6V4a3 3 0 0 1 6 0v2M1.5 6h9v7h-9z"></path>
</svg>`;

/** Light coming in, and what the coating sends back, in its residual colour. */
function ray(x: number, surface: number) {
  const rise = Math.min(34, surface - 4);
  return svg`
    <path class="ray" d="M${x} ${surface - rise}l${rise * 0.6} ${rise}"></path>
    <path class="ray back" d="M${x + rise * 0.6} ${surface}l${rise * 0.6} ${-rise}"></path>
  `;
}

function ruler({ surfacePx, pxPerNm, layers }: SectionLayout) {
  const top = layers.at(-1)?.topPx ?? surfacePx;
  if (pxPerNm === 0 || surfacePx - top < 1) return nothing;
  const span = (surfacePx - top) / pxPerNm;
  const step = rulerStepNm(span);
  const marks = Array.from({ length: Math.floor(span / step + 1e-9) + 1 }, (_, i) => i * step);
  return svg`
    <path class="rule" d="M${RULER_PX - 6} ${surfacePx}V${top}"></path>
    ${marks.map((nm) => {
      const y = surfacePx - nm * pxPerNm;
      return svg`<path class="rule" d="M${RULER_PX - 11} ${y}h5"></path>
        <text class="mark" x=${RULER_PX - 14} y=${y + 4}>${nm}</text>`;
    })}
    <text class="mark unit" x=${RULER_PX - 14} y=${surfacePx + 20}>nm</text>
  `;
}
