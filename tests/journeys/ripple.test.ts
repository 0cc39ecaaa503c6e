import type { Page, Worker as RunningWorker } from 'playwright';
import { beforeAll, describe, expect, it } from 'vitest';
import { type AppUnderTest, startApp } from '../support/app-under-test.ts';
import { figure, goTo, said, setQuantity } from '../support/bench-steps.ts';

let app: AppUnderTest;
beforeAll(async () => {
  app = await startApp();
});

/**
 * Holds every answer that a worker gives to the page from `hold` until `release` is called; questions go through. Notes each
 * yield that the strip shows as the present one, and ends all workers from outside at `kill`.
 */
function holdWorkers(): void {
  const held: (() => void)[] = [];
  const workers = new Set<Worker>();
  let isHeld = false;
  const listen = Worker.prototype.addEventListener;
  Worker.prototype.addEventListener = function (
    this: Worker,
    kind: string,
    listener: unknown,
    options?: unknown,
  ) {
    workers.add(this);
    if (kind !== 'message' || listener === null) {
      listen.call(this, kind, listener as EventListener, options as AddEventListenerOptions);
      return;
    }
    const call = (event: Event) =>
      typeof listener === 'function'
        ? listener.call(this, event)
        : (listener as EventListenerObject).handleEvent(event);
    listen.call(
      this,
      kind,
      (event) => (isHeld ? held.push(() => call(event)) : call(event)),
      options as AddEventListenerOptions,
    );
  };
  Object.assign(window, {
    hold: () => {
      isHeld = true;
    },
    release: () => {
      isHeld = false;
      for (const go of held.splice(0)) go();
    },
    kill: () => {
      for (const worker of workers) worker.terminate();
    },
    seen: [],
    watchYield: () => {
      const strip = document
        .querySelector('app-shell')!
        .shadowRoot!.querySelector('app-figure-strip')!
        .shadowRoot!.querySelector('cw-ripple-strip')!.shadowRoot!;
      new MutationObserver(() => {
        const shown = [...strip.querySelectorAll('.figure')].find((figure) =>
          figure.textContent?.includes('expected yield'),
        );
        if (shown !== undefined && !shown.textContent!.includes('updating'))
          (window as unknown as { seen: string[] }).seen.push(shown.querySelector('b')!.textContent!.trim());
      }).observe(strip, { subtree: true, childList: true, characterData: true });
    },
  });
}

let page: Page;
beforeAll(async () => {
  const context = await app.browser.newContext({ serviceWorkers: 'block' });
  await context.addInitScript(holdWorkers);
  page = await context.newPage();
  await page.goto(`${app.url}#/batch/eyepiece-field-lens/stack`);
});

const strip = () => said(page, 'cw-ripple-strip');
const setThickness = (typed: string) => setQuantity(page, 'Front layer 2: thickness', typed);

/** The yield that is shown as the present one, once it is. */
async function presentYield(): Promise<string> {
  await expect.poll(() => figure(page, 'expected yield').catch(() => ''), { timeout: 60_000 }).toMatch(/%$/);
  await expect.poll(strip, { timeout: 60_000 }).not.toContain('updating');
  return figure(page, 'expected yield');
}

/** Has a worker run something that never gives it a turn again, as a program that hangs. */
const hang = (worker: RunningWorker) =>
  void worker
    .evaluate(() => {
      for (;;);
    })
    .catch(() => undefined);

describe('a figure that takes longer than a frame', () => {
  it('says that it is updating until its worker has answered, and never shows what an older edit asked for', async () => {
    const planned = await presentYield();
    const thickness = await page.getByRole('spinbutton', { name: 'Front layer 2: thickness' }).inputValue();
    await page.evaluate('watchYield()');
    await page.evaluate('hold()');
    const before = await figure(page, 'R mean');
    await setThickness('131');
    // What follows from the document alone has followed; the yield has not, and says so as long as it takes.
    await expect.poll(() => figure(page, 'R mean')).not.toBe(before);
    expect(await strip()).toContain('updating');
    await page.waitForTimeout(1000);
    await setThickness(thickness);
    await page.waitForTimeout(1000);
    expect(await strip()).toContain('updating');
    await page.evaluate('release()');
    expect(await presentYield()).toBe(planned);
    const seen = await page.evaluate(() => (window as unknown as { seen: string[] }).seen);
    expect(new Set(seen)).toEqual(new Set([planned]));
    await setThickness('129');
    expect(await presentYield()).not.toBe(planned);
  });
});

describe('a worker', () => {
  it('that throws is replaced, and the screen says so', async () => {
    const planned = await presentYield();
    await page.evaluate('hold()');
    await setThickness('127');
    await page.waitForTimeout(500); // the question is asked
    for (const worker of page.workers())
      await worker.evaluate(() => {
        setTimeout(() => {
          throw new Error('broken on purpose');
        }, 0);
      });
    await page.getByText('The expected yield is missing: the calculation broke down').waitFor();
    expect(await strip()).not.toContain('expected yield');
    await page.evaluate('release()');
    await page.getByRole('button', { name: 'Compute it again' }).click();
    expect(await presentYield()).not.toBe(planned);
    expect(await page.getByText('The expected yield is missing').count()).toBe(0);
  });

  it('that hangs is replaced at the next edit', async () => {
    const before = await presentYield();
    page.workers().forEach(hang);
    await setThickness('131');
    await page.waitForTimeout(500); // the question is asked of a worker that will not answer
    expect(await strip()).toContain('updating');
    await setThickness('125');
    expect(await presentYield()).not.toBe(before);
  });

  it('that is killed, or ends by itself, is replaced at once, is asked again, and the screen says so', async () => {
    const said = page.locator('.notice', {
      hasText: 'was ended from outside, perhaps for want of memory; it has begun anew',
    });
    const end = async () => {
      for (const worker of page.workers()) void worker.evaluate(() => close()).catch(() => undefined);
    };
    for (const [thickness, spoil] of [
      ['127', () => page.evaluate('kill()')],
      ['129', end],
    ] as const) {
      const before = await presentYield();
      await page.evaluate('hold()');
      await setThickness(thickness);
      await page.waitForTimeout(500); // the question is asked
      await spoil();
      await said.waitFor();
      await page.evaluate('release()');
      expect(await presentYield()).not.toBe(before);
      expect(await page.getByText('The expected yield is missing').count()).toBe(0);
      await said.getByRole('button', { name: /^Close/ }).click();
    }
  });

  it('that hangs in the middle of virtual runs is cancelled all the same', async () => {
    await goTo(page, 'Monitor');
    await setQuantity(page, 'Virtual runs', '100000');
    const idle = new Set(page.workers());
    await page.getByRole('button', { name: 'Run 100000 virtual runs' }).click();
    await page.getByLabel('Progress of the virtual runs').waitFor();
    await expect.poll(() => page.workers().filter((worker) => !idle.has(worker)).length).toBeGreaterThan(0);
    for (const worker of page.workers()) if (!idle.has(worker)) hang(worker);
    await page.getByRole('button', { name: 'Cancel' }).click();
    await setQuantity(page, 'Virtual runs', '20');
    await page.getByRole('button', { name: 'Run 20 virtual runs' }).click();
    await page.getByText('20 runs as set').waitFor();
  });

  it('whose helpers are killed in the middle of virtual runs has them done by others', async () => {
    await page.getByRole('checkbox', { name: /strategies/i }).uncheck();
    await setQuantity(page, 'Virtual runs', '10000');
    await page.getByRole('button', { name: 'Run 10000 virtual runs' }).click();
    const helpers = () => page.workers().filter((worker) => worker.url().includes('kernel-worker'));
    await expect.poll(() => helpers().length, { timeout: 20_000 }).toBeGreaterThan(0);
    const alive = () => page.evaluate(async () => (await navigator.locks.query()).held!.length);
    await expect.poll(async () => (await alive()) >= page.workers().length, { timeout: 20_000 }).toBe(true);
    const killed = helpers();
    expect(await page.getByLabel('Progress of the virtual runs').count()).toBe(1);
    for (const helper of killed) void helper.evaluate(() => close()).catch(() => undefined);
    await page.getByText('10000 runs as set').waitFor({ timeout: 90_000 });
    expect(helpers().filter((helper) => killed.includes(helper))).toEqual([]);
  });
});
