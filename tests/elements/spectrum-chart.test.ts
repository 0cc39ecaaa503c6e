import { beforeEach, describe, expect, it } from 'vitest';
import '../../src/elements/spectrum-chart/cw-spectrum-chart.ts';
import type { LineChartElement } from '../../src/elements/line-chart/line-chart-element.ts';
import type { SpectrumChartElement } from '../../src/elements/spectrum-chart/spectrum-chart-element.ts';
import { drawn, expectAccessible, press, stage, within } from './support/stage.ts';

const wavelengthNm = Float64Array.from({ length: 281 }, (_, i) => 400 + i);
const curve = (shift: number) =>
  wavelengthNm.map((nm) => 0.0005 + 0.004 * Math.sin((nm - shift) / 40) ** 2 + ((nm - 550) / 4000) ** 2);
const curves = [
  { name: 'R, 0°', wavelengthNm, values: curve(520) },
  { name: 'R, 25°', wavelengthNm, values: curve(505), dash: 'dashed' as const },
  { name: 'R, 0°', wavelengthNm, values: curve(530), ghost: true },
];
const limits = [
  {
    quantity: 'R' as const,
    statistic: 'max' as const,
    sense: 'below' as const,
    limitPercent: 0.4,
    bandNm: [430, 670] as const,
    met: false,
  },
  {
    quantity: 'T' as const,
    sense: 'above' as const,
    limitPercent: 99,
    bandNm: [430, 670] as const,
    met: true,
  },
];

let chart: SpectrumChartElement;
let inner: LineChartElement;
let plot: HTMLElement;

beforeEach(async () => {
  chart = await stage('cw-spectrum-chart', { curves, limits, label: 'Front surface' });
  inner = within<LineChartElement>(chart, 'cw-line-chart');
  plot = within(inner, '.plot');
});

const text = (selector: string) => within(inner, selector).textContent?.replace(/\s+/g, ' ').trim() ?? '';

/** Colours found on the canvas, as "r,g,b". */
function inks(): Set<string> {
  const canvas = within<HTMLCanvasElement>(inner, 'canvas');
  const { data } = canvas.getContext('2d')!.getImageData(0, 0, canvas.width, canvas.height);
  const found = new Set<string>();
  for (let i = 0; i < data.length; i += 4)
    if (data[i + 3] === 255) found.add(`${data[i]},${data[i + 1]},${data[i + 2]}`);
  return found;
}

function pointer(type: string, x: number, more: PointerEventInit = {}): void {
  const box = plot.getBoundingClientRect();
  plot.dispatchEvent(
    new PointerEvent(type, {
      clientX: box.left + x,
      clientY: box.top + 80,
      pointerType: 'mouse',
      pointerId: 1,
      bubbles: true,
      ...more,
    }),
  );
}

describe('cw-spectrum-chart', () => {
  it('is accessible in every theme, its table shown too', async () => {
    const some = (values: Float64Array) => values.filter((_, place) => place % 20 === 0);
    chart.curves = curves.map((one) => ({
      ...one,
      wavelengthNm: some(one.wavelengthNm),
      values: some(one.values),
    }));
    within(inner, 'button[aria-pressed]').click();
    await drawn(chart);
    expect(inner.shadowRoot?.querySelectorAll('tbody tr')).toHaveLength(15);
    await expectAccessible(chart);
  });

  it('draws lines and points in the colours of the theme and follows its change', async () => {
    chart.curves = [curves[0]!, { ...curves[0]!, values: curve(600), points: true }];
    await drawn(inner);
    expect(inks().has('31,78,121')).toBe(true);
    expect(inks().has('160,63,36')).toBe(true);
    document.documentElement.dataset.theme = 'dark';
    await new Promise((done) => setTimeout(done, 30));
    await drawn(inner);
    expect(inks().has('31,78,121')).toBe(false);
    expect(inks().has('130,181,232')).toBe(true);
    expect(inks().has('160,63,36')).toBe(false);
    expect(inks().has('234,157,128')).toBe(true);
  });

  it('is drawn in ink for paper while the page is printed', async () => {
    document.documentElement.dataset.theme = 'dark';
    dispatchEvent(new Event('beforeprint'));
    await drawn(inner);
    expect(inks().has('18,54,90')).toBe(true);
    dispatchEvent(new Event('afterprint'));
    await drawn(inner);
    expect(inks().has('18,54,90')).toBe(false);
  });

  it('grows its type with the token for text, to be read from afar', async () => {
    const axisAt = () => Number(/text x="([\d.]+)"[^>]*text-anchor="end"/.exec(chart.toSvg())![1]);
    const before = axisAt();
    chart.style.setProperty('--cw-size-text', '2rem');
    chart.curves = [...curves];
    await drawn(chart);
    expect(axisAt()).toBeGreaterThan(before * 1.4);
  });

  it('says the lowest and highest value while nothing is pointed at', () => {
    expect(plot.getAttribute('aria-valuetext')).toMatch(
      /^R, 0° from 0\.\d+ % at \d{3} nm to \d\.\d+ % at \d{3} nm;/,
    );
  });

  it('names its limits with their verdicts and leaves those of other quantities out', () => {
    expect(text('.readout .missed')).toBe('✕ R max ≤ 0.4 %, 430 to 670 nm, missed');
    expect(inner.shadowRoot?.querySelectorAll('.readout .met').length).toBe(0);
  });

  it('reads out by keyboard, sample by sample', async () => {
    const heard: (number | undefined)[] = [];
    chart.addEventListener('cw-chart-cursor', (event) => heard.push(event.x));
    press(plot, 'Home');
    press(plot, 'ArrowRight');
    press(plot, 'ArrowRight', { shiftKey: true });
    await drawn(inner);
    expect(heard).toEqual([400, 401, 411]);
    expect(text('.place')).toBe('411 nm');
    expect(plot.getAttribute('aria-valuenow')).toBe('411');
    expect(within(inner, '.crosshair').hidden).toBe(false);
    press(plot, 'Escape');
    await drawn(inner);
    expect(within(inner, '.crosshair').hidden).toBe(true);
  });

  it('reads out by mouse and by touch', async () => {
    pointer('pointermove', 300);
    await drawn(inner);
    const byMouse = inner.cursor!;
    expect(byMouse).toBeGreaterThan(450);
    expect(byMouse).toBeLessThan(680);
    pointer('pointerleave', 300);
    expect(inner.cursor).toBeUndefined();
    pointer('pointerdown', 300, { pointerType: 'touch' });
    await drawn(inner);
    expect(inner.cursor).toBe(byMouse);
  });

  it('zooms into a stretch that is dragged over, and back on a double click', async () => {
    const views: unknown[] = [];
    chart.addEventListener('cw-chart-view', (event) => views.push(event.view));
    pointer('pointerdown', 200);
    pointer('pointermove', 330);
    expect(within(inner, '.marquee').hidden).toBe(false);
    pointer('pointerup', 330);
    await drawn(inner);
    expect(inner.view!.max - inner.view!.min).toBeGreaterThan(20);
    expect(inner.view!.max - inner.view!.min).toBeLessThan(200);
    plot.dispatchEvent(new MouseEvent('dblclick'));
    await drawn(inner);
    expect(inner.view).toBeUndefined();
    expect(views.length).toBe(2);
  });

  it('zooms and moves by keyboard, and leaves the plain wheel to the page', async () => {
    inner.cursor = 500;
    press(plot, '+');
    await drawn(inner);
    const { min, max } = inner.view!;
    expect(max - min).toBeCloseTo(280 / 1.5, 6);
    press(plot, 'PageDown');
    expect(inner.view!.min).toBeGreaterThan(min);
    press(plot, '0');
    expect(inner.view).toBeUndefined();
    const plain = new WheelEvent('wheel', { deltaY: -50, cancelable: true });
    expect(plot.dispatchEvent(plain)).toBe(true);
    expect(inner.view).toBeUndefined();
  });

  it('gives the same data as a table and as CSV, in per cent', async () => {
    within(inner, 'button[aria-pressed]').click();
    await drawn(inner);
    const rows = inner.shadowRoot!.querySelectorAll('tbody tr');
    expect(rows.length).toBe(281);
    const lines = chart.toCsv().trim().split('\r\n');
    expect(lines[0]).toBe('Wavelength / nm,"R, 0° / %","R, 25° / %","R, 0° (before) / %"');
    expect(lines.length).toBe(282);
    expect(Number(lines[1]!.split(',')[1])).toBeCloseTo(100 * curves[0]!.values[0]!, 12);
  });

  it('is saved as an SVG file with every curve, limit and title, and as a PNG', async () => {
    const svg = new DOMParser().parseFromString(chart.toSvg(), 'image/svg+xml');
    expect(svg.querySelector('parsererror')).toBeNull();
    expect(svg.documentElement.textContent).toContain('Wavelength / nm');
    expect(svg.documentElement.textContent).toContain('Reflectance / %');
    expect(svg.querySelectorAll('path[fill="none"][stroke-width]').length).toBe(3);
    expect(svg.querySelectorAll('rect[fill="url(#hatch)"]').length).toBe(1);
    const png = await chart.toPng();
    expect([...new Uint8Array(await png.slice(0, 4).arrayBuffer())]).toEqual([0x89, 0x50, 0x4e, 0x47]);
  });

  it('takes a logarithmic scale, on which zero is a gap', async () => {
    chart.curves = [{ name: 'R', wavelengthNm: [400, 500, 600], values: [0.01, 0, 0.001] }];
    chart.log = true;
    await drawn(chart);
    expect(chart.toCsv().split('\r\n')[2]).toBe('500,');
    expect(chart.toSvg()).toContain('Reflectance / %');
  });

  it('stands with no curve at all', async () => {
    chart.curves = [];
    await drawn(chart);
    expect(plot.getAttribute('aria-valuetext')).toBe('no curve');
    press(plot, 'ArrowRight');
    press(plot, '+');
  });

  it('frees its chart when it leaves the page and draws again when it returns', async () => {
    chart.remove();
    document.body.append(chart);
    await drawn(inner);
    expect(inks().size).toBeGreaterThan(1);
  });
});
