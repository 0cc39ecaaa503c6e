import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type AppUnderTest, startApp } from '../support/app-under-test.ts';
import { figure, said, setQuantity } from '../support/bench-steps.ts';

let app: AppUnderTest;
beforeAll(async () => {
  app = await startApp();
});
afterAll(() => app.close());

/** Holds every answer that a worker gives to the page until `release` is called; questions go through. */
function holdWorkers(): void {
  const held: (() => void)[] = [];
  let isHeld = false;
  const listen = Worker.prototype.addEventListener;
  Worker.prototype.addEventListener = function (
    this: Worker,
    kind: string,
    listener: unknown,
    options?: unknown,
  ) {
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
  });
}

describe('a figure that takes longer than a frame', () => {
  it('says that it is updating until its worker has answered, and never stands stale unmarked', async () => {
    const context = await app.browser.newContext({ serviceWorkers: 'block' });
    await context.addInitScript(holdWorkers);
    const page = await context.newPage();
    await page.goto(`${app.url}#/batch/eyepiece-field-lens/stack`);
    await expect
      .poll(() => figure(page, 'expected yield').catch(() => ''), { timeout: 60_000 })
      .toMatch(/%$/);
    const strip = () => said(page, 'cw-ripple-strip');
    await expect.poll(strip, { timeout: 30_000 }).not.toContain('updating');
    await page.evaluate('hold()');
    const before = await figure(page, 'R mean');
    await setQuantity(page, 'Front layer 2: thickness', '118');
    // What follows from the document alone has followed; the yield has not, and says so as long as it takes.
    await expect.poll(() => figure(page, 'R mean')).not.toBe(before);
    expect(await strip()).toContain('updating');
    await page.waitForTimeout(1500);
    expect(await strip()).toContain('updating');
    await page.evaluate('release()');
    await expect.poll(strip, { timeout: 60_000 }).not.toContain('updating');
    expect(await figure(page, 'expected yield')).toMatch(/%$/);
    await context.close();
  });
});
