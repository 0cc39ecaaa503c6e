import { requireFileSize } from '../base/file-size.ts';
import { counted } from '../base/format.ts';
import { trailFault } from '../batch/audit-trail.ts';
import { carryMaterials } from '../batch/carry-materials.ts';
import type { Batch, Side } from '../batch/document.ts';
import { readBatch, writeBatch } from '../batch/read-batch.ts';
import { loadWholeLibrary } from '../materials/library.ts';
import type { BenchState } from './bench-state.ts';
import { checkEdit, refusalOf } from './check-edit.ts';
import { DEMO_BATCHES } from './demo-batches.ts';
import { type Change, DocumentStore } from './document-store.ts';
import { downloadText } from './download.ts';
import type { HistoryDesk } from './history/history-desk.ts';
import { NoticeBoard } from './notice.ts';
import { PlanBook } from './plan-book.ts';
import { applyTheme, keepPreferences, loadPreferences, type Preferences } from './preferences.ts';
import { Autosave, type SaveState } from './storage/autosave.ts';
import { type BatchShelf, entryOf, type LeftEdits, readWithLibrary } from './storage/batch-shelf.ts';
import { StorageError } from './storage/storage-port.ts';
import { WindowChannel, type WindowNews } from './storage/window-news.ts';
import { TrailKeeper, withTrailOf } from './trail-keeper.ts';
import { type YieldCall, YieldDesk } from './yield-desk.ts';

/** An edit of the batch; `key` also names the field that a refusal is said beside. */
export type BatchChange = Change<Batch>;

/** A nearly empty batch; the search for its first stack is fetched when it is wanted. */
async function freshBatch(id: string): Promise<Batch> {
  const { newBatch } = await import('../batch/new-batch.ts');
  return newBatch(id);
}

/**
 * The workbench's memory: the open batch with its edits, the plan that follows from it, and its place in storage. Views
 * read `state`, which is replaced as a whole at every change, and call the methods.
 */
export class Bench {
  readonly shelf: BatchShelf;
  readonly notices: NoticeBoard;
  /** Writes into the batch's trail. */
  readonly trail: TrailKeeper;
  /** Told when the open batch goes on as a copy, under another id than the address says. */
  onCopied: (id: string) => void = () => undefined;
  readonly #store: DocumentStore<Batch>;
  readonly #plans = new PlanBook();
  readonly #yields: YieldDesk;
  readonly #channel: WindowChannel;
  readonly #listeners = new Set<() => void>();
  #histories: HistoryDesk | undefined;
  #autosave: Autosave;
  /** Why nothing is stored beyond this page. */
  readonly #trouble: StorageError | undefined;
  #saving: SaveState;
  #refusals: ReadonlyMap<string, string> = new Map();
  #preferences: Preferences = loadPreferences();
  #side: Side = 'front';
  #lastGood: BenchState['plan'];
  #state: BenchState;

  private constructor(
    shelf: BatchShelf,
    opened: { batch: Batch; revision: number },
    trouble: StorageError | undefined,
  ) {
    this.shelf = shelf;
    this.#trouble = trouble;
    this.#saving = this.#saved;
    this.notices = new NoticeBoard(() => this.#changed());
    this.#store = new DocumentStore(opened.batch, withTrailOf);
    this.trail = new TrailKeeper(this.#store, () => this.#autosave.want());
    this.#yields = new YieldDesk(() => this.#onYield());
    this.#autosave = this.#autosaveOf(opened.revision);
    this.#channel = new WindowChannel((news) => void this.#hear(news));
    this.#store.subscribe(() => this.#changed());
    this.#state = this.#compose();
    this.#yields.ask(opened.batch);
    applyTheme(this.#preferences.theme);
  }

  /**
   * Opens the bench on the batch named, else the one open last, else the newest; an empty shelf is filled with the demo.
   * `trouble` is said where storage could not be used.
   */
  static async start(shelf: BatchShelf, wanted?: string, trouble?: StorageError): Promise<Bench> {
    const entries = await shelf.list();
    if (entries.length === 0)
      for (const text of [...DEMO_BATCHES].reverse()) await shelf.add(readBatch(text));
    const order = [wanted, loadPreferences().lastBatch, ...(await shelf.list()).map(({ id }) => id)];
    const damaged: string[] = [];
    const left: (readonly [string, LeftEdits])[] = [];
    for (const id of new Set(order)) {
      if (id === undefined) continue;
      for (const edits of await shelf.bringBack(id)) left.push([id, edits]);
      const taken = await shelf.take(id);
      if (taken.kind === 'damaged') damaged.push(id);
      if (taken.kind !== 'batch') continue;
      return Bench.#opened(shelf, taken, damaged, left, trouble);
    }
    return Bench.#opened(shelf, await shelf.add(await freshBatch('new-order')), damaged, left, trouble);
  }

  static #opened(
    shelf: BatchShelf,
    opened: { batch: Batch; revision: number },
    damaged: readonly string[],
    left: readonly (readonly [string, LeftEdits])[],
    trouble?: StorageError,
  ): Bench {
    const bench = new Bench(shelf, opened, trouble);
    if (trouble !== undefined) bench.#sayStorageFault(trouble);
    for (const id of damaged) void bench.#sayDamaged(id);
    for (const [id, edits] of left) bench.#sayLeft(id, edits);
    return bench;
  }

  get state(): BenchState {
    return this.#state;
  }

  /** The edits' history, for the list of it. */
  get history(): DocumentStore<Batch> {
    return this.#store;
  }

  subscribe(listener: () => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  /** Changes the batch. Answers false where the edit was refused; the sentence then stands beside its field. */
  edit(change: BatchChange): boolean {
    const key = change.key ?? '';
    try {
      const before = this.#store.document;
      const refusals = new Map(this.#refusals);
      refusals.delete(key);
      this.#refusals = refusals;
      if (this.#store.edit(change, (after) => checkEdit(before, after))) this.#edited(change.key);
      else this.#changed();
      return true;
    } catch (error) {
      const sentence = refusalOf(error);
      this.#refusals = new Map(this.#refusals).set(key, sentence);
      if (change.key === undefined)
        this.notices.post({ id: 'refused', kind: 'fault', text: `${sentence} Nothing was changed.` });
      else this.#changed();
      return false;
    }
  }

  /** Says beside a field why what was typed cannot be used; the batch stays as it is. */
  refuse(key: string, sentence: string): void {
    this.#refusals = new Map(this.#refusals).set(key, sentence);
    this.#changed();
  }

  /** Ends a row of edits: what is typed next is an edit of its own. */
  settle(): void {
    this.#store.settle();
    this.trail.close();
  }

  undo(): void {
    if (this.#store.undo() !== undefined) this.#edited();
  }

  redo(): void {
    if (this.#store.redo() !== undefined) this.#edited();
  }

  goTo(count: number): void {
    if (this.#store.goTo(count)) this.#edited();
  }

  showSide(side: Side): void {
    this.#side = side;
    this.#changed();
  }

  prefer(change: Partial<Preferences>): void {
    this.#preferences = { ...this.#preferences, ...change };
    keepPreferences(this.#preferences);
    applyTheme(this.#preferences.theme);
    this.#changed();
  }

  /** Gives the bench somebody who keeps the named edits over a reload, and takes up those that are kept. */
  keepHistoryBy(make: (store: DocumentStore<Batch>) => HistoryDesk): Promise<void> {
    this.#histories = make(this.#store);
    return this.#histories.recall();
  }

  /** Gives the bench somebody who computes yields; until then there are none. */
  computeYieldsBy(call: YieldCall): void {
    this.#yields.connect(call);
  }

  /** Opens another batch of the shelf; says so where it cannot, and keeps the present one. */
  async open(id: string): Promise<boolean> {
    if (id === this.#store.document.id) return true;
    await this.flush();
    return (await this.orSay(() => this.#openStored(id))) ?? false;
  }

  async #openStored(id: string): Promise<boolean> {
    for (const edits of await this.shelf.bringBack(id)) this.#sayLeft(id, edits);
    const taken = await this.shelf.take(id);
    if (taken.kind === 'damaged') await this.#sayDamaged(id);
    this.notices.remove('missing');
    if (taken.kind === 'missing')
      this.notices.post({ id: 'missing', kind: 'fault', text: `There is no batch "${id}" in this browser.` });
    if (taken.kind === 'batch') this.#show(taken);
    return taken.kind === 'batch';
  }

  /** A new batch, nearly empty where none is given, opened. Answers its id, or undefined where it could not be stored. */
  async create(batch?: Batch): Promise<string | undefined> {
    return this.#put(async () => this.shelf.add(batch ?? (await freshBatch('order'))));
  }

  async duplicate(): Promise<string | undefined> {
    return this.#put(() => this.shelf.duplicate(this.#store.document));
  }

  /** Reads a batch from a file and opens it; a file that is no good changes nothing. */
  async import(file: File): Promise<string | undefined> {
    const fileName = file.name;
    let batch: Batch;
    try {
      requireFileSize('', file.size);
      batch = await readWithLibrary(await file.text());
    } catch (error) {
      const sentence = error instanceof Error ? error.message : String(error);
      this.notices.post({
        id: 'import',
        kind: 'fault',
        text: `${fileName} was not opened: ${sentence}. The open batch stays as it was.`,
      });
      return undefined;
    }
    this.notices.remove('import');
    const id = await this.#put(() => this.shelf.add(batch));
    if (id !== undefined && (batch.runs.length > 0 || batch.trail !== undefined)) this.#sayTrail(fileName);
    return id;
  }

  /** Writes into the trail of an opened file that it came from there and whether it held; says so where it did not. */
  #sayTrail(fileName: string): void {
    const { trail = [] } = this.#store.document;
    const fault = trailFault(trail);
    const count = counted(trail.length, 'entry', 'entries');
    this.trail.write(
      `Read from the file ${fileName}, with a trail of ${count}${fault === undefined ? '' : ` that does not hold: ${fault}`}`,
    );
    if (fault !== undefined)
      this.notices.post({
        id: 'trail',
        kind: 'fault',
        text: `The run log in ${fileName} was changed outside this program, or damaged: ${fault}. It was opened, and its trail says so.`,
      });
  }

  /** Hands the batch out as a file, with the materials that it uses, so that it computes the same elsewhere. */
  export(): void {
    const { document } = this.#store;
    downloadText(`${document.id}.json`, writeBatch(carryMaterials(document)), 'application/json');
  }

  /** Deletes a batch. Where it is the open one, the next of the shelf is opened. */
  async delete(id: string): Promise<void> {
    await this.orSay(async () => {
      const isOpen = id === this.#store.document.id;
      await this.shelf.delete(id);
      if (isOpen) this.#autosave.drop();
      await this.#histories?.forget(id);
      this.#channel.tell({ id, deed: 'deleted' });
      if (isOpen) await this.#openAny();
      else this.#changed();
    });
  }

  /** Makes the further data sets of the library known, which are no part of the start. */
  async loadLibrary(): Promise<void> {
    await loadWholeLibrary();
    this.#changed();
  }

  /** Stores at once what waits, as before the page goes away. */
  flush(): Promise<void> {
    this.trail.close();
    return this.#autosave.flush();
  }

  /** Does something in storage; where that fails, says so and answers undefined. */
  async orSay<Answer>(deed: () => Promise<Answer>): Promise<Answer | undefined> {
    try {
      return await deed();
    } catch (error) {
      if (!(error instanceof StorageError)) throw error;
      this.#sayStorageFault(error);
      return undefined;
    }
  }

  async #openAny(): Promise<void> {
    for (const { id } of await this.shelf.list()) {
      const taken = await this.shelf.take(id);
      if (taken.kind === 'batch') return this.#show(taken);
    }
    this.#show(await this.shelf.add(await freshBatch('new-order')));
  }

  async #put(deed: () => Promise<{ batch: Batch; revision: number }>): Promise<string | undefined> {
    await this.flush();
    return this.orSay(async () => {
      const put = await deed();
      this.#show(put);
      return put.batch.id;
    });
  }

  #show(opened: { batch: Batch; revision: number }): void {
    this.#autosave.stop();
    this.#autosave = this.#autosaveOf(opened.revision);
    this.#settleSaving();
    this.#refusals = new Map();
    this.#lastGood = undefined;
    this.prefer({ lastBatch: opened.batch.id });
    this.#store.open(opened.batch);
    void this.#histories?.recall();
    this.#yields.ask(opened.batch);
  }

  #edited(key?: string): void {
    const { latest } = this.#store;
    if (latest !== undefined) this.trail.note(latest, key);
    if (latest !== undefined && this.#store.past.at(-1) !== latest) this.#refusals = new Map();
    this.#autosave.want();
    this.#yields.follow(this.#store.document);
    this.#changed();
  }

  #autosaveOf(revision: number): Autosave {
    return new Autosave(
      this.shelf.storage,
      () => entryOf(this.#store.document),
      revision,
      (saving) => this.#onSaving(saving),
      this.shelf.journal,
    );
  }

  #onYield(): void {
    const { fault, isBroken } = this.#yields.state;
    if (!isBroken) this.notices.remove('yield');
    else
      this.notices.post({
        id: 'yield',
        kind: 'fault',
        text: `The expected yield is missing: ${fault}.`,
        actions: [{ label: 'Compute it again', run: () => this.#askYield() }],
      });
    this.#changed();
  }

  #askYield(): void {
    this.#yields.ask(this.#store.document);
    this.#changed();
  }

  #onSaving(saving: SaveState): void {
    this.#saving = saving;
    if (saving.kind === 'failed') this.#sayStorageFault(saving.error);
    else if (saving.kind === 'saved') {
      this.#settleSaving();
      void this.#histories?.keep();
      this.#channel.tell({ id: this.#store.document.id, deed: 'saved' });
    }
    this.#changed();
  }

  /** How storing goes when nothing waits: all is safe, but where the page has no storage. */
  get #saved(): SaveState {
    return this.#trouble === undefined ? { kind: 'saved' } : { kind: 'failed', error: this.#trouble };
  }

  #settleSaving(): void {
    this.#saving = this.#saved;
    if (this.#trouble === undefined) this.notices.remove('storage');
  }

  async #hear({ id, deed }: WindowNews): Promise<void> {
    if (id !== this.#store.document.id || deed === 'deleted' || !this.#autosave.isSettled) {
      this.#changed();
      return;
    }
    const taken = await this.orSay(() => this.shelf.take(id));
    if (taken?.kind !== 'batch' || taken.revision === this.#autosave.revision) return;
    if (!this.#autosave.isSettled || id !== this.#store.document.id) return;
    this.#follow(taken, 'Changed in another window');
  }

  /** Takes what another window has stored as an edit of the batch here, so that undo leads back to what stood here before. */
  #follow({ batch, revision }: { batch: Batch; revision: number }, name: string): void {
    this.#autosave.stop();
    this.#autosave = this.#autosaveOf(revision);
    this.#settleSaving();
    this.#store.edit({
      name,
      recipe: (draft) => {
        for (const field of Object.keys(draft) as (keyof Batch)[]) if (!(field in batch)) delete draft[field];
        Object.assign(draft, batch);
      },
    });
    this.#yields.ask(this.#store.document);
  }

  #sayStorageFault(error: StorageError): void {
    const exports = { label: 'Export this batch', run: () => this.export() };
    const again = { label: 'Try again', run: () => void this.#autosave.flush() };
    const actions = {
      full: [exports, again],
      failed: [exports, again],
      blocked: [exports],
      held: [exports],
      newer: [exports],
      superseded: [exports],
      gone: [{ label: 'Put it back', run: () => void this.#autosave.overrule(0) }, exports],
      conflict: [
        { label: 'Take the other one', run: () => void this.#takeTheirs() },
        { label: 'Keep mine as a copy', run: () => void this.#keepCopy() },
        exports,
      ],
    }[error.fault];
    this.notices.post({ id: 'storage', kind: 'fault', text: error.message, actions });
  }

  async #takeTheirs(): Promise<void> {
    const taken = await this.orSay(() => this.shelf.take(this.#store.document.id));
    if (taken?.kind !== 'batch') return;
    this.#autosave.drop();
    this.#follow(taken, "Took the other window's version");
  }

  async #keepCopy(): Promise<void> {
    this.trail.close();
    const { document } = this.#store;
    await this.orSay(async () => {
      const copy = await this.shelf.add(document);
      this.#autosave.drop();
      this.#show(copy);
      this.onCopied(copy.batch.id);
    });
  }

  /** Says what became of the edits that a closed window had left of a batch. */
  #sayLeft(id: string, edits: LeftEdits): void {
    if (edits.kind === 'stored') {
      const where = edits.home === this.#store.document.id ? '' : ` They stand in the batch "${edits.home}".`;
      this.notices.post({
        id: `brought-${edits.home}`,
        kind: 'news',
        text: `A window was closed before its last edits were stored; they were brought back.${where}`,
      });
      return;
    }
    const { text, reason, forget } = edits;
    this.notices.post({
      id: `left-${id}-${text.length}`,
      kind: 'fault',
      text: `A window was closed before its last edits of "${id}" were stored, and they cannot be brought back: ${reason.replace(/\.$/, '')}. They are kept as they are.`,
      actions: [
        { label: 'Export their text', run: () => downloadText(`${id}-unsaved.txt`, text, 'text/plain') },
        { label: 'Forget them', run: forget },
      ],
    });
  }

  async #sayDamaged(id: string): Promise<void> {
    const taken = await this.shelf.take(id);
    if (taken.kind !== 'damaged') return;
    this.notices.post({
      id: `damaged-${id}`,
      kind: 'fault',
      text: `The stored batch "${id}" cannot be read: ${taken.reason}. It is kept as it is.`,
      actions: [
        { label: 'Export its text', run: () => downloadText(`${id}-damaged.txt`, taken.text, 'text/plain') },
      ],
    });
  }

  #changed(): void {
    this.#state = this.#compose();
    for (const listener of this.#listeners) listener();
  }

  #compose(): BenchState {
    const { document: batch, latest, past, future } = this.#store;
    const batchBefore = latest?.before ?? batch;
    const outcome = this.#plans.of(batch);
    if (outcome.plan !== undefined) this.#lastGood = outcome.plan;
    return {
      batch,
      batchBefore,
      step: latest?.name ?? '',
      outcome,
      plan: outcome.plan ?? this.#lastGood,
      planBefore: this.#plans.of(batchBefore).plan,
      isStale: outcome.plan === undefined,
      yields: this.#yields.state,
      side: this.#side,
      canUndo: past.length > 0,
      canRedo: future.length > 0,
      saving: this.#saving,
      notices: this.notices.all,
      refusals: this.#refusals,
      preferences: this.#preferences,
    };
  }
}
