import { cpus, loadavg } from 'node:os';
import type { Page } from 'playwright';
import { describe, it } from 'vitest';
import { type AppUnderTest, startApp } from '../support/app-under-test.ts';

/** Measured by `npm run measure` and written down in DEVELOPERS.md; never asserted, since it depends on the machine. */
const isWanted = process.env.COATWRIGHT_MEASURE !== undefined;
const VISITS = 7;

/** A visit's machine and line. The slow one is as Lighthouse throttles for telephones: 1.6 Mbit/s, 150 ms, a quarter of the speed. */
const MACHINES = {
  'this machine': undefined,
  'a slow one': { cpuRate: 4, latencyMs: 150, bytesPerS: 200_000 },
} as const;

interface Load {
  readonly firstPaintMs: number;
  readonly largestPaintMs: number;
  readonly stationMs: number;
  readonly blockingMs: number;
  readonly shift: number;
}

describe.runIf(isWanted)('the first load', () => {
  it.each(Object.entries(MACHINES))('on %s is measured', { timeout: 600_000 }, async (name, slow) => {
    const app = await startApp();
    const loads: Load[] = [];
    for (let visit = 0; visit < VISITS; visit += 1) loads.push(await load(app, slow));
    const figure = (pick: (load: Load) => number, digits = 0) => {
      const sorted = loads.map(pick).sort((a, b) => a - b);
      const text = (value: number) => value.toFixed(digits);
      return `${text(sorted[VISITS >> 1]!)} (${text(sorted[0]!)} to ${text(sorted.at(-1)!)})`;
    };
    console.log(
      [
        `First load on ${name}: ${cpus().length} × ${cpus()[0]?.model}, median of ${VISITS} (least to most), load ${loadavg()[0]!.toFixed(1)}`,
        `  first contentful paint / ms     ${figure((one) => one.firstPaintMs)}`,
        `  largest contentful paint / ms   ${figure((one) => one.largestPaintMs)}`,
        `  order station stands / ms       ${figure((one) => one.stationMs)}`,
        `  total blocking time / ms        ${figure((one) => one.blockingMs)}`,
        `  cumulative layout shift         ${figure((one) => one.shift, 3)}`,
      ].join('\n'),
    );
  });
});

async function load(app: AppUnderTest, slow: (typeof MACHINES)['a slow one'] | undefined): Promise<Load> {
  const context = await app.browser.newContext({ viewport: { width: 1440, height: 900 } });
  const page = await context.newPage();
  await page.addInitScript(watch);
  if (slow !== undefined) {
    const session = await context.newCDPSession(page);
    await session.send('Emulation.setCPUThrottlingRate', { rate: slow.cpuRate });
    const line = { downloadThroughput: slow.bytesPerS, uploadThroughput: slow.bytesPerS };
    await session.send('Network.enable');
    await session.send('Network.emulateNetworkConditions', {
      offline: false,
      latency: slow.latencyMs,
      ...line,
    });
  }
  await page.goto(app.url);
  await page.locator('app-order-station').waitFor({ timeout: 120_000 });
  const stationMs = await page.evaluate(() => performance.now());
  await page.waitForTimeout(slow === undefined ? 2000 : 6000);
  const seen = await read(page);
  await context.close();
  return { ...seen, stationMs };
}

type Seen = Omit<Load, 'stationMs'>;

/** Runs in the page before anything else. Blocking is what tasks last beyond 50 ms after the first paint (web.dev, "TBT"). */
function watch(): void {
  const seen = { firstPaintMs: 0, largestPaintMs: 0, blockingMs: 0, shift: 0 };
  Object.assign(window, { seen });
  const on = (type: string, take: (entry: PerformanceEntry) => void) =>
    new PerformanceObserver((list) => list.getEntries().forEach(take)).observe({ type, buffered: true });
  on('paint', ({ name, startTime }) => {
    if (name === 'first-contentful-paint') seen.firstPaintMs = startTime;
  });
  on('largest-contentful-paint', ({ startTime }) => {
    seen.largestPaintMs = startTime;
  });
  on('longtask', ({ duration }) => {
    seen.blockingMs += Math.max(0, duration - 50);
  });
  on('layout-shift', (entry) => {
    seen.shift += (entry as PerformanceEntry & { value: number }).value;
  });
}

const read = (page: Page): Promise<Seen> => page.evaluate(() => (window as unknown as { seen: Seen }).seen);
