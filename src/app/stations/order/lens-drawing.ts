import { html, nothing, svg, type TemplateResult } from 'lit';
import type { Batch } from '../../../batch/document.ts';
import { sagMm } from '../../../batch/lens-thickness.ts';

/** What the drawing's picture box keeps free around the lens, as a share of the diameter. */
const MARGIN = 0.32;

/** One face from edge to edge as points of a polyline, `atMm` being the vertex. */
function face(radiusMm: number | undefined, atMm: number, halfMm: number): [number, number][] {
  const steps = 32;
  return Array.from({ length: steps + 1 }, (_, index) => {
    const height = halfMm * ((2 * index) / steps - 1);
    return [atMm + sagMm(radiusMm, height), height];
  });
}

const path = (points: readonly (readonly [number, number])[]) =>
  points.map(([x, y], index) => `${index === 0 ? 'M' : 'L'}${x.toFixed(3)} ${y.toFixed(3)}`).join('');

/** The lens in section, to scale, light coming from the left; coated faces carry a coloured line over their clear aperture. */
export function lensDrawing({ order: { lens }, surfaces }: Batch): TemplateResult {
  const half = lens.diameterMm / 2;
  const clear = lens.clearApertureMm / 2;
  const front = face(lens.frontRadiusMm, 0, half);
  const back = face(lens.backRadiusMm, lens.centreThicknessMm, half);
  const outline = `${path([...front, ...[...back].reverse()])}Z`;
  const xs = [...front, ...back].map(([x]) => x);
  const [least, most] = [Math.min(...xs), Math.max(...xs)];
  const margin = MARGIN * lens.diameterMm;
  const box = [least - margin, -half - margin * 0.35, most - least + 2 * margin, 2 * half + margin * 1.1];
  const type = lens.diameterMm / 14;
  const coat = (radius: number | undefined, at: number) => path(face(radius, at, clear));
  const words = `Lens in section: diameter ${lens.diameterMm} mm, centre thickness ${lens.centreThicknessMm} mm, clear aperture ${lens.clearApertureMm} mm`;
  return html`<svg class="lens" viewBox=${box.map((value) => value.toFixed(3)).join(' ')} role="img" aria-label=${words}>
    ${svg`
      <path class="axis" d="M${box[0]} 0H${box[0]! + box[2]!}" />
      <path class="glass" d=${outline} />
      <path class="coat" d=${coat(lens.frontRadiusMm, 0)} />
      ${surfaces.back === 'uncoated' ? nothing : svg`<path class="coat" d=${coat(lens.backRadiusMm, lens.centreThicknessMm)} />`}
      <path class="size" d="M${most + margin * 0.45} ${-half}V${half}" />
      <text x=${most + margin * 0.52} y=${-type * 0.4} font-size=${type}>⌀ ${lens.diameterMm}</text>
      <path class="size" d="M0 ${half + margin * 0.3}H${lens.centreThicknessMm}" />
      <text x=${lens.centreThicknessMm / 2} y=${half + margin * 0.3 + type * 1.15} font-size=${type} text-anchor="middle">${lens.centreThicknessMm} mm</text>
    `}
  </svg>`;
}
