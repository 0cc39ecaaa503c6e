import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import { StorageError } from './storage-port.ts';

/** A database that does not open within this time is held by somebody, and the page must not wait for ever. */
const PATIENCE_MS = 10_000;

/** What a database is called, its layout, and who hears that it is closed from outside. */
export interface DatabasePlan<Schema extends DBSchema> {
  readonly name: string;
  /** Version of the stores' layout, from 1. */
  readonly layout: number;
  /** Brings the stores from the layout `from` (0: there are none) to the present one. */
  upgrade(database: IDBPDatabase<Schema>, from: number): void;
  /** The database was closed: a newer program wants it, or it was deleted or taken away. */
  closed(why: 'superseded' | 'deleted'): void;
}

/**
 * Opens a database and lets it go where a newer program in another window wants it, so that nothing hangs there.
 * @throws StorageError `newer` where a newer program has changed the layout, `held` where another window does not let it go,
 * `blocked` where the browser gives none.
 */
export function openDatabase<Schema extends DBSchema>({
  name,
  layout,
  upgrade,
  closed,
}: DatabasePlan<Schema>): Promise<IDBPDatabase<Schema>> {
  return new Promise((resolve, reject) => {
    const held = () => reject(new StorageError('held'));
    const patience = setTimeout(held, PATIENCE_MS);
    // Within `then`, since a browser that forbids storage throws at once.
    Promise.resolve()
      .then(() =>
        openDB<Schema>(name, layout, {
          upgrade,
          blocked: held,
          blocking: (_, wanted, event) => {
            (event.target as IDBDatabase).close();
            closed(wanted === null ? 'deleted' : 'superseded');
          },
          terminated: () => closed('deleted'),
        }),
      )
      .then(resolve, (cause: unknown) => {
        const isNewer = cause instanceof DOMException && cause.name === 'VersionError';
        reject(new StorageError(isNewer ? 'newer' : 'blocked', cause));
      })
      .finally(() => clearTimeout(patience));
  });
}
