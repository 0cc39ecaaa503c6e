import { StorageError } from './storage-port.ts';

/** Does something with a database; whatever goes wrong is a `StorageError`. */
export async function guarded<Answer>(work: () => Promise<Answer>): Promise<Answer> {
  try {
    return await work();
  } catch (cause) {
    if (cause instanceof StorageError) throw cause;
    const full = cause instanceof DOMException && cause.name === 'QuotaExceededError';
    throw new StorageError(full ? 'full' : 'failed', cause);
  }
}

/**
 * Resolves once a transaction has come through with a request of it. Where storage is full, the request itself only says that it
 * was aborted; the transaction says why.
 */
export async function written(
  transaction: { readonly done: Promise<void> },
  request: Promise<unknown>,
): Promise<void> {
  request.catch(() => undefined);
  await transaction.done;
}
