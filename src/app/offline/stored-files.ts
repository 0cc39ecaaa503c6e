/** A file of the program as the build lists it: where it lies, from the page, and a mark of its content. */
export interface ProgramFile {
  readonly path: string;
  readonly mark: string;
}

/** What the build tells the service worker: the program's files, and a name for exactly this set of them. */
export interface ProgramFiles {
  readonly version: string;
  readonly files: readonly ProgramFile[];
}

const PREFIX = 'coatwright-files-';

/** Files whose name holds a mark of their content: what is stored under such a name stays right for ever. */
const LASTING = /(^|\/)assets\//;

/**
 * The program's files in the browser's cache, so that it starts and works without a network. Each version has a store of
 * its own, filled before that version takes over; the one before it stays, since a window may still be running it.
 */
export class StoredFiles {
  readonly #program: ProgramFiles;
  readonly #scope: string;
  readonly #caches: CacheStorage;
  readonly #fetch: typeof fetch;

  /** `scope` is the page's address, below which all files lie. */
  constructor(program: ProgramFiles, scope: string, caches: CacheStorage, fetchFile: typeof fetch) {
    this.#program = program;
    this.#scope = scope;
    this.#caches = caches;
    this.#fetch = fetchFile;
  }

  get #name(): string {
    return PREFIX + this.#program.version;
  }

  /**
   * Stores every file of this version. What an earlier version has under the same lasting name is taken from there.
   * @throws where a file cannot be fetched; the version is then not taken.
   */
  async fill(): Promise<void> {
    const store = await this.#caches.open(this.#name);
    await Promise.all(this.#program.files.map((file) => this.#keep(store, file)));
  }

  /** Forgets all versions but this one and the one before. */
  async forgetOlder(): Promise<void> {
    const others = (await this.#caches.keys()).filter((key) => key.startsWith(PREFIX) && key !== this.#name);
    await Promise.all(others.slice(0, -1).map((key) => this.#caches.delete(key)));
  }

  /**
   * The stored answer to a request: the page for every visit below the scope, else the file itself, of the version before
   * where only that one has it. Undefined where nothing is stored.
   */
  async answer(request: Request): Promise<Response | undefined> {
    const address = request.mode === 'navigate' ? this.#scope : request.url;
    const store = await this.#caches.open(this.#name);
    const found = await store.match(address);
    if (found !== undefined || !LASTING.test(address)) return found;
    return this.#caches.match(address);
  }

  /** Whether a request is for this program at all. */
  isOwn({ method, url }: Request): boolean {
    return method === 'GET' && url.startsWith(this.#scope);
  }

  async #keep(store: Cache, { path, mark }: ProgramFile): Promise<void> {
    const address = new URL(path, this.#scope).href;
    const before = LASTING.test(path) ? await this.#caches.match(address) : undefined;
    const answer = before ?? (await this.#fetch(address, { cache: 'no-cache' }));
    if (!answer.ok) throw new Error(`${address} (${mark}) was answered with ${answer.status}`);
    await store.put(address, answer);
  }
}
