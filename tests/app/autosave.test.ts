import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Autosave, type SaveState } from '../../src/app/storage/autosave.ts';
import { MemoryStorage } from '../../src/app/storage/memory-storage.ts';
import { StorageError } from '../../src/app/storage/storage-port.ts';

const settle = () => vi.advanceTimersByTimeAsync(300);

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

function desk(storage: MemoryStorage, revision = 0) {
  const page = { text: 'first' };
  const states: SaveState[] = [];
  const save = new Autosave(
    storage,
    () => ({ id: 'a', title: 'A', lot: '1', text: page.text }),
    revision,
    (state) => states.push(state),
  );
  return { page, states, save };
}

describe('autosave', () => {
  it('stores edits that follow each other together, the newest state', async () => {
    const storage = new MemoryStorage();
    const { page, save, states } = desk(storage);
    save.want();
    page.text = 'second';
    save.want();
    await settle();
    expect((await storage.read('a'))?.text).toBe('second');
    expect((await storage.read('a'))?.revision).toBe(1);
    expect(states.at(-1)).toEqual({ kind: 'saved' });
    expect(save.isSettled).toBe(true);
  });

  it('reports a conflict and overwrites nothing where another window has saved', async () => {
    const storage = new MemoryStorage();
    const one = desk(storage);
    one.save.want();
    await one.save.flush();
    const two = desk(storage, 1);
    two.page.text = 'theirs';
    two.save.want();
    await two.save.flush();
    one.page.text = 'mine';
    one.save.want();
    await one.save.flush();
    expect((await storage.read('a'))?.text).toBe('theirs');
    expect(one.states.at(-1)).toMatchObject({ kind: 'failed', error: { fault: 'conflict' } });
    await one.save.overrule(2);
    expect((await storage.read('a'))?.text).toBe('mine');
  });

  it('says so where the batch was deleted meanwhile', async () => {
    const storage = new MemoryStorage();
    const { save, states } = desk(storage);
    save.want();
    await save.flush();
    await storage.delete('a');
    save.want();
    await save.flush();
    expect(states.at(-1)).toMatchObject({ kind: 'failed', error: { fault: 'gone' } });
    expect(await storage.read('a')).toBeUndefined();
  });

  it('keeps what failed wanted, so that the next flush stores it', async () => {
    class FullOnce extends MemoryStorage {
      full = true;
      override save(...given: Parameters<MemoryStorage['save']>): Promise<number> {
        if (this.full) return Promise.reject(new StorageError('full'));
        return super.save(...given);
      }
    }
    const storage = new FullOnce();
    const { save, states } = desk(storage);
    save.want();
    await save.flush();
    expect(states.at(-1)).toMatchObject({ kind: 'failed', error: { fault: 'full' } });
    expect(save.isSettled).toBe(false);
    storage.full = false;
    await save.flush();
    expect(await storage.read('a')).toMatchObject({ text: 'first' });
  });

  it('drops what waits once it is stopped', async () => {
    const storage = new MemoryStorage();
    const { save } = desk(storage);
    save.want();
    save.stop();
    await settle();
    expect(await storage.list()).toEqual([]);
  });
});
