import type { Markup } from '../../base/markup.ts';
import type { MeasuredSpectrum } from '../../batch/document.ts';
import { type PlotCurve, plotSvg } from '../../batch/traveller/plot-svg.ts';
import type { Requirement } from '../../design/requirement.ts';
import type { PredictedCoating } from '../predict-coating.ts';

const WORDS = { R: 'Reflectance', T: 'Transmittance', A: 'Absorptance' } as const;
/** The band of the requirements with a little air on both sides. */
const AIR = 0.08;

/** Measured points over the planned curves and the limits, for one quantity; undefined where nothing of it was measured. */
export function measuredPlot(
  quantity: 'R' | 'T' | 'A',
  spectra: readonly MeasuredSpectrum[],
  requirements: readonly Requirement[],
  plan: PredictedCoating,
): Markup | undefined {
  const shown = spectra
    .map((spectrum, place) => ({ ...spectrum, number: place + 1 }))
    .filter((spectrum) => spectrum.quantity === quantity);
  if (shown.length === 0) return undefined;
  const limits = requirements.filter((requirement) => requirement.quantity === quantity);
  const [from, to] = rangeNm(shown, limits);
  const measured = shown.map(
    ({ number, incidenceDeg, wavelengthNm, values }): PlotCurve => ({
      tag: `${number}, ${incidenceDeg}°`,
      x: wavelengthNm,
      y: values.map((value) => 100 * value),
      style: 'dots',
    }),
  );
  const angles = new Set(shown.map(({ incidenceDeg }) => incidenceDeg));
  const planned = plan.curves
    .filter(({ incidenceDeg }) => angles.has(incidenceDeg))
    .map(
      ({ mean }): PlotCurve => ({
        x: plan.wavelengthNm,
        y: mean[quantity].map((value) => 100 * value),
        style: 'dashed',
      }),
    );
  const inside = [...measured, ...planned].flatMap(({ x, y }) =>
    Array.from(y).filter((_, place) => x[place]! >= from && x[place]! <= to),
  );
  const figures = [...inside, ...limits.map(({ limit }) => limit)];
  const least = Math.min(...figures);
  const most = Math.max(...figures);
  const air = 0.1 * Math.max(most - least, 0.1);
  return plotSvg({
    widthMm: 182,
    heightMm: 50,
    label: `${WORDS[quantity]}: measured, planned and the limits`,
    x: { from, to, title: 'Wavelength / nm' },
    y: {
      from: least < 0.5 * most ? Math.min(0, least) : least - air,
      to: most + air,
      title: `${quantity} / %`,
    },
    curves: [...planned, ...measured],
    limits: limits.map(({ bandNm, limit, sense }) => ({ from: bandNm[0], to: bandNm[1], limit, sense })),
  });
}

/** What was measured, cut to the requirements' bands where there are any. */
function rangeNm(spectra: readonly MeasuredSpectrum[], limits: readonly Requirement[]): [number, number] {
  const ends = (all: readonly number[][]): [number, number] => [
    Math.min(...all.map(([first]) => first!)),
    Math.max(...all.map((list) => list.at(-1)!)),
  ];
  const [least, most] = ends(spectra.map(({ wavelengthNm }) => wavelengthNm));
  if (limits.length === 0) return widened(least, most);
  const [from, to] = ends(limits.map(({ bandNm }) => [...bandNm]));
  const air = Math.max(AIR * (to - from), 10);
  return widened(Math.max(from - air, Math.min(least, from)), Math.min(to + air, Math.max(most, to)));
}

/** A single wavelength is shown with its neighbourhood. */
function widened(from: number, to: number): [number, number] {
  return to > from ? [from, to] : [from - 10, to + 10];
}
