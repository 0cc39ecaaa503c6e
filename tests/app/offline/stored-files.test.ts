import { describe, expect, it } from 'vitest';
import { type ProgramFiles, StoredFiles } from '../../../src/app/offline/stored-files.ts';

const SCOPE = 'http://127.0.0.1:1/bench/';

/** The browser's caches, as far as they are used: stores by name in the order of their making. */
class FakeCaches {
  readonly stores = new Map<string, Map<string, Response>>();

  async open(name: string) {
    const store = this.stores.get(name) ?? new Map<string, Response>();
    this.stores.set(name, store);
    return {
      match: async (address: string) => store.get(address)?.clone(),
      put: async (address: string, answer: Response) => void store.set(address, answer),
    };
  }
  async match(address: string) {
    for (const store of this.stores.values()) if (store.has(address)) return store.get(address)?.clone();
    return undefined;
  }
  async keys() {
    return [...this.stores.keys()];
  }
  async delete(name: string) {
    return this.stores.delete(name);
  }
}

const program = (version: string, ...paths: string[]): ProgramFiles => ({
  version,
  files: paths.map((path) => ({ path, mark: version })),
});

/** A server that answers every file with its address and version, and remembers what it was asked for. */
function serverOf(version: string, missing = '') {
  const asked: string[] = [];
  const fetchFile = async (address: unknown) => {
    asked.push(String(address));
    return missing !== '' && String(address).endsWith(missing)
      ? new Response('gone', { status: 404 })
      : new Response(`${address} of ${version}`);
  };
  return { asked, fetchFile: fetchFile as typeof fetch };
}

const visit = (path: string) => ({ mode: 'navigate', method: 'GET', url: SCOPE + path }) as Request;
const file = (path: string) => ({ mode: 'cors', method: 'GET', url: SCOPE + path }) as Request;

async function filled(caches: FakeCaches, files: ProgramFiles, server = serverOf(files.version)) {
  const stored = new StoredFiles(files, SCOPE, caches as unknown as CacheStorage, server.fetchFile);
  await stored.fill();
  return { stored, server };
}

describe("the program's stored files", () => {
  it('answer every visit with the page and every file with itself', async () => {
    const { stored } = await filled(new FakeCaches(), program('v1', './', 'assets/a-1.js'));
    expect(await (await stored.answer(visit('index.html')))?.text()).toBe(`${SCOPE} of v1`);
    expect(await (await stored.answer(file('assets/a-1.js')))?.text()).toBe(`${SCOPE}assets/a-1.js of v1`);
    expect(await stored.answer(file('assets/unknown.js'))).toBeUndefined();
  });

  it('take what has a lasting name from the version before, and everything else anew', async () => {
    const caches = new FakeCaches();
    await filled(caches, program('v1', './', 'icon.svg', 'assets/a-1.js'));
    const { server } = await filled(
      caches,
      program('v2', './', 'icon.svg', 'assets/a-1.js', 'assets/b-2.js'),
    );
    expect(server.asked.sort()).toEqual([SCOPE, `${SCOPE}assets/b-2.js`, `${SCOPE}icon.svg`]);
  });

  it('refuse a version of which one file is missing', async () => {
    const caches = new FakeCaches();
    await expect(
      filled(caches, program('v1', './', 'assets/a-1.js'), serverOf('v1', 'a-1.js')),
    ).rejects.toThrow(`${SCOPE}assets/a-1.js (v1) was answered with 404`);
  });

  it('still give a window of the version before its parts, but never its page', async () => {
    const caches = new FakeCaches();
    await filled(caches, program('v1', './', 'assets/a-1.js'));
    const { stored } = await filled(caches, program('v2', './', 'assets/a-2.js'));
    await stored.forgetOlder();
    expect(await (await stored.answer(file('assets/a-1.js')))?.text()).toContain('of v1');
    expect(await (await stored.answer(visit('')))?.text()).toContain('of v2');
  });

  it('forget what is older than the version before, and nothing that is not theirs', async () => {
    const caches = new FakeCaches();
    await caches.open('of somebody else');
    await filled(caches, program('v1', './'));
    await filled(caches, program('v2', './'));
    const { stored } = await filled(caches, program('v3', './'));
    await stored.forgetOlder();
    expect(await caches.keys()).toEqual(['of somebody else', 'coatwright-files-v2', 'coatwright-files-v3']);
  });

  it('are not asked for what is another site’s, or what is sent', () => {
    const stored = new StoredFiles(program('v1'), SCOPE, {} as CacheStorage, fetch);
    expect(stored.isOwn(file('assets/a-1.js'))).toBe(true);
    expect(stored.isOwn({ method: 'POST', url: SCOPE } as Request)).toBe(false);
    expect(stored.isOwn({ method: 'GET', url: 'http://127.0.0.1:1/other/' } as Request)).toBe(false);
  });
});
