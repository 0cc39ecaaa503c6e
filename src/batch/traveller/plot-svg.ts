import { fixed } from '../../base/format.ts';
import { type Markup, markup } from '../../base/markup.ts';

/** A curve; gaps are not drawn over. `dots` shows the points themselves, for what was measured. */
export interface PlotCurve {
  /** A word at the curve's right end that tells it from others. */
  readonly tag?: string;
  readonly x: ArrayLike<number>;
  readonly y: ArrayLike<number>;
  readonly style: 'line' | 'dashed' | 'dots';
}

/** A limit over a band: the hatched side is the wrong one. */
export interface PlotLimit {
  readonly from: number;
  readonly to: number;
  readonly limit: number;
  readonly sense: 'below' | 'above';
}

export interface PlotAxis {
  readonly from: number;
  readonly to: number;
  /** What and in which unit; without it the axis has no figures either. */
  readonly title?: string;
}

/** A drawing for paper, black on white, told apart by strokes rather than colours. Sizes in mm. */
export interface Plot {
  readonly widthMm: number;
  readonly heightMm: number;
  /** What a reader who does not see it is told. */
  readonly label: string;
  readonly x: PlotAxis;
  readonly y: PlotAxis;
  readonly curves: readonly PlotCurve[];
  readonly limits?: readonly PlotLimit[];
  /** Points that matter, drawn as full dots. */
  readonly marks?: readonly { readonly x: number; readonly y: number }[];
}

/** Around 4 to 8 intervals are easy to read. */
const MOST_TICKS = 8;
/** Room for the figures at the left and beneath, mm. */
const ROOM = { left: 13, bottom: 10, edge: 1.5 } as const;

/** The plot as SVG whose unit is the millimetre. */
export function plotSvg(plot: Plot): Markup {
  const { widthMm, heightMm, x, y, curves, limits = [], marks = [] } = plot;
  const left = y.title === undefined ? ROOM.edge : ROOM.left;
  const right = widthMm - ROOM.edge;
  const bottom = heightMm - (x.title === undefined ? ROOM.edge : ROOM.bottom);
  const top = ROOM.edge;
  const atX = (value: number) => left + ((value - x.from) / (x.to - x.from)) * (right - left);
  const atY = (value: number) => bottom - ((value - y.from) / (y.to - y.from)) * (bottom - top);
  const inside = (from: number, value: number, to: number) => Math.min(Math.max(value, from), to);
  return markup`<svg class="plot" viewBox="0 0 ${widthMm} ${heightMm}" style="width:${widthMm}mm;height:${heightMm}mm" role="img" aria-label="${plot.label}">
${x.title === undefined ? undefined : markup`${ticksOf(x).map((value) => markup`<path class="grid" d="M${mm(atX(value))} ${top}V${bottom}" /><text x="${mm(atX(value))}" y="${bottom + 3.6}" text-anchor="middle">${tickText(value, x)}</text>`)}<text x="${mm((left + right) / 2)}" y="${heightMm - 1.6}" text-anchor="middle">${x.title}</text>`}
${y.title === undefined ? undefined : markup`${ticksOf(y).map((value) => markup`<path class="grid" d="M${left} ${mm(atY(value))}H${right}" /><text x="${left - 1}" y="${mm(atY(value) + 1)}" text-anchor="end">${tickText(value, y)}</text>`)}<text transform="translate(3 ${mm((top + bottom) / 2)}) rotate(-90)" text-anchor="middle">${y.title}</text>`}
${limits.map(({ from, to, limit, sense }) => {
  const edge = sense === 'below' ? top : bottom;
  const at = inside(top, atY(limit), bottom);
  const [a, b] = [atX(inside(x.from, from, x.to)), atX(inside(x.from, to, x.to))];
  return markup`<path class="wrong" d="${hatching(a, Math.min(at, edge), b, Math.max(at, edge))}" /><path class="limit" d="M${mm(a)} ${mm(at)}H${mm(Math.max(b, a + 0.6))}" />`;
})}
${curves.map(({ x: xs, y: ys, style }) => markup`<path class="${style}" d="${curvePath(xs, ys, { x, y, atX, atY }, style === 'dots')}" />`)}
${curves.map((curve) => tagText(curve, { x, y, atX, atY }))}
${marks.map((mark) => markup`<circle cx="${mm(atX(mark.x))}" cy="${mm(atY(mark.y))}" r="0.9" />`)}
<path class="frame" d="M${left} ${top}V${bottom}H${right}" />
</svg>`;
}

interface Frame {
  readonly x: PlotAxis;
  readonly y: PlotAxis;
  readonly atX: (value: number) => number;
  readonly atY: (value: number) => number;
}

/** The tag above the last point that is within the frame. */
function tagText({ tag, x: xs, y: ys }: PlotCurve, { x, y, atX, atY }: Frame): Markup | undefined {
  if (tag === undefined) return undefined;
  for (let i = xs.length - 1; i >= 0; i--) {
    const [a, b] = [xs[i]!, ys[i]!];
    if (a >= x.from && a <= x.to && b >= y.from && b <= y.to)
      return markup`<text x="${mm(atX(a))}" y="${mm(atY(b) - 1.4)}" text-anchor="end">${tag}</text>`;
  }
  return undefined;
}

/** Pen down within the frame, up where the curve leaves it; a dot is a stroke of no length with round ends. */
function curvePath(
  xs: ArrayLike<number>,
  ys: ArrayLike<number>,
  { x, y, atX, atY }: Frame,
  dots: boolean,
): string {
  const parts: string[] = [];
  let isDown = false;
  for (let i = 0; i < xs.length; i++) {
    const [a, b] = [xs[i]!, ys[i]!];
    const isInside = a >= x.from && a <= x.to && b >= y.from && b <= y.to;
    if (isInside) parts.push(`${isDown && !dots ? 'L' : 'M'}${mm(atX(a))} ${mm(atY(b))}${dots ? 'h0' : ''}`);
    isDown = isInside;
  }
  return parts.join('');
}

/** Slanting strokes, 2 mm apart, cut to a box. */
function hatching(left: number, top: number, right: number, bottom: number): string {
  const parts: string[] = [];
  const height = bottom - top;
  for (let foot = left - height; foot < right; foot += 2) {
    const from = Math.max(foot, left);
    const to = Math.min(foot + height, right);
    if (to > from)
      parts.push(`M${mm(from)} ${mm(bottom - (from - foot))}L${mm(to)} ${mm(bottom - (to - foot))}`);
  }
  return parts.join('');
}

function ticksOf(axis: PlotAxis): number[] {
  const step = stepOf(axis);
  const first = Math.ceil(axis.from / step - 1e-9);
  const last = Math.floor(axis.to / step + 1e-9);
  return Array.from({ length: last - first + 1 }, (_, place) => (first + place) * step);
}

/** 1, 2 or 5 times a power of ten. */
function stepOf({ from, to }: PlotAxis): number {
  const rough = (to - from) / MOST_TICKS;
  const decade = 10 ** Math.floor(Math.log10(rough));
  return decade * ([1, 2, 5].find((factor) => factor * decade >= rough * (1 - 1e-9)) ?? 10);
}

function tickText(value: number, axis: PlotAxis): string {
  return fixed(value, Math.max(0, -Math.floor(Math.log10(stepOf(axis)) + 1e-9)));
}

/** Hundredths of a millimetre are more than any printer shows. */
function mm(value: number): number {
  return Math.round(value * 100) / 100;
}
