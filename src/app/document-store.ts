import { produce } from 'immer';

/** One completed change of the document, with a name that a person recognises in the history. */
export interface Edit<Document> {
  readonly name: string;
  readonly before: Document;
  readonly after: Document;
}

/** What is to be changed. */
export interface Change<Document> {
  /** The edit's name, from the document before and after, such as "Lens diameter 32 → 34 mm". */
  readonly name: string | ((before: Document, after: Document) => string);
  /** Changes a draft in place; the store makes a new document of it that shares all that stayed. */
  readonly recipe: (draft: Document) => void;
  /**
   * Edits in a row with one key become one edit, as when somebody types into one field or drags. Each of them
   * starts from the document before the first, so that what was half typed leaves no trace.
   */
  readonly key?: string;
  /** Whether more of it follows, as while a pointer drags: then the next edit of its key is one with it however late it comes. */
  readonly isHeld?: boolean;
}

/** Longest row of edits that is kept for undo. */
const MOST_EDITS = 500;

/** Edits with one key become one only while they follow each other as fast as this, or are held. */
const PAUSE_MS = 1500;

/**
 * Holds the one document, replaces it edit by edit, and remembers the way back. Documents are never changed
 * in place: who holds an old one can compare it with the new.
 */
export class DocumentStore<Document extends object> {
  #document: Document;
  #past: Edit<Document>[] = [];
  #future: Edit<Document>[] = [];
  #latest: Edit<Document> | undefined;
  #openKey: string | undefined;
  #isHeld = false;
  #touchedAt = 0;
  readonly #listeners = new Set<() => void>();
  readonly #now: () => number;
  readonly #keep: (present: Document, target: Document) => Document;

  /**
   * `keep` answers the target of a walk back or forth with what no walk takes away of the present document. `now` gives
   * milliseconds and is an argument so that tests need not wait.
   */
  constructor(
    document: Document,
    keep: (present: Document, target: Document) => Document = (_, target) => target,
    now: () => number = () => Date.now(),
  ) {
    this.#document = document;
    this.#keep = keep;
    this.#now = now;
  }

  get document(): Document {
    return this.#document;
  }

  /** The step that led to the present document, be it an edit, an undo or a redo; undefined right after opening. */
  get latest(): Edit<Document> | undefined {
    return this.#latest;
  }

  /** Edits that can be undone, oldest first. */
  get past(): readonly Edit<Document>[] {
    return this.#past;
  }

  /** Edits that can be redone, the next one first. */
  get future(): readonly Edit<Document>[] {
    return this.#future;
  }

  /**
   * Changes the document. `check` may refuse the new document by throwing; then nothing has happened.
   * Answers whether anything changed.
   */
  edit(change: Change<Document>, check?: (after: Document) => void): boolean {
    const merges = this.#mergesWith(change.key);
    const before = merges ? this.#past.at(-1)!.before : this.#document;
    const after = produce(before, (draft) => {
      change.recipe(draft as Document);
    });
    if (after === this.#document) return false;
    check?.(after);
    const name = typeof change.name === 'string' ? change.name : change.name(before, after);
    if (merges) this.#past.pop();
    const edit = { name, before, after };
    if (after !== before) this.#past.push(edit);
    if (this.#past.length > MOST_EDITS) this.#past.shift();
    this.#future = [];
    this.#openKey = change.key;
    this.#isHeld = change.isHeld ?? false;
    this.#touchedAt = this.#now();
    this.#show(edit);
    return true;
  }

  /** Changes what no walk takes away: no edit of the history, and no step of its own. */
  append(recipe: (draft: Document) => void): void {
    this.#document = produce(this.#document, (draft) => {
      recipe(draft as Document);
    });
    this.#tell();
  }

  /** Ends a row of edits with one key, as when a field is left or a drag ends. */
  settle(): void {
    this.#openKey = undefined;
  }

  /** Takes the last edit back; answers it, or undefined where there is none. */
  undo(): Edit<Document> | undefined {
    const edit = this.#past.pop();
    if (edit === undefined) return undefined;
    this.#future.unshift(edit);
    this.#openKey = undefined;
    this.#walk(`Undone: ${edit.name}`, edit.before);
    return edit;
  }

  /** Does the edit again that was taken back last. */
  redo(): Edit<Document> | undefined {
    const edit = this.#future.shift();
    if (edit === undefined) return undefined;
    this.#past.push(edit);
    this.#openKey = undefined;
    this.#walk(`Done again: ${edit.name}`, edit.after);
    return edit;
  }

  /** Walks back or forth until `count` edits lie in the past, as one step. Answers whether it walked. */
  goTo(count: number): boolean {
    const standing = this.#past.length;
    while (this.#past.length > Math.max(0, count)) this.#future.unshift(this.#past.pop()!);
    while (this.#past.length < count && this.#future.length > 0) this.#past.push(this.#future.shift()!);
    const last = this.#past.at(-1);
    const first = this.#future[0];
    if (this.#past.length === standing) return false;
    this.#openKey = undefined;
    this.#walk(`Back to: ${last?.name ?? 'the beginning'}`, last?.after ?? first!.before);
    return true;
  }

  /**
   * Puts edits that were kept from earlier before those made since, and the way forth where none was. The last edit of
   * `past` has led to the document that was opened.
   */
  restore(past: readonly Edit<Document>[], future: readonly Edit<Document>[]): void {
    if (this.#past.length === 0 && this.#future.length === 0) this.#future = [...future];
    this.#past = [...past, ...this.#past].slice(-MOST_EDITS);
    this.#tell();
  }

  /** Takes another document in place of this one and forgets the way back. */
  open(document: Document): void {
    this.#past = [];
    this.#future = [];
    this.#latest = undefined;
    this.#openKey = undefined;
    this.#document = document;
    this.#tell();
  }

  /** Calls `listener` after every change until the answered function is called. */
  subscribe(listener: () => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  #mergesWith(key: string | undefined): boolean {
    return (
      key !== undefined &&
      key === this.#openKey &&
      this.#past.length > 0 &&
      this.#past.at(-1)!.after === this.#document &&
      (this.#isHeld || this.#now() - this.#touchedAt <= PAUSE_MS)
    );
  }

  #walk(name: string, target: Document): void {
    const before = this.#document;
    this.#show({ name, before, after: this.#keep(before, target) });
  }

  #show(step: Edit<Document>): void {
    this.#latest = step;
    this.#document = step.after;
    this.#tell();
  }

  #tell(): void {
    for (const listener of this.#listeners) listener();
  }
}
