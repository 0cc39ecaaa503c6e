import '../../src/elements/spectrum-chart/cw-spectrum-chart.ts';

export default {
  tag: 'cw-spectrum-chart',
  says: 'Spectra against their limits. Drag over a stretch to zoom, point or use the arrow keys to read out.',
  listens: ['cw-chart-cursor', 'cw-chart-view'],
  code: `
const wavelengthNm = Float64Array.from({ length: 301 }, (_, i) => 400 + i);
const lobes = (shift, rise) => wavelengthNm.map((nm) =>
  0.0006 + 0.0022 * Math.sin((nm - shift) / 38) ** 2 + rise * ((nm - 545) / 130) ** 8);
element.label = 'Front surface';
element.curves = [
  { name: 'R at 0°', wavelengthNm, values: lobes(470, 0.0008) },
  { name: 'R at 25°', wavelengthNm, values: lobes(455, 0.0013), dash: 'dashed' },
  { name: 'R at 0°', wavelengthNm, values: lobes(480, 0.0009), ghost: true },
  { name: 'nine runs of ten', wavelengthNm, colour: 'curve-1',
    lower: lobes(470, 0.0008).map((r) => r * 0.7), values: lobes(470, 0.0008).map((r) => r * 1.35 + 0.0003) },
];
element.limits = [
  { quantity: 'R', statistic: 'max', sense: 'below', limitPercent: 0.4, bandNm: [430, 670], met: true },
  { quantity: 'R', statistic: 'max', sense: 'below', limitPercent: 0.25, bandNm: [540, 560], met: false },
];
element.maxPercent = 1;`,
};
