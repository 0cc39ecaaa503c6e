import { readFileSync } from 'node:fs';
import { cpus, loadavg } from 'node:os';
import type { CDPSession, Page } from 'playwright';
import { beforeAll, expect, it } from 'vitest';
import { type AppUnderTest, startApp, type Visit } from '../support/app-under-test.ts';
import { figure, goTo, said, setQuantity } from '../support/bench-steps.ts';

/*
 * What a shop's worst day asks of the app, in a real Chromium: figures to write down, no limits but that it works and that
 * the heap stays flat.
 */

const BATCHES = 2000;
const LAYERS = 60;
const READINGS = 5000;
const RUNS = Number(process.env.COATWRIGHT_LOAD_RUNS ?? 100_000);
/** An edit every ten seconds of an eight-hour day. */
const EDITS = Number(process.env.COATWRIGHT_LOAD_EDITS ?? 2880);

const demo = JSON.parse(readFileSync(new URL('../../demo/prism-face.json', import.meta.url), 'utf8'));

let app: AppUnderTest;
let visit: Visit;
let page: Page;
let session: CDPSession;

beforeAll(async () => {
  app = await startApp();
  visit = await app.open('#/batch/prism-face/order');
  page = visit.page;
  session = await visit.context.newCDPSession(page);
  note(`${cpus().length} × ${cpus()[0]?.model}, load ${loadavg()[0]?.toFixed(1)}`);
});

function note(line: string): void {
  process.stdout.write(`${line}\n`);
}

async function timed<Answer>(what: string, deed: () => Promise<Answer>): Promise<Answer> {
  const begun = performance.now();
  const answer = await deed();
  note(`${what}: ${((performance.now() - begun) / 1000).toFixed(2)} s`);
  return answer;
}

/** MB that the page's heap holds once it is collected. */
async function heapMb(): Promise<number> {
  await session.send('HeapProfiler.collectGarbage');
  const { usedSize } = (await session.send('Runtime.getHeapUsage')) as { usedSize: number };
  return usedSize / 1e6;
}

async function importBatch(document: object): Promise<void> {
  await page.locator('app-batch-bar input[type="file"]').setInputFiles({
    name: 'load.json',
    mimeType: 'application/json',
    buffer: Buffer.from(JSON.stringify(document)),
  });
}

it(`${BATCHES} stored batches are listed and searched`, async () => {
  await page.evaluate(
    ([batch, count]) =>
      new Promise<void>((resolve) => {
        const opening = indexedDB.open('coatwright');
        opening.onsuccess = () => {
          const transaction = opening.result.transaction('batches', 'readwrite');
          for (let number = 0; number < count; number++) {
            const [id, title, lot] = [`lot-${number}`, `Lens ${number}`, `L-${number}`];
            const text = JSON.stringify({ ...batch, id, order: { ...batch.order, title, lot } }, null, 2);
            transaction.objectStore('batches').put({ id, title, lot, savedAt: number, revision: 1, text });
          }
          transaction.oncomplete = () => resolve();
        };
      }),
    [demo, BATCHES] as const,
  );
  await timed(`start of the app with ${BATCHES} batches`, async () => {
    await page.reload();
    await page.locator('main h1').waitFor();
  });
  await timed('list', async () => {
    await page.goto(`${app.url}#/batches`);
    await page.getByText(`${BATCHES + 3} batches in this browser`).waitFor();
  });
  await timed('search', async () => {
    await page.getByRole('searchbox').fill('L-1777');
    await page.getByText('1 batch in this browser').waitFor();
  });
  await timed('opening the one found', async () => {
    await page
      .getByRole('link', { name: /Lens 1777/ })
      .first()
      .click();
    await page.locator('app-batch-bar .batch', { hasText: 'Lens 1777' }).waitFor();
  });
});

it(`a stack of ${LAYERS} layers is edited`, async () => {
  const layers = Array.from({ length: LAYERS }, (_, index) => ({
    id: `f${index + 1}`,
    material: index % 2 === 0 ? 'ta2o5' : 'sio2',
    thicknessNm: index % 2 === 0 ? 60 + (index % 7) : 95 - (index % 5),
  }));
  const process = { ...demo.process, materials: { ...demo.process.materials } };
  const laser = JSON.parse(
    readFileSync(new URL('../../demo/laser-window-1064.json', import.meta.url), 'utf8'),
  );
  Object.assign(process.materials, laser.process.materials);
  await importBatch({
    ...laser,
    id: 'sixty-layers',
    runs: [],
    trail: undefined,
    process: { ...laser.process, materials: process.materials },
    surfaces: { ...laser.surfaces, front: { ...laser.surfaces.front, layers } },
  });
  await page.waitForURL(/sixty-layers/);
  await goTo(page, 'Stack');
  await page.getByText(`${LAYERS} layers`).first().waitFor();
  const before = await figure(page, 'R ');
  await timed('from a typed thickness to the figure of the plan', async () => {
    await setQuantity(page, `Front layer ${LAYERS}: thickness`, '40');
    await expect.poll(() => figure(page, 'R '), { timeout: 60_000, interval: 10 }).not.toBe(before);
  });
  await timed('until the yield has followed', () =>
    expect.poll(() => said(page, 'cw-ripple-strip'), { timeout: 600_000 }).not.toContain('updating'),
  );
  for (const station of ['Load', 'Run', 'Monitor']) await timed(station, () => goTo(page, station));
});

it(`a spectrum of ${READINGS} readings is read and judged`, async () => {
  await goTo(page, 'Inspect');
  const rows = Array.from(
    { length: READINGS },
    (_, index) => `${1000 + (130 * index) / READINGS};${0.2 + (index % 50) / 1000}`,
  );
  await timed('reading and verdict', async () => {
    await page
      .locator('app-inspect-station input[type="file"]')
      .first()
      .setInputFiles({
        name: 'long.csv',
        mimeType: 'text/csv',
        buffer: Buffer.from(`Wavelength (nm);Reflectance (%)\n${rows.join('\n')}\n`),
      });
    await page.getByText(`${READINGS} readings`).first().waitFor();
  });
});

it(`a day of editing, ${EDITS} edits, leaves the heap flat`, async () => {
  page.setDefaultTimeout(300_000);
  await page.goto(`${app.url}#/batch/laser-window-1064/stack`);
  // Two fields in turn: edits of one field in a row would be one step of the history.
  const fields = [1, 2].map((layer) =>
    page.getByRole('spinbutton', { name: `Front layer ${layer}: thickness`, exact: true }),
  );
  await fields[0]!.waitFor();
  const heap: number[] = [];
  const begun = performance.now();
  for (let edit = 1; edit <= EDITS; edit++) {
    const field = fields[edit % 2]!;
    await field.fill(String(80 + (edit % 400) / 10));
    await field.press('Enter');
    if (edit % Math.ceil(EDITS / 8) === 0) heap.push(await heapMb());
  }
  note(`an edit: ${((performance.now() - begun) / EDITS).toFixed(0)} ms`);
  note(`heap after each eighth of the day: ${heap.map((mb) => mb.toFixed(1)).join(', ')} MB`);
  // The row of edits that undo keeps is full after 500; from then on nothing may grow.
  expect(heap.at(-1)).toBeLessThan(1.25 * heap[Math.floor(heap.length / 2)]!);
  await expect.poll(() => page.getByText('kept in this browser').count(), { timeout: 60_000 }).toBe(1);
});

it(`${RUNS} virtual runs are made`, async () => {
  await goTo(page, 'Monitor');
  await setQuantity(page, 'Virtual runs', String(RUNS));
  await page.getByText('compare strategies').click();
  await timed('virtual runs', async () => {
    await page.getByRole('button', { name: `Run ${RUNS} virtual runs` }).click();
    await page.getByText(`${RUNS} runs as set`).waitFor({ timeout: 3_000_000 });
  });
  note(`heap: ${(await heapMb()).toFixed(1)} MB`);
  expect(visit.faults).toEqual([]);
});
