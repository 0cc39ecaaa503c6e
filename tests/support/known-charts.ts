import { batchAsRun, coatingAsRun } from '../../src/batch/run-planned.ts';
import { figureText, placeText } from '../../src/elements/line-chart/figure-text.ts';
import { controlChart } from '../../src/inspect/control-chart.ts';
import { asPlanned, type LayerFactors, predictCoating, reachOf } from '../../src/inspect/predict-coating.ts';
import { toolingHistories } from '../../src/inspect/tooling-history.ts';
import type { ShownChart } from './charts-shown.ts';
import type { Computed, TracedStation } from './known-figures.ts';
import { CHEMISTS } from './known-inspect.ts';

/** A curve as the engine has it, under the heading of its column with the unit of its values. */
interface KnownCurve {
  readonly heading: string;
  readonly x: ArrayLike<number>;
  readonly y: ArrayLike<number>;
}

/** A chart as it must be: its axis with the unit, its curves, the digits of its figures. */
export interface KnownChart {
  readonly label: string;
  readonly axis: string;
  readonly digits?: number;
  readonly curves: readonly KnownCurve[];
  /** What places on the axis are called, where it is not their figure. */
  readonly nameOf?: (x: number) => string;
}

const WAVELENGTH = 'Wavelength / nm';

/** The charts of a station with the engine's values; front side shown. */
export function chartsAt(station: TracedStation, computed: Computed): KnownChart[] {
  switch (station) {
    case 'order':
      return [];
    case 'stack':
      return ofStack(computed);
    case 'load':
      return ofLoad(computed);
    case 'run':
      return [ofPressure(computed)];
    case 'monitor':
      return [ofSignal(computed)];
    case 'inspect':
      return [...ofMeasured(computed), ...ofControlCharts(computed)];
  }
}

/** How the charts that are shown differ from those that are known: figures, headings and charts that only one side has. */
export function chartFaults(shown: readonly ShownChart[], known: readonly KnownChart[]): string[] {
  const [labels, wanted] = [shown, known].map((charts) => charts.map(({ label }) => label).join('; '));
  if (labels !== wanted) return [`shown: ${labels}; known: ${wanted}`];
  return known.flatMap((chart, at) => faultsOf(shown[at]!, chart).slice(0, 3));
}

function faultsOf(
  { headings, rows }: ShownChart,
  { label, axis, digits = 4, curves, nameOf = placeText }: KnownChart,
): string[] {
  const wanted = [axis, ...curves.map(({ heading }) => heading)].join('; ');
  if (headings.join('; ') !== wanted) return [`${label}: ${headings.join('; ')}; known: ${wanted}`];
  const byPlace = new Map(rows.map(([place, ...figures]) => [place, figures]));
  return curves.flatMap(({ heading, x, y }, column) =>
    Array.from(x, (at, i) => {
      const found = byPlace.get(nameOf(at))?.[column];
      const right = figureText(y[i], digits);
      return found === right ? '' : `${label}, ${heading} at ${nameOf(at)}: ${found}, known ${right}`;
    }).filter((fault) => fault !== ''),
  );
}

const percentOf = (values: ArrayLike<number>) => Array.from(values, (value) => 100 * value);

function ofStack({ batch, plan, offAxis }: Computed): KnownChart[] {
  const { wavelengthNm, curves } = plan.surfaces[0]!;
  return [
    {
      label: 'Spectrum of the coated surface',
      axis: WAVELENGTH,
      curves: curves.map(({ incidenceDeg, mean }) => ({
        heading: `R at ${incidenceDeg}° / %`,
        x: wavelengthNm,
        y: percentOf(mean.R),
      })),
    },
    {
      label: 'Required values over the angle of incidence',
      axis: 'Angle of incidence / °',
      curves: batch.surfaces.front.requirements.map(({ quantity, statistic, bandNm: [from, to] }, at) => ({
        heading: `${quantity} ${statistic}, ${from}–${to} nm / %`,
        x: offAxis.overAngle.map(({ incidenceDeg }) => incidenceDeg),
        y: offAxis.overAngle.map(({ results }) => results[at]!.value),
      })),
    },
  ];
}

function ofLoad({ plan, places }: Computed): KnownChart[] {
  const { materials } = plan.distributions[0]!;
  const film = (course: 'rack' | 'lens') =>
    materials.map((spread) => ({
      heading: `${spread.label} / %`,
      x: spread[course].radiusMm,
      y: percentOf(spread[course].relative),
    }));
  const [front] = places.curves;
  return [
    { label: 'Film over the rack', axis: "From the rack's axis / mm", digits: 5, curves: film('rack') },
    {
      label: 'Film over the lens, front',
      axis: "From the lens's centre, outwards on the rack / mm",
      digits: 5,
      curves: film('lens'),
    },
    {
      label: `Reflectance on four places, front, at ${front!.incidenceDeg}°`,
      axis: WAVELENGTH,
      curves: front!.curves.map(({ name, R }) => ({
        heading: `${name} / %`,
        x: front!.wavelengthNm,
        y: percentOf(R),
      })),
    },
  ];
}

function ofPressure({ plan }: Computed): KnownChart {
  const { timeS, pressurePa } = plan.runs[0]!.pressure;
  return {
    label: 'Pressure while pumping',
    axis: 'Time of pumping / min',
    digits: 3,
    curves: [
      {
        heading: 'pressure / mbar',
        x: Array.from(timeS, (seconds) => seconds / 60),
        y: Array.from(pressurePa, (pascals) => pascals / 100),
      },
    ],
  };
}

/** The layers' traces end to end; where one layer ends and the next begins on the same witness, the level is the same. */
function ofSignal({ plan }: Computed): KnownChart {
  let from = 0;
  const [x, y]: [number[], number[]] = [[], []];
  for (const { trace, thicknessNm } of plan.runs[0]!.cuts) {
    x.push(...Array.from(trace.thicknessNm, (nm) => from + nm));
    y.push(...percentOf(trace.level));
    from += thicknessNm;
  }
  return {
    label: 'Predicted signal of the witness',
    axis: 'Thickness on the lens / nm',
    curves: [{ heading: 'Reflected signal / %', x, y }],
  };
}

function ofMeasured({ batch, inspected }: Computed): KnownChart[] {
  const { spectra = [] } = batch.runs.at(-1) ?? {};
  const { aimPercent = 0 } = batch.process;
  const surface = inspected === undefined ? batch.surfaces.front : coatingAsRun(batch, inspected.run);
  const asRun = inspected === undefined ? batch : batchAsRun(batch, inspected.run);
  const planned = predictCoating(asRun, surface, asPlanned(surface), reachOf(spectra));
  const measured = spectra.map(({ name, wavelengthNm, values }) => ({
    heading: `${name} / %`,
    x: wavelengthNm,
    y: percentOf(values),
  }));
  const chart = {
    label: 'Measured, planned and as built',
    axis: WAVELENGTH,
    curves: [
      ...planned.curves.map(({ incidenceDeg, mean }) => ({
        heading: `planned${aimPercent === 0 ? '' : ' with the aim,'} at ${incidenceDeg}° / %`,
        x: planned.wavelengthNm,
        y: percentOf(mean.R),
      })),
      ...measured,
    ],
  };
  if (inspected === undefined) return [chart];
  const { spectrum, fit, uncorrected, corrected } = inspected;
  const next = (name: string, factors: readonly LayerFactors[]): KnownCurve => {
    const { curves, wavelengthNm } = predictCoating(
      batch,
      batch.surfaces.front,
      factors,
      reachOf([spectrum]),
    );
    return { heading: `${name}, at 0° / %`, x: wavelengthNm, y: percentOf(curves[0]!.mean.R) };
  };
  const { name, wavelengthNm, values } = spectrum;
  return [
    {
      ...chart,
      curves: [
        ...chart.curves,
        {
          heading: `as built, fitted to ${name} / %`,
          x: wavelengthNm,
          y: percentOf(values.map((value, at) => value - fit.residual[at]!)),
        },
      ],
    },
    {
      label: 'Residuals of the as-built fit',
      axis: WAVELENGTH,
      curves: [{ heading: 'measured less as-built / %', x: wavelengthNm, y: percentOf(fit.residual) }],
    },
    {
      label: 'The next run as expected',
      axis: WAVELENGTH,
      curves: [
        next('planned', asPlanned(batch.surfaces.front)),
        next('next run, uncorrected', uncorrected),
        next('next run, corrected', corrected),
        measured[0]!,
      ],
    },
  ];
}

function ofControlCharts({ batch, shelf }: Computed): KnownChart[] {
  const others = shelf.filter(({ id, runs }) => id !== batch.id && runs.length > 0);
  const isJoint = others.length > 0;
  return toolingHistories([batch, ...others]).flatMap(
    ({ material, source, sensor, points }): KnownChart[] => {
      const title = `${CHEMISTS[material]} from ${source}, ${sensor} tooling`;
      const found = points.map(({ tooling }) => tooling);
      const x = points.map(({ run }, at) => (isJoint ? at + 1 : run));
      const nameOf = (at: number) => {
        const { lot, run } = points[x.indexOf(at)]!;
        return isJoint ? `lot ${lot}, run ${run}` : `run ${run}`;
      };
      const { centre, lower, upper, meanRange, upperRange } = controlChart(found)!;
      const level = (heading: string, value: number, at = x) => ({ heading, x: at, y: at.map(() => value) });
      const shared = { axis: isJoint ? 'Run, in the order of their start' : 'Run', nameOf };
      const later = x.slice(1);
      return [
        {
          ...shared,
          label: `Control chart of individuals: ${title}`,
          digits: 5,
          curves: [
            { heading: 'tooling found', x, y: found },
            { heading: 'from run to run', x, y: found },
            level('centre', centre),
            level('lower limit', lower),
            level('upper limit', upper),
          ],
        },
        {
          ...shared,
          label: `Control chart of moving ranges: ${title}`,
          digits: 4,
          curves: [
            {
              heading: 'moving range',
              x: later,
              y: found.slice(1).map((tooling, at) => Math.abs(tooling - found[at]!)),
            },
            level('mean range', meanRange, later),
            level('upper limit', upperRange, later),
          ],
        },
      ];
    },
  );
}
