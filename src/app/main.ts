import './shell/app-shell.ts';
import { capital } from '../base/format.ts';
import { Bench } from './bench.ts';
import { tellOfKilledWorkers, yieldInWorker } from './compute-workers.ts';
import { parseRoute } from './routes.ts';
import type { AppShell } from './shell/app-shell.ts';
import { BatchShelf } from './storage/batch-shelf.ts';
import { LocalJournal } from './storage/crash-journal.ts';
import { IndexedDbStorage } from './storage/indexed-db-storage.ts';
import { MemoryStorage } from './storage/memory-storage.ts';
import { StorageError } from './storage/storage-port.ts';

const { batchId: wanted } = { batchId: undefined, ...parseRoute(location.hash) };
const shell = document.querySelector('app-shell') as AppShell;
const bench = await start();
shell.bench = bench;
tellOfKilledWorkers((sentence) =>
  bench.notices.post({ id: 'killed-worker', kind: 'news', text: `${capital(sentence)}.` }),
);
bench.computeYieldsBy(yieldInWorker());
(window.requestIdleCallback ?? setTimeout)(() => {
  void bench.loadLibrary();
  void keepHistory();
  void import('../optics/simd/compiled-kernels.ts').then(({ useCompiledKernels }) => useCompiledKernels());
  void workOffline();
});

/** Opens the bench on the browser's storage, or on the page's own memory where that is refused. */
async function start(): Promise<Bench> {
  try {
    return await Bench.start(new BatchShelf(await IndexedDbStorage.open(), new LocalJournal()), wanted);
  } catch (error) {
    if (!(error instanceof StorageError)) throw error;
    return Bench.start(new BatchShelf(new MemoryStorage()), wanted, error);
  }
}

/** Keeps the way back over a reload, where batches are kept too. */
async function keepHistory(): Promise<void> {
  if (bench.shelf.journal === undefined) return;
  const [{ HistoryDesk }, { DatabaseHistoryShelf }] = await Promise.all([
    import('./history/history-desk.ts'),
    import('./history/history-shelf.ts'),
  ]);
  await bench.keepHistoryBy((store) => new HistoryDesk(store, new DatabaseHistoryShelf()));
}

/** Keeps the program in the browser where it may; the files that a developer's server makes as it goes cannot be kept. */
async function workOffline(): Promise<void> {
  if (!import.meta.env.PROD || navigator.serviceWorker === undefined) {
    shell.offline = 'impossible';
    return;
  }
  const { ProgramUpdates } = await import('./offline/program-updates.ts');
  const updates = new ProgramUpdates(navigator.serviceWorker, {
    notices: bench.notices,
    save: async () => {
      await bench.flush();
      return bench.state.saving.kind === 'saved';
    },
    reload: () => location.reload(),
    changed: () => {
      shell.offline = updates.offline;
    },
  });
  void updates.start('./service-worker.js');
}
