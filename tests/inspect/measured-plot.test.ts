import { describe, expect, it } from 'vitest';
import { parse } from '../../src/base/schema.ts';
import type { MeasuredSpectrum } from '../../src/batch/document.ts';
import { requirement } from '../../src/design/requirement.ts';
import { measuredPlot } from '../../src/inspect/certificate/measured-plot.ts';
import type { PredictedCoating } from '../../src/inspect/predict-coating.ts';

/** A spectrum of invented percents over wavelengths. */
const spectrum = (
  percents: Record<number, number>,
  more: Partial<MeasuredSpectrum> = {},
): MeasuredSpectrum => ({
  ...{ id: 'a', name: 'a.csv', side: 'front', quantity: 'R', incidenceDeg: 0 },
  ...{ wavelengthNm: Object.keys(percents).map(Number), values: Object.values(percents).map((p) => p / 100) },
  ...more,
});
const need = (fields: object) => parse(requirement, { quantity: 'R', statistic: 'max', limit: 1, ...fields });

/** A plan of the same fraction at all wavelengths and the given angles. */
function flatPlan(fraction: number, ...angles: number[]): PredictedCoating {
  const wavelengthNm = Float64Array.of(300, 500, 550, 600, 900);
  const flat = (value: number) => new Float64Array(5).fill(value);
  const mean = { R: flat(fraction), T: flat(1 - fraction), A: flat(0) };
  return { wavelengthNm, curves: angles.map((incidenceDeg) => ({ incidenceDeg, mean })), results: [] };
}

const plotted = (...[quantity, spectra, limits, plan]: Parameters<typeof measuredPlot>) =>
  String(measuredPlot(quantity, spectra, limits, plan));

type Figure = readonly [at: number, value: number];

/** Where the axes end, from two of their figures; the frame lies from 13 to 180.5 mm and from 40 up to 1.5 mm. */
function axesOf(svg: string) {
  const figures = (anchor: string, at: number) =>
    [...svg.matchAll(/<text x="([\d.]+)" y="([\d.]+)" text-anchor="(\w+)">([\d.−]+)<\/text>/g)]
      .filter((found) => found[3] === anchor)
      .map((found) => [Number(found[at]), Number(found[4]!.replace('−', '-'))] as const);
  const line = ([[a, u], [b, v]]: readonly [Figure, Figure], at: number) =>
    u + ((v - u) * (at - a)) / (b - a);
  const x = figures('middle', 1);
  const y = figures('end', 2);
  const [across, up] = [
    [x[0]!, x.at(-1)!],
    [y[0]!, y.at(-1)!],
  ] as const;
  return { x: [line(across, 13), line(across, 180.5)], y: [line(up, 41), line(up, 2.5)] };
}

const near = (found: number[], wanted: readonly [number, number], within: number) => {
  expect(Math.abs(found[0]! - wanted[0])).toBeLessThan(within);
  expect(Math.abs(found[1]! - wanted[1])).toBeLessThan(within);
};

describe('the plot of what was measured', () => {
  it.each<[string, Record<number, number>[], [number, number][], [number, number]]>([
    [
      'all of it where nothing is required',
      [
        { 450: 1, 600: 1 },
        { 400: 1, 550: 1 },
      ],
      [],
      [400, 600],
    ],
    ['a wavelength by itself with 10 nm of air', [{ 550: 1 }], [], [540, 560]],
    ['the band with 8 % of air', [{ 300: 1, 900: 1 }], [[400, 700]], [376, 724]],
    ['a narrow band with 10 nm of air', [{ 300: 1, 900: 1 }], [[500, 600]], [490, 610]],
    ['no more air than was measured', [{ 495: 1, 604: 1 }], [[500, 600]], [495, 604]],
    ['the whole band where less was measured', [{ 520: 1, 580: 1 }], [[500, 600]], [500, 600]],
    [
      'all bands',
      [{ 300: 1, 900: 1 }],
      [
        [600, 700],
        [400, 500],
      ],
      [376, 724],
    ],
    ['a band of one wavelength that was measured alone', [{ 550: 1 }], [[550, 550]], [540, 560]],
  ])('shows %s', (_, measured, bands, range) => {
    const spectra = measured.map((percents) => spectrum(percents));
    const limits = bands.map((bandNm) => need({ bandNm }));
    near(axesOf(plotted('R', spectra, limits, flatPlan(0.005, 0))).x, range, 0.5);
  });

  it.each<[string, 'R' | 'T', Record<number, number>, number[], number, [number, number]]>([
    ['from 0 where the least is under half the most', 'R', { 500: 0.2, 600: 0.9 }, [1], 0.005, [0, 1.08]],
    ['a tenth below what is all high', 'T', { 500: 99, 600: 97.5 }, [97], 0.015, [96.8, 99.2]],
    ['from what is below 0', 'R', { 500: -0.2, 600: 0.9 }, [0.5], 0.005, [-0.2, 1.01]],
    ['the plan too', 'R', { 500: 0.5, 600: 0.6 }, [], 0.02, [0, 2.15]],
    ['the limit too', 'R', { 500: 0.5, 600: 0.6 }, [2], 0.005, [0, 2.15]],
    ['a hundredth about what is one figure', 'T', { 500: 99, 600: 99 }, [99], 0.01, [98.99, 99.01]],
    ['not what lies beside the band', 'R', { 300: 50, 500: 0.2, 600: 0.9, 900: 50 }, [1], 0.005, [0, 1.08]],
  ])('reaches up from %s', (_, quantity, percents, limits, planned, range) => {
    const needed = limits.map((limit) =>
      need({ limit, quantity, bandNm: [500, 600], sense: quantity === 'R' ? 'below' : 'above' }),
    );
    const svg = plotted(quantity, [spectrum(percents, { quantity })], needed, flatPlan(planned, 0));
    near(axesOf(svg).y, range, 0.01 * (range[1] - range[0]));
  });

  it('has the points under their number and angle, over the plan at their angles and the limits of their quantity', () => {
    const spectra = [
      spectrum({ 500: 99, 600: 98 }, { quantity: 'T' }),
      spectrum({ 500: 0.5, 600: 0.6 }),
      spectrum({ 500: 0.7, 550: 0.7, 600: 0.8 }, { incidenceDeg: 25 }),
    ];
    const limits = [
      need({ bandNm: [500, 600] }),
      need({ bandNm: [500, 600], quantity: 'T', sense: 'above' }),
    ];
    const svg = plotted('R', spectra, limits, flatPlan(0.005, 0, 25, 45));
    expect([...svg.matchAll(/class="(dashed|dots|limit)"/g)].map((found) => found[1])).toEqual([
      ...['limit', 'dashed', 'dashed', 'dots', 'dots'],
    ]);
    expect(svg).toContain('aria-label="Reflectance: measured, planned and the limits"');
    for (const words of ['>2, 0°<', '>3, 25°<', '>Wavelength / nm<', '>R / %<']) expect(svg).toContain(words);
    expect(svg).not.toContain('>1, 0°<');
    // From 0.45 to 1.05 %, which is a tenth of air about 0.5 to 1 %, on 38.5 mm; the band is as wide as the frame.
    expect(svg).toContain('class="limit" d="M13 4.71H180.5"');
    expect(svg).toContain('class="wrong" d="M');
    expect(svg).toContain('style="width:182mm;height:50mm"');
    expect(svg.match(/class="dots" d="([^"]*)"/)![1]!.match(/M/g)).toHaveLength(2);
    expect(plotted('T', spectra, limits, flatPlan(0.005, 0))).toContain(
      'aria-label="Transmittance: measured',
    );
    const dark = spectrum({ 500: 1, 600: 2 }, { quantity: 'A' });
    expect(plotted('A', [dark], [], flatPlan(0.005, 0))).toContain('aria-label="Absorptance: measured');
    expect(measuredPlot('A', spectra, limits, flatPlan(0.005, 0))).toBeUndefined();
  });
});
