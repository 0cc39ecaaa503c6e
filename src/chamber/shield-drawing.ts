import { csvText } from '../base/csv.ts';
import { escapeMarkup } from '../base/markup.ts';
import { type Shield, shieldShape } from './shield.ts';

/** Points along each edge of a drawn sheet. */
const EDGE_POINTS = 80;
const MARGIN_MM = 12;
const CAPTION_MM = 10;

/** A corner of the sheet's outline, mm from the chamber's axis; x along azimuth 0. */
export interface OutlinePoint {
  readonly xMm: number;
  readonly yMm: number;
}

/** Once around the sheet: out along its left edge, back along its right one. */
export function shieldOutline(shield: Shield): OutlinePoint[] {
  const shape = shieldShape(shield);
  const edge = (side: 1 | -1): OutlinePoint[] =>
    Array.from({ length: EDGE_POINTS }, (_, index) => {
      const radius = shape.inner + ((shape.outer - shape.inner) * index) / (EDGE_POINTS - 1);
      const angle = shape.middle + side * shape.halfAngleAt(radius);
      return { xMm: radius * Math.cos(angle), yMm: radius * Math.sin(angle) };
    });
  return [...edge(1), ...edge(-1).reverse()];
}

/** The outline as delimited text for a cutting machine; decimal points, lines ended by CR LF (RFC 4180). */
export function shieldCsv(shield: Shield): string {
  return csvText(
    ['point', 'x_mm', 'y_mm', 'height_mm'],
    shieldOutline(shield).map(({ xMm, yMm }, index) => [
      index + 1,
      figure(xMm),
      figure(yMm),
      figure(shield.heightMm),
    ]),
  );
}

/**
 * The sheet from above to scale, its middle line to the right: an SVG whose user unit is 1 mm and whose size is given in
 * mm. The cross is the chamber's axis, from which the sheet is set up; a 50 mm bar proves the print.
 */
export function shieldSvg(shield: Shield, title: string): string {
  const around = shieldOutline({ ...shield, azimuthDeg: 0 });
  const xs = [0, ...around.map(({ xMm }) => xMm)];
  const ys = [0, ...around.map(({ yMm }) => -yMm)];
  const left = Math.min(...xs) - MARGIN_MM;
  const top = Math.min(...ys) - MARGIN_MM;
  const width = Math.max(Math.max(...xs) + MARGIN_MM - left, 50 + 2 * MARGIN_MM);
  const bottom = Math.max(...ys) + MARGIN_MM;
  const height = bottom - top + 2 * CAPTION_MM;
  const path = around.map(({ xMm, yMm }) => `${figure(xMm)} ${figure(-yMm)}`).join('L');
  const barAt = left + MARGIN_MM;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${figure(width)}mm" height="${figure(height)}mm" viewBox="${figure(left)} ${figure(top)} ${figure(width)} ${figure(height)}" role="img">`,
    `<title>${escapeMarkup(title)}</title>`,
    '<style>path{fill:none;stroke:#000;stroke-width:.25}.middle{stroke-dasharray:6 1 1 1}text{font:4px sans-serif}</style>',
    `<path d="M${path}Z"/>`,
    `<path class="middle" d="M0 0H${figure(Math.max(...xs))}"/><path d="M-5 0H5M0-5V5"/>`,
    `<path d="M${figure(barAt)} ${figure(bottom)}v-2v4v-2h50v-2v4"/>`,
    `<text x="${figure(barAt)}" y="${figure(bottom + 7)}">50 mm · ${escapeMarkup(title)}</text>`,
    `<text x="${figure(barAt)}" y="${figure(bottom + 13)}">hangs level at ${figure(shield.heightMm)} mm; cross: the machine's axis; dashed: the middle line, at ${figure(shield.azimuthDeg)}°</text>`,
    '</svg>',
  ].join('\n');
}

/** A length with at most 1 µm, without trailing zeros. */
function figure(value: number): string {
  return String(Number(value.toFixed(3)) + 0);
}
