import type { ChartAxis, ChartMarker, LineSeries } from '../../../elements/line-chart/line-chart-data.ts';
import { hasExtinction } from '../../../materials/material-curves.ts';
import { sampleMaterial } from '../../../materials/material-list.ts';
import type { MaterialRecord } from '../../../materials/record.ts';

/** A stretch of wavelengths in nm. */
export type Stretch = readonly [from: number, to: number];

const POINTS = 401;
/** What is charted first where the data reach that far. */
const USUAL_NM: Stretch = [380, 1100];
/** An extinction that changes by more than this factor is drawn on a logarithmic scale. */
const LOG_FROM = 50;
/** Below this, k is nothing that a film shows: a layer of 1 µm absorbs less than 1e-7 of green light. */
const LEAST_K = 1e-8;

/** The stretch that a chart of these materials shows: all of their data, or the usual part of it. */
export function stretchOf(records: readonly MaterialRecord[], isWhole: boolean): Stretch {
  const from = Math.min(...records.map(({ rangeNm }) => rangeNm[0]));
  const to = Math.max(...records.map(({ rangeNm }) => rangeNm[1]));
  if (isWhole) return [from, to];
  const [start, end] = [Math.max(from, USUAL_NM[0]), Math.min(to, USUAL_NM[1])];
  return start < end ? [start, end] : [from, to];
}

/** n of each material as far as its data reach within the stretch; a single wavelength is a dot. */
export function indexSeries(records: readonly MaterialRecord[], stretch: Stretch): LineSeries[] {
  return records.flatMap((record) => {
    const part = partOf(record, stretch);
    return part === undefined ? [] : [seriesOf(record, part, 'n', (value) => value)];
  });
}

/** k of the materials over a stretch, and the scale that shows it best; no series where nothing of k is seen. */
export interface ExtinctionPicture {
  readonly series: readonly LineSeries[];
  readonly axis: ChartAxis;
  /** What the curves do not say: k taken as 0, or too small to show. */
  readonly notes: readonly string[];
}

/** The extinction as a chart shows it: on a logarithmic scale where it spans decades. */
export function extinctionPicture(records: readonly MaterialRecord[], stretch: Stretch): ExtinctionPicture {
  const parts = records.flatMap((record) => {
    const part = partOf(record, stretch);
    if (part === undefined) return [];
    const { k } = sampleMaterial(record, ...ends(part), POINTS);
    return [{ record, part, k, most: k.reduce((a, b) => Math.max(a, b)) }];
  });
  const seen = parts.filter(({ most }) => most >= LEAST_K);
  const values = seen.flatMap(({ k }) => [...k].filter((value) => value >= LEAST_K));
  const [least, most] = [Math.min(...values), Math.max(...values)];
  const log = values.length > 0 && most / least > LOG_FROM;
  const shown = (value: number) => (log && value < LEAST_K ? Number.NaN : value);
  return {
    series: seen.map(({ record, part }) => seriesOf(record, part, 'k', shown)),
    axis: log
      ? {
          title: 'Extinction k',
          unit: '',
          log,
          min: 10 ** Math.floor(Math.log10(least)),
          max: 10 ** Math.ceil(Math.log10(most)),
        }
      : { title: 'Extinction k', unit: '', min: 0 },
    notes: parts
      .filter(({ most: top }) => top < LEAST_K)
      .map(({ record, most: top }) => faintNote(record, top)),
  };
}

/** Where the data of a material end within what is shown. */
export function endMarkers(records: readonly MaterialRecord[], [from, to]: Stretch): ChartMarker[] {
  return records
    .flatMap(({ rangeNm }) => [...rangeNm])
    .filter((edge) => edge > from && edge < to)
    .map((x) => ({ kind: 'boundary', x }));
}

function faintNote(record: MaterialRecord, most: number): string {
  if (!hasExtinction(record)) return `The data of ${record.name} say nothing of k; it is taken as 0.`;
  return most === 0
    ? `k of ${record.name} is 0 over this stretch.`
    : `k of ${record.name} stays below 1e-8 over this stretch.`;
}

/** The part of a stretch that a material's data reach, undefined where there is none. */
function partOf({ rangeNm }: MaterialRecord, [from, to]: Stretch): Stretch | undefined {
  const [start, end] = [Math.max(from, rangeNm[0]), Math.min(to, rangeNm[1])];
  return start <= end ? [start, end] : undefined;
}

/** Two ends to sample between; one wavelength alone is widened by what no eye sees. */
function ends([from, to]: Stretch): [number, number] {
  return from < to ? [from, to] : [from, from * (1 + 1e-9)];
}

function seriesOf(
  record: MaterialRecord,
  part: Stretch,
  column: 'n' | 'k',
  shown: (value: number) => number,
): LineSeries {
  const curve = sampleMaterial(record, ...ends(part), POINTS);
  return {
    name: `${column} of ${record.name}`,
    x: curve.wavelengthNm,
    y: curve[column].map(shown),
    ...(part[0] === part[1] ? { points: true } : {}),
  };
}
