import { type ProgramFiles, StoredFiles } from './stored-files.ts';
import { TAKE_OVER } from './take-over.ts';

/** Put in by the build, which alone knows the files. */
declare const __PROGRAM_FILES__: ProgramFiles;

interface LifetimeEvent extends Event {
  waitUntil(work: Promise<unknown>): void;
}
interface FileEvent extends LifetimeEvent {
  readonly request: Request;
  respondWith(answer: Promise<Response>): void;
}
/** The part of a service worker's global scope that is used here; the DOM's types do not have it. */
interface Scope {
  readonly registration: { readonly scope: string };
  readonly clients: { claim(): Promise<void> };
  readonly caches: CacheStorage;
  skipWaiting(): Promise<void>;
  addEventListener(kind: 'install' | 'activate', listener: (event: LifetimeEvent) => void): void;
  addEventListener(kind: 'fetch', listener: (event: FileEvent) => void): void;
  addEventListener(kind: 'message', listener: (event: MessageEvent) => void): void;
}

const scope = globalThis as unknown as Scope;
const files = new StoredFiles(
  __PROGRAM_FILES__,
  scope.registration.scope,
  scope.caches,
  fetch.bind(globalThis),
);

scope.addEventListener('install', (event) => event.waitUntil(files.fill()));

scope.addEventListener('activate', (event) =>
  event.waitUntil(files.forgetOlder().then(() => scope.clients.claim())),
);

// A new version waits until the reader asks for it: nobody loses a window in the middle of his work.
scope.addEventListener('message', ({ data }) => {
  if (data === TAKE_OVER) void scope.skipWaiting();
});

scope.addEventListener('fetch', (event) => {
  const { request } = event;
  if (!files.isOwn(request)) return;
  event.respondWith(files.answer(request).then((stored) => stored ?? fetch(request)));
});
