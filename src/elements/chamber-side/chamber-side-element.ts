import { html, LitElement, nothing, svg } from 'lit';
import { property, state } from 'lit/decorators.js';
import { styleMap } from 'lit/directives/style-map.js';
import { placeText } from '../line-chart/figure-text.ts';
import { baseStyles } from '../shared-styles.ts';
import { ChamberMoveEvent, ChamberMoveInputEvent } from './chamber-move-events.ts';
import { chamberSideStyles } from './chamber-side-styles.ts';
import { movedScene, type SideHandle, sideHandles } from './moved-scene.ts';
import {
  domeArc,
  lobe,
  rackEnds,
  type SideFixed,
  type SideMask,
  type SidePoint,
  type SideScene,
  type SideSurface,
} from './side-scene.ts';

const EMPTY: SideScene = {
  widthMm: 1000,
  heightMm: 1000,
  sources: [],
  surface: { kind: 'plane', heightMm: 500, diameterMm: 100 },
};

/**
 * The chamber from the side, to scale: sources with their emission lobes, the load, masks, witness and
 * crystal. Sources move sideways, masks and the load up and down, the racks' tilt about the planet's
 * centre: by dragging, or with the arrow keys on a handle (1 mm or 1°; Shift a tenth; Page keys tenfold).
 *
 * @element cw-chamber-side
 * @property scene - `SideScene`
 * @property fixed - nothing can be moved
 * @property label - what the picture shows
 * @fires cw-chamber-move-input - while something is dragged
 * @fires cw-chamber-move - when it is let go, and on every key
 * @csspart picture - the SVG picture
 */
export class ChamberSideElement extends LitElement {
  static override styles = [baseStyles, chamberSideStyles];

  @property({ attribute: false }) scene: SideScene = EMPTY;
  @property({ type: Boolean }) fixed = false;
  @property() label = 'The chamber from the side';

  @state() private drag:
    | { handle: SideHandle; pointer: number; x: number; y: number; scene: SideScene }
    | undefined;

  override render() {
    const { widthMm, heightMm, floorMm = 0 } = this.scene;
    const margin = 0.03 * Math.max(widthMm, heightMm);
    const box = {
      left: -widthMm / 2 - margin,
      top: floorMm - heightMm - margin,
      width: widthMm + 2 * margin,
      height: heightMm + 2 * margin,
    };
    const handles = this.fixed ? [] : sideHandles(this.scene);
    return html`
      <div class="picture" role="group" aria-label=${this.label} style=${styleMap({ aspectRatio: `${box.width} / ${box.height}` })}>
        <svg part="picture" viewBox="${box.left} ${box.top} ${box.width} ${box.height}" aria-hidden="true">
          <rect class="chamber" x=${-widthMm / 2} y=${floorMm - heightMm} width=${widthMm} height=${heightMm}></rect>
          <path class="axis" d="M0 ${floorMm - heightMm}V${floorMm}"></path>
          ${this.scene.sources.map((source) => sourceSvg(source.offsetMm, source.heightMm ?? 0, lobe(source, heightMm * 0.45), source.exponent, widthMm))}
          ${surfaceSvg(this.scene.surface)}
          ${(this.scene.masks ?? []).map(maskSvg)}
          ${(this.scene.fixed ?? []).map((item) => fixedSvg(item, widthMm))}
        </svg>
        ${this.scene.sources.map((item) => caption(item.label, [item.offsetMm, (item.heightMm ?? 0) - widthMm * 0.05], box))}
        ${(this.scene.fixed ?? []).map((item) => caption(item.label, [item.offsetMm, item.heightMm], box, item.kind))}
        ${handles.map((handle) => this.handle(handle, box))}
      </div>
    `;
  }

  private handle(handle: SideHandle, box: Box) {
    return html`
      <div
        class="handle ${handle.what}"
        role="slider"
        tabindex="0"
        style=${styleMap(placeIn(box, handle.at))}
        aria-label=${handle.label}
        aria-valuemin=${handle.min}
        aria-valuemax=${handle.max}
        aria-valuenow=${handle.value}
        aria-valuetext="${placeText(handle.value, 5)} ${handle.unit}"
        aria-orientation=${handle.perMm[0] === 0 ? 'vertical' : 'horizontal'}
        @keydown=${(event: KeyboardEvent) => this.onKeydown(event, handle)}
        @pointerdown=${(event: PointerEvent) => this.begin(event, handle)}
        @pointermove=${this.onMove}
        @pointerup=${this.onUp}
        @pointercancel=${this.onCancel}
      >
        <span class="tip">${placeText(handle.value, 5)} ${handle.unit}</span>
      </div>
    `;
  }

  private begin(event: PointerEvent, handle: SideHandle): void {
    if (event.button !== 0) return;
    if (event.isTrusted) (event.currentTarget as Element).setPointerCapture(event.pointerId);
    this.drag = { handle, pointer: event.pointerId, x: event.clientX, y: event.clientY, scene: this.scene };
  }

  private readonly onMove = (event: PointerEvent): void => {
    const { drag } = this;
    if (drag === undefined || event.pointerId !== drag.pointer) return;
    const picture = this.renderRoot.querySelector('svg')!;
    const mmPerPx = picture.viewBox.baseVal.width / Math.max(picture.clientWidth, 1);
    const [perRight, perUp] = drag.handle.perMm;
    const gain = mmPerPx * ((event.clientX - drag.x) * perRight - (event.clientY - drag.y) * perUp);
    this.give(drag.handle, drag.handle.value + gain * (event.shiftKey ? 0.1 : 1), 'input');
  };

  private readonly onUp = (event: PointerEvent): void => {
    const { drag } = this;
    if (drag === undefined || event.pointerId !== drag.pointer) return;
    this.drag = undefined;
    const now = sideHandles(this.scene).find((item) => same(item, drag.handle));
    if (now !== undefined && now.value !== drag.handle.value)
      this.dispatchEvent(new ChamberMoveEvent({ what: now.what, id: now.id, value: now.value }));
  };

  private readonly onCancel = (): void => {
    const { drag } = this;
    if (drag === undefined) return;
    this.drag = undefined;
    this.scene = drag.scene;
    const { what, id, value } = drag.handle;
    this.dispatchEvent(new ChamberMoveInputEvent({ what, id, value }));
  };

  private onKeydown(event: KeyboardEvent, handle: SideHandle): void {
    if (event.key === 'Escape' && this.drag) {
      event.preventDefault();
      this.onCancel();
      return;
    }
    const steps = KEY_STEPS[event.key];
    if (steps === undefined || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    this.give(handle, handle.value + steps * (event.shiftKey ? 0.1 : 1), 'change');
  }

  /** Moves a handle within its limits, to a tenth, and says so where that changes anything. */
  private give(handle: SideHandle, wanted: number, how: 'input' | 'change'): void {
    const value = Math.round(Math.min(Math.max(wanted, handle.min), handle.max) * 10) / 10;
    const now = sideHandles(this.scene).find((item) => same(item, handle));
    if (now?.value === value) return;
    const move = { what: handle.what, id: handle.id, value };
    this.scene = movedScene(this.scene, move);
    this.dispatchEvent(how === 'input' ? new ChamberMoveInputEvent(move) : new ChamberMoveEvent(move));
  }
}

/** The picture's stretch of the scene, mm. */
interface Box {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** Where a point of the scene lies within the picture. */
function placeIn(box: Box, [right, up]: SidePoint) {
  return {
    left: `${(100 * (right - box.left)) / box.width}%`,
    top: `${(100 * (-up - box.top)) / box.height}%`,
  };
}

function caption(text: string, at: SidePoint, box: Box, kind = '') {
  return html`<span class="caption ${kind}" style=${styleMap(placeIn(box, at))}>${text}</span>`;
}

const KEY_STEPS: Readonly<Record<string, number>> = {
  ArrowRight: 1,
  ArrowUp: 1,
  ArrowLeft: -1,
  ArrowDown: -1,
  PageUp: 10,
  PageDown: -10,
};

const same = (a: SideHandle, b: SideHandle) => a.what === b.what && a.id === b.id;

function pathOf(points: readonly SidePoint[]): string {
  return points
    .map(([right, up], i) => `${i === 0 ? 'M' : 'L'}${right.toFixed(2)} ${(-up).toFixed(2)}`)
    .join('');
}

function sourceSvg(
  offset: number,
  height: number,
  outline: readonly SidePoint[],
  exponent: number,
  width: number,
) {
  const half = width * 0.022;
  return svg`
    ${exponent > 0 ? svg`<path class="lobe" d="${pathOf(outline)}Z"></path>` : nothing}
    <path class="source" d="M${offset - half} ${-height}h${2 * half}l${-half * 0.35} ${half * 1.1}h${-half * 1.3}Z"></path>
  `;
}

function surfaceSvg(surface: SideSurface) {
  switch (surface.kind) {
    case 'plane':
      return svg`<path class="load" d="M${-surface.diameterMm / 2} ${-surface.heightMm}h${surface.diameterMm}"></path>`;
    case 'dome':
      return svg`<path class="load" d=${pathOf(domeArc(surface))}></path>`;
    case 'planetary': {
      const { carrierRadiusMm: radius, heightMm: height } = surface;
      return ([-1, 1] as const).map(
        (side) => svg`
          <path class="spindle" d="M${side * radius} ${-height}v${-surface.rackDiameterMm * 0.28}H0"></path>
          <path class="load" d=${pathOf(rackEnds(surface, side))}></path>
        `,
      );
    }
  }
}

function maskSvg(mask: SideMask) {
  return svg`<path class="mask" d="M${mask.offsetMm - mask.lengthMm / 2} ${-mask.heightMm}h${mask.lengthMm}"><title>${mask.label}</title></path>`;
}

function fixedSvg(item: SideFixed, width: number) {
  const half = width * (item.kind === 'witness' ? 0.02 : 0.012);
  return svg`<rect class=${item.kind} x=${item.offsetMm - half} y=${-item.heightMm - half * 0.4} width=${2 * half} height=${half * 0.8}><title>${item.label}</title></rect>`;
}
