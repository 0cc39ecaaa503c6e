import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { BrowserContext, Page } from 'playwright';
import { describe, expect, it } from 'vitest';
import { watched } from '../support/app-under-test.ts';
import { rename, said } from '../support/bench-steps.ts';
import { visitEach } from '../support/visit-each.ts';

const ID = 'eyepiece-field-lens';
const visit = visitEach();

interface StoredRecord {
  readonly id: string;
  readonly text: string;
}

/** Opens another window of the app on the demo. */
async function openWindow(context: BrowserContext, prepare?: () => void): Promise<Page> {
  const page = await context.newPage();
  if (prepare !== undefined) await page.addInitScript(prepare);
  await page.goto(`${visit.app.url}#/batch/${ID}/order`);
  await page.locator('main h1').waitFor();
  return page;
}

/** A page of the same origin that is no window of the app. */
async function openPlain(context: BrowserContext): Promise<Page> {
  const page = await context.newPage();
  await page.goto(`${visit.app.url}icon.svg`);
  return page;
}

/** The text of the file that a button hands out. */
async function handedOut(page: Page, button: string, place = 0): Promise<string> {
  const download = page.waitForEvent('download');
  await page.getByRole('button', { name: button }).nth(place).click();
  return readFileSync(await (await download).path(), 'utf8');
}

/** The lot in a batch's file. */
const lotIn = (text: string) => (JSON.parse(text) as { order: { lot: string } }).order.lot;

/** Writes records as nobody should, by hand. */
function rewrite(
  page: Page,
  database: string,
  store: string,
  records: readonly object[],
  layout = 1,
): Promise<void> {
  return page.evaluate(
    ([name, kind, put, version]) =>
      new Promise<void>((resolve, reject) => {
        const opening = indexedDB.open(name, version);
        opening.onerror = () => reject(opening.error);
        opening.onupgradeneeded = () => {
          if (!opening.result.objectStoreNames.contains(kind))
            opening.result.createObjectStore(kind, { keyPath: 'id' });
        };
        opening.onsuccess = () => {
          const transaction = opening.result.transaction(kind, 'readwrite');
          for (const record of put) transaction.objectStore(kind).put(record);
          transaction.oncomplete = () => {
            opening.result.close();
            resolve();
          };
        };
      }),
    [database, store, records, layout] as const,
  );
}

/** Every batch in storage with its lot. */
async function storedLots(page: Page): Promise<Record<string, string>> {
  const records = await page.evaluate(
    () =>
      new Promise<StoredRecord[]>((resolve, reject) => {
        const opening = indexedDB.open('coatwright');
        opening.onerror = () => reject(opening.error);
        opening.onsuccess = () => {
          const all = opening.result.transaction('batches').objectStore('batches').getAll();
          all.onsuccess = () => {
            opening.result.close();
            resolve(all.result);
          };
        };
      }),
  );
  return Object.fromEntries(records.map(({ id, text }) => [id, lotIn(text)]));
}

async function pick(page: Page, entry: string): Promise<void> {
  await page.getByRole('button', { name: 'Batch', exact: true }).click();
  await page.getByRole('button', { name: entry }).click();
}

const kept = (page: Page) => page.getByText('kept in this browser').waitFor();
const noRoom = (page: Page) => page.getByText('The browser has no room left for batches');

/**
 * Storage that has no room: local storage throws; a database's transaction is aborted amid the writing and says why, as
 * Chromium does it where the disk is full (Indexed Database API 3.0, "commit a transaction", step "QuotaExceededError").
 */
function runFull(): void {
  const full = () => new DOMException('no room', 'QuotaExceededError');
  const put = IDBObjectStore.prototype.put;
  IDBObjectStore.prototype.put = function (this: IDBObjectStore, ...given: [unknown]) {
    const request = put.apply(this, given);
    Object.defineProperty(this.transaction, 'error', { value: full() });
    this.transaction.abort();
    return request;
  };
  const setItem = Storage.prototype.setItem;
  Storage.prototype.setItem = () => {
    throw full();
  };
  Object.assign(window, {
    makeRoom: () => {
      IDBObjectStore.prototype.put = put;
      Storage.prototype.setItem = setItem;
    },
  });
}

describe('storage that is full', () => {
  it('is said at every way of writing, hands out the last edit, and takes it once there is room', async () => {
    const { page } = visit;
    await kept(page);
    await page.evaluate(runFull);
    await rename(page, 'Lot', 'FULL-1');
    await noRoom(page).waitFor();
    await page.getByText('not kept!').waitFor();
    expect(lotIn(await handedOut(page, 'Export this batch'))).toBe('FULL-1');

    const putAway = async () => {
      await noRoom(page).waitFor();
      await page.getByRole('button', { name: 'Close this message' }).last().click();
    };
    for (const entry of ['New order', 'Duplicate for the next lot']) {
      await pick(page, entry);
      await putAway();
    }
    await page
      .locator('app-batch-bar input[type="file"]')
      .setInputFiles(fileURLToPath(new URL('../../demo/prism-face.json', import.meta.url)));
    await putAway();
    expect(await said(page, 'app-batch-bar .batch')).toContain('FULL-1');

    await page.evaluate(() => {
      location.hash = '#/materials/mgf2';
    });
    await page.getByRole('button', { name: 'Make a variant' }).click();
    await page.getByRole('button', { name: 'Put into the batch' }).click();
    await page.getByRole('button', { name: 'Keep on the shelf' }).click();
    await page.getByText('no room left on the shelf of materials').waitFor();
    await noRoom(page).waitFor();

    await page.evaluate('makeRoom()');
    await page.getByRole('button', { name: 'Try again' }).click();
    await kept(page);
    expect(await storedLots(page)).toMatchObject({ [ID]: 'FULL-1' });
  });
});

describe('storage that is blocked', () => {
  it('leaves a working bench that says how to keep the batch, whichever way the browser refuses', async () => {
    const { context } = visit;
    const forbidding = () => {
      const forbidden = () => {
        throw new DOMException('not allowed', 'SecurityError');
      };
      Object.defineProperty(window, 'indexedDB', { value: { open: forbidden } });
      Object.defineProperty(window, 'localStorage', { get: forbidden });
    };
    const lacking = () => {
      Object.defineProperty(window, 'indexedDB', { value: undefined });
      Object.defineProperty(navigator, 'locks', { value: undefined });
    };
    for (const prepare of [forbidding, lacking]) {
      const page = await openWindow(context, prepare);
      await page.getByText('lets this page store nothing').waitFor();
      await rename(page, 'Lot', 'PRIVATE-1');
      await page.locator('app-batch-bar .batch', { hasText: 'PRIVATE-1' }).waitFor();
      await page.waitForTimeout(400); // longer than edits are gathered before they are stored
      await page.getByText('not kept!').waitFor();
      expect(lotIn(await handedOut(page, 'Export this batch'))).toBe('PRIVATE-1');
      await page.goto(`${visit.app.url}#/materials/mgf2`);
      await page.getByText('keeps no shelf of materials').waitFor();
      await page.close();
    }
  });
});

describe('storage damaged by hand', () => {
  it('hands out every damaged text, keeps it, and opens what is whole', async () => {
    const { page } = visit;
    const { app } = visit;
    await kept(page);
    const plain = await openPlain(visit.context);
    const faults = watched(plain);
    await page.close();
    await rewrite(plain, 'coatwright', 'batches', [
      {
        id: ID,
        title: 5,
        lot: null,
        savedAt: 'yesterday',
        revision: -2.5,
        text: '{"format": "coatwright-ba',
      },
      { id: 'no-text', title: 'No text' },
    ]);
    await rewrite(plain, 'coatwright-materials', 'materials', [
      { id: 'torn', text: '{"id": "to' },
      { id: 'empty' },
    ]);
    await rewrite(plain, 'coatwright-histories', 'histories', [
      { id: 'prism-face', text: 7, past: 'none' },
      { id: 'laser-window-1064', text: '{', past: [1, null], future: {} },
    ]);
    await plain.evaluate((id) => {
      localStorage.setItem(`coatwright-unsaved:${id}:gone`, '{"revision": 3, "text": "{\\"for');
      for (const key of ['coatwright-preferences', 'coatwright-rehearsal-best'])
        localStorage.setItem(key, '[{"theme": ');
    }, ID);

    await plain.goto(`${app.url}#/batch/${ID}/order`);
    await plain.getByText(`The stored batch "${ID}" cannot be read`).waitFor();
    expect(await handedOut(plain, 'Export its text')).toBe('{"format": "coatwright-ba');
    await plain.getByText(`its last edits of "${ID}" were stored`).waitFor();
    expect(await handedOut(plain, 'Export their text')).toBe('{"revision": 3, "text": "{\\"for');
    expect(await said(plain, 'app-batch-bar .batch')).not.toContain('Eyepiece');

    await plain.goto(`${app.url}#/batches`);
    await plain.getByText('4 batches in this browser').waitFor();
    await plain.getByRole('link', { name: 'No text', exact: true }).click();
    await plain.getByText('The stored batch "no-text" cannot be read').waitFor();
    expect(await handedOut(plain, 'Export its text')).toBe('{"id":"no-text","title":"No text"}');

    for (const id of ['prism-face', 'laser-window-1064']) {
      await plain.goto(`${app.url}#/batch/${id}/order`);
      await rename(plain, 'Lot', `after-${id}`);
      await plain.locator('app-batch-bar .batch', { hasText: `after-${id}` }).waitFor();
      await kept(plain);
    }

    await plain.goto(`${app.url}#/materials/mgf2`);
    await plain.getByText('The material "torn" on the shelf cannot be read').waitFor();
    expect(await handedOut(plain, 'Export its text', 1)).toBe('{"id": "to');
    await plain.getByRole('button', { name: 'Take empty off the shelf' }).click();
    await plain.getByText('The material "empty" on the shelf').waitFor({ state: 'detached' });
    expect(await plain.getByText('The material "torn" on the shelf').count()).toBe(1);
    expect(faults).toEqual([]);
  });
});

describe('two windows with one batch', () => {
  it('see what the other one has changed; of changes at once the later is told of, nothing is overwritten, and both stay', async () => {
    const { page: theirs, context } = visit;
    // A window that hears nothing of the others, as when both are edited at the same moment.
    const deaf = () => {
      Object.defineProperty(BroadcastChannel.prototype, 'onmessage', { set: () => undefined });
    };
    const mine = await openWindow(context, deaf);
    const clash = async (round: number) => {
      await rename(theirs, 'Lot', `THEIRS-${round}`);
      await kept(theirs);
      await rename(mine, 'Lot', `MINE-${round}`);
      await mine.getByText('This batch was changed in another window meanwhile').waitFor();
      expect(await storedLots(mine)).toMatchObject({ [ID]: `THEIRS-${round}` });
    };
    const lot = mine.locator('main').getByRole('textbox', { name: 'Lot', exact: true });

    await clash(1);
    await mine.getByRole('button', { name: 'Take the other one' }).click();
    await expect.poll(() => lot.inputValue()).toBe('THEIRS-1');
    await mine.getByRole('button', { name: 'Undo' }).click();
    await expect.poll(() => lot.inputValue()).toBe('MINE-1');
    await expect.poll(() => storedLots(mine)).toMatchObject({ [ID]: 'MINE-1' });

    await theirs.locator('app-batch-bar .batch', { hasText: 'MINE-1' }).waitFor();
    expect(await said(theirs, 'app-change-line')).toContain('Changed in another window');
    await clash(2);
    expect(lotIn(await handedOut(mine, 'Export this batch'))).toBe('MINE-2');

    // Closed without an answer, the edits come back beside the batch; in the other window nothing has happened.
    await mine.close();
    await theirs.reload();
    await theirs.getByText(`They stand in the batch "${ID}-2"`).waitFor();
    expect(await storedLots(theirs)).toMatchObject({ [ID]: 'THEIRS-2', [`${ID}-2`]: 'MINE-2' });
  });

  it('of which a newer version takes the storage over: the older one says so, and its last edit comes back', async () => {
    const { page, context } = visit;
    await kept(page);
    const newer = await context.newPage();
    let migrated = 0;
    await newer.route('**/assets/index-*.js', async (route) => {
      const response = await route.fetch();
      const body = (await response.text()).replace(/(name:[`'"]coatwright[`'"],layout:)1\b/, (_, before) => {
        migrated += 1;
        return `${before}2`;
      });
      await route.fulfill({ response, body });
    });
    // Somebody who does not let the database go, as a version from before this rule might not.
    const holder = await openPlain(context);
    await holder.evaluate(
      () =>
        new Promise<void>((resolve) => {
          const opening = indexedDB.open('coatwright');
          opening.onsuccess = () => {
            Object.assign(window, { held: opening.result });
            resolve();
          };
        }),
    );
    await newer.goto(`${visit.app.url}#/batch/${ID}/order`);
    await newer.getByText('Another window holds the storage').waitFor();
    expect(migrated).toBe(1);
    await rename(newer, 'Lot', 'HELD-1');
    expect(lotIn(await handedOut(newer, 'Export this batch'))).toBe('HELD-1');

    await holder.close();
    await newer.goto('about:blank');
    await newer.goto(`${visit.app.url}#/batch/${ID}/order`);
    await kept(newer);
    expect(await newer.getByText('Another window holds the storage').count()).toBe(0);

    await rename(page, 'Lot', 'OLD-1');
    await page.getByText('A newer version of this program was started').waitFor();
    expect(lotIn(await handedOut(page, 'Export this batch'))).toBe('OLD-1');
    await page.reload();
    await page.getByText('belongs to a newer version of this program').waitFor();
    await page.getByRole('button', { name: 'Export this batch' }).waitFor();
    await newer.reload();
    await newer.getByText('they were brought back').waitFor();
    expect(await storedLots(newer)).toMatchObject({ [ID]: 'OLD-1' });
  });
});
