import { type Markup, markup } from '../../base/markup.ts';
import type { LoadPlan } from '../plan/plan-types.ts';

/** One rack from above, to scale, its places numbered in reading order; lens places open, witness places filled. */
export function rackSvg(load: LoadPlan, widthMm: number): Markup {
  const radius = load.rackDiameterMm / 2;
  const margin = 0.02 * radius;
  const size = 2 * (radius + margin);
  const font = Math.min(0.5 * load.holderDiameterMm, 0.09 * radius);
  const places = load.places.map(
    ({ xMm, yMm, use }, index) => markup`
  <g transform="translate(${number(xMm)} ${number(-yMm)})">
    <circle r="${number(load.holderDiameterMm / 2)}" class="${use}" />
    <text dy="0.35em">${use === 'witness' ? 'W' : index + 1}</text>
  </g>`,
  );
  return markup`<svg class="rack" viewBox="${number(-size / 2)} ${number(-size / 2)} ${number(size)} ${number(size)}" style="width:${widthMm}mm;height:${widthMm}mm;font-size:${number(font)}px" role="img" aria-label="${load.motion.kind === 'dome' ? 'The dome' : 'One rack'} from above with ${load.places.length} places">
  <circle r="${number(radius)}" class="rim" />${places}
</svg>`;
}

function number(value: number): string {
  return String(Math.round(value * 100) / 100);
}
