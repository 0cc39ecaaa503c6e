import { requireWithin } from '../base/errors.ts';
import type { KeepOut, Place } from './place.ts';

/** What a drilling picture shows, all in mm. */
export interface RackDrawing {
  readonly title: string;
  readonly rackDiameterMm: number;
  readonly rimMm: number;
  readonly part: { readonly diameterMm: number } | { readonly widthMm: number; readonly heightMm: number };
  readonly positions: readonly Place[];
  readonly keepOut?: readonly KeepOut[];
}

const MARGIN_MM = 12;
const CAPTION_MM = 10;

/**
 * The rack as a drilling picture: an SVG whose user unit is 1 mm and whose size is given in mm, so that it prints
 * to scale; each place has its centre cross and number (as in `positionsCsv`), a 50 mm bar proves the print.
 * @throws InputError for a rack outside its range.
 */
export function drillingSvg(drawing: RackDrawing): string {
  const { title, rackDiameterMm, rimMm, part, positions, keepOut = [] } = drawing;
  requireWithin('rackDiameterMm', rackDiameterMm, 'mm', { above: 0, max: 5000 });
  const radius = rackDiameterMm / 2;
  const width = rackDiameterMm + 2 * MARGIN_MM;
  const height = width + 2 * CAPTION_MM;
  const smallest = 'diameterMm' in part ? part.diameterMm : Math.min(part.widthMm, part.heightMm);
  const letter = figure(Math.min(6, smallest / 3));
  const cross = figure(Math.min(3, smallest / 6));
  const places = positions.map(({ xMm, yMm, angleDeg }, index) => {
    const outline =
      'diameterMm' in part
        ? `<circle r="${figure(part.diameterMm / 2)}"/>`
        : `<rect x="${figure(-part.widthMm / 2)}" y="${figure(-part.heightMm / 2)}" width="${figure(part.widthMm)}" height="${figure(part.heightMm)}" transform="rotate(${figure(-angleDeg)})"/>`;
    return `<g transform="translate(${figure(xMm)} ${figure(-yMm)})">${outline}<path d="M-${cross} 0H${cross}M0 -${cross}V${cross}"/><text y="${figure(Number(letter) * 1.4)}">${index + 1}</text></g>`;
  });
  const zones = keepOut.map(
    ({ xMm, yMm, diameterMm }) =>
      `<circle class="zone" cx="${figure(xMm)}" cy="${figure(-yMm)}" r="${figure(diameterMm / 2)}"/>`,
  );
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${figure(width)}mm" height="${figure(height)}mm" viewBox="${figure(-width / 2)} ${figure(-width / 2)} ${figure(width)} ${figure(height)}" role="img">`,
    `<title>${escaped(title)}</title>`,
    `<style>circle,rect,path{fill:none;stroke:#000;stroke-width:.25}.rim{stroke-dasharray:2 1}.zone{fill:#ddd}text{font:${letter}px sans-serif;text-anchor:middle}.caption{font-size:4px;text-anchor:start}</style>`,
    `<circle r="${figure(radius)}"/>`,
    `<circle class="rim" r="${figure(Math.max(0, radius - rimMm))}"/>`,
    ...zones,
    ...places,
    `<path d="M${figure(-radius)} ${figure(width / 2)}v-2v4v-2h50v-2v4"/>`,
    `<text class="caption" x="${figure(-radius)}" y="${figure(width / 2 + 7)}">50 mm · ${escaped(title)} · ${positions.length} places · rack ${figure(rackDiameterMm)} mm</text>`,
    '</svg>',
  ].join('\n');
}

/**
 * The positions as delimited text for a drilling machine: number, x, y (mm from the rack's centre, y up) and the
 * turn in degrees; decimal points, lines ended by CR LF (RFC 4180).
 */
export function positionsCsv(positions: readonly Place[]): string {
  const lines = positions.map(
    ({ xMm, yMm, angleDeg }, index) => `${index + 1},${xMm.toFixed(4)},${yMm.toFixed(4)},${figure(angleDeg)}`,
  );
  return `${['place,x_mm,y_mm,angle_deg', ...lines].join('\r\n').replaceAll('-0.0000', '0.0000')}\r\n`;
}

/** A length with at most 0.1 µm, without trailing zeros. */
function figure(value: number): string {
  return String(Number(value.toFixed(4)) + 0);
}

function escaped(text: string): string {
  return text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;');
}
