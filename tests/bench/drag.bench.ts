import { readFileSync } from 'node:fs';
import type { Page } from 'playwright';
import { bench } from 'vitest';
import { startApp, type Visit } from '../support/app-under-test.ts';

/**
 * A layer of a stack of eight is dragged, 281 wavelengths in the chart: a step lasts from the pointer's move to the frame
 * that shows what it did. At 60 frames a second that is 16.7 ms. `npm run bench:drag`
 */

/** The demo with eight layers on its front; invented. */
function eightLayers(): Buffer {
  const batch = JSON.parse(
    readFileSync(new URL('../../demo/eyepiece-field-lens.json', import.meta.url), 'utf8'),
  );
  batch.id = 'eight-layers';
  batch.monitor.layers = {};
  batch.surfaces.front.layers = Array.from({ length: 8 }, (_, place) => ({
    id: `layer-${place + 1}`,
    material: place % 2 === 0 ? 'zro2' : 'mgf2',
    thicknessNm: 60 + 7 * place,
  }));
  return Buffer.from(JSON.stringify(batch));
}

async function takeHold(): Promise<Visit> {
  const visit = await (await startApp()).open('#/batches');
  const { page } = visit;
  await page
    .locator('input[type="file"]')
    .first()
    .setInputFiles({ name: 'eight.json', mimeType: 'application/json', buffer: eightLayers() });
  await page.waitForFunction(() => location.hash.includes('eight-layers'));
  await page.evaluate(() => {
    location.hash = '#/batch/eight-layers/stack';
  });
  const box = (await page.locator('cw-stack-section .reach').nth(3).boundingBox())!;
  await page.locator('cw-ripple-strip .figure').filter({ hasText: 'expected yield' }).waitFor();
  await page.mouse.move(box.x + box.width / 3, box.y + box.height / 2);
  await page.mouse.down();
  return visit;
}

/** One step of the drag; resolves when its frame has been painted. */
const step = (page: Page, heightPx: number) =>
  page.evaluate((rise) => {
    const find = (root: ParentNode): Element | undefined => {
      const found = root.querySelectorAll('.reach')[3];
      if (found !== undefined) return found;
      for (const { shadowRoot } of root.querySelectorAll('*')) {
        const within = shadowRoot === null ? undefined : find(shadowRoot);
        if (within !== undefined) return within;
      }
      return undefined;
    };
    const kept = globalThis as { held?: Element | undefined };
    kept.held ??= find(document);
    const held = kept.held!;
    const { x, width, y, height } = held.getBoundingClientRect();
    held.dispatchEvent(
      new PointerEvent('pointermove', {
        bubbles: true,
        composed: true,
        clientX: x + width / 3,
        clientY: y + height / 2 - rise,
        pointerId: 1,
        buttons: 1,
      }),
    );
    return new Promise<void>((resolve) =>
      requestAnimationFrame(() => {
        const painted = new MessageChannel();
        painted.port1.onmessage = () => resolve();
        painted.port2.postMessage(0);
      }),
    );
  }, heightPx);

let visit: Visit;
let count = 0;
bench(
  'a step of dragging a layer of eight, to its frame',
  () => step(visit.page, 1 + 12 * Math.abs(Math.sin(++count / 5))),
  {
    setup: async (_, mode) => {
      if (mode === 'warmup') visit = await takeHold();
    },
    time: 4000,
    warmupTime: 1000,
  },
);
