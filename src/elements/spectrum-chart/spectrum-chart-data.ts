import type { ChartAxis, Dash, LimitZone, LineSeries } from '../line-chart/line-chart-data.ts';
import type { ColourToken } from '../tokens/token-names.ts';

/** One spectral curve; values are fractions (0..1), shown in per cent. */
export interface SpectrumCurve {
  readonly name: string;
  readonly wavelengthNm: ArrayLike<number>;
  readonly values: ArrayLike<number>;
  /** Lower edge of a band (a percentile, say) whose upper edge is `values`. */
  readonly lower?: ArrayLike<number>;
  readonly colour?: ColourToken;
  readonly dash?: Dash;
  readonly ghost?: boolean;
  readonly points?: boolean;
}

/** A requirement's limit as the chart shows it. */
export interface SpectrumLimit {
  readonly quantity: 'R' | 'T' | 'A';
  readonly statistic?: 'mean' | 'max' | 'min';
  readonly sense: 'below' | 'above';
  readonly limitPercent: number;
  /** Both ends; equal for a single wavelength. */
  readonly bandNm: readonly [number, number];
  readonly met: boolean;
  /** In place of the name that is made from the numbers. */
  readonly name?: string;
}

export const WAVELENGTH_AXIS: ChartAxis = { title: 'Wavelength', unit: 'nm' };

const QUANTITY = { R: 'Reflectance', T: 'Transmittance', A: 'Absorptance' } as const;

/** The axis of a quantity in per cent. */
export function percentAxis(
  quantity: 'R' | 'T' | 'A',
  log: boolean,
  maxPercent: number | undefined,
): ChartAxis {
  const base = { title: QUANTITY[quantity], unit: '%' };
  const from = log ? { log } : { min: 0 };
  return { ...base, ...from, ...(maxPercent === undefined ? {} : { max: maxPercent }) };
}

/** A curve in per cent. Not above zero is a gap on a logarithmic scale, which has no place for it. */
export function percentSeries(curve: SpectrumCurve, log: boolean): LineSeries {
  const percent = (values: ArrayLike<number>) =>
    Float64Array.from(values, (value) => (log && value <= 0 ? Number.NaN : 100 * value));
  const { wavelengthNm, values, lower, ...rest } = curve;
  const edge = lower === undefined ? {} : { lower: percent(lower) };
  return { ...rest, x: wavelengthNm, y: percent(values), ...edge };
}

/** The hatched zone of a limit, named as a sentence in numbers. */
export function limitZone(limit: SpectrumLimit): LimitZone {
  const [from, to] = limit.bandNm;
  const where = from === to ? `${from} nm` : `${from} to ${to} nm`;
  const sign = limit.sense === 'below' ? '≤' : '≥';
  const name =
    limit.name ?? `${limit.quantity} ${limit.statistic ?? ''} ${sign} ${limit.limitPercent} %, ${where}`;
  return {
    name: name.replace(/\s+/g, ' '),
    from,
    to,
    limit: limit.limitPercent,
    sense: limit.sense,
    met: limit.met,
  };
}
