import type { MessagePort } from 'node:worker_threads';
import * as Comlink from 'comlink';
import { afterEach, describe, expect, it } from 'vitest';
import { InputError } from '../../src/base/errors.ts';
import { TaskClient, WorkerFault, type WorkerThread } from '../../src/compute/task-client.ts';
import type { WorkerApi, WorkerOutcome } from '../../src/compute/worker-api.ts';

const answer = (value: unknown): WorkerOutcome => ({ kind: 'answer', answer: value });
const later = (ms: number) => new Promise<void>((resolve) => setTimeout(resolve, ms));

/** A thread that runs in this one, behind the same message channel as a real one. */
class NearThread extends EventTarget implements WorkerThread {
  static made: NearThread[] = [];
  readonly #channel = new MessageChannel();
  isEnded = false;

  constructor(run: WorkerApi['run'], stop: () => void = () => undefined) {
    super();
    NearThread.made.push(this);
    Comlink.expose({ run, stop } satisfies WorkerApi, this.#channel.port1 as unknown as Comlink.Endpoint);
    this.#channel.port2.addEventListener('message', (event) =>
      this.dispatchEvent(new MessageEvent('message', { data: (event as MessageEvent).data })),
    );
    this.#channel.port2.start();
  }

  postMessage(message: unknown, transfer: Transferable[] = []): void {
    if (!this.isEnded) this.#channel.port2.postMessage(message, transfer as never);
  }

  terminate(): void {
    this.isEnded = true;
    this.#channel.port1.close();
    this.#channel.port2.close();
  }
}

afterEach(() => {
  for (const thread of NearThread.made) thread.terminate();
  NearThread.made = [];
});

describe('a client of a worker', () => {
  it('brings answers, and keeps its worker', async () => {
    const client = new TaskClient(() => new NearThread(async (name, request) => answer([name, request])));
    expect(await client.ask('plan', { a: 1 })).toEqual(['plan', { a: 1 }]);
    expect(await client.ask('plan', 2)).toEqual(['plan', 2]);
    expect(NearThread.made).toHaveLength(1);
  });

  it('tells a wrong request from a failure of the program', async () => {
    const outcomes: WorkerOutcome[] = [
      { kind: 'wrong-request', path: 'order.quantity', reason: '0 is below 1' },
      { kind: 'own-fault', message: 'something broke' },
    ];
    const client = new TaskClient(() => new NearThread(async () => outcomes.shift()!));
    await expect(client.ask('plan', {})).rejects.toThrow(new InputError('order.quantity', '0 is below 1'));
    await expect(client.ask('plan', {})).rejects.toThrow(new WorkerFault('something broke'));
  });

  it('ends the older question when a newer one comes, and never gives the older answer', async () => {
    let stop = () => undefined as undefined;
    const run: WorkerApi['run'] = async (_, request) => {
      if (request === 'old')
        await new Promise<void>((resolve) => {
          stop = () => void resolve();
        });
      return request === 'old' ? { kind: 'stopped' } : answer(request);
    };
    const client = new TaskClient(() => new NearThread(run, () => stop()));
    const old = client.ask('plan', 'old').catch((error: Error) => error.name);
    await later(20);
    expect(await client.ask('plan', 'new')).toBe('new');
    expect(await old).toBe('AbortError');
    expect(NearThread.made).toHaveLength(1);
  });

  it('replaces a worker that does not stop when told', async () => {
    const run: WorkerApi['run'] = async (_, request) =>
      request === 'stuck' ? new Promise(() => undefined) : answer(request);
    const client = new TaskClient(() => new NearThread(run));
    const stopping = new AbortController();
    const stuck = client
      .ask('plan', 'stuck', { signal: stopping.signal })
      .catch((error: Error) => error.name);
    await later(20);
    stopping.abort();
    expect(await stuck).toBe('AbortError');
    expect(await client.ask('plan', 'next')).toBe('next');
    expect(NearThread.made.map(({ isEnded }) => isEnded)).toEqual([true, false]);
  });

  it('replaces a worker that hangs or breaks down, and says so', async () => {
    const run: WorkerApi['run'] = async (_, request) =>
      request === 'stuck' ? new Promise(() => undefined) : answer(request);
    const client = new TaskClient(() => new NearThread(run));
    await expect(client.ask('plan', 'stuck', { hungAfterMs: 30 })).rejects.toThrow('no answer within 0.03 s');
    const broken = client.ask('plan', 'stuck').catch((error: Error) => error.message);
    await later(20);
    NearThread.made.at(-1)!.dispatchEvent(new Event('error'));
    expect(await broken).toBe('the calculation broke down; it will start afresh');
    expect(await client.ask('plan', 'next')).toBe('next');
  });

  it('puts the question of a worker that was killed to a second one, says so, and to no third', async () => {
    const told: string[] = [];
    let asked = 0;
    const run: WorkerApi['run'] = async (_, request) => {
      asked++;
      return asked === 1 || request === 'deadly' ? new Promise(() => undefined) : answer(request);
    };
    const client = new TaskClient(() =>
      Object.assign(new NearThread(run), { askedAgain: (sentence: string) => told.push(sentence) }),
    );
    const killAtQuestion = async (count: number) => {
      await expect.poll(() => asked, { interval: 5, timeout: 30_000 }).toBe(count);
      NearThread.made.at(-1)!.dispatchEvent(new Event('gone'));
    };
    const once = client.ask('plan', 'once');
    await killAtQuestion(1);
    expect(await once).toBe('once');
    const twice = client.ask('plan', 'deadly').catch((error: Error) => [error.name, error.message]);
    await killAtQuestion(3);
    await killAtQuestion(4);
    const sentence = 'the calculation was ended from outside, perhaps for want of memory';
    expect(await twice).toEqual(['WorkerFault', sentence]);
    expect(told).toEqual([`${sentence}; it has begun anew`, `${sentence}; it has begun anew`]);
    expect(await client.ask('plan', 'next')).toBe('next');
    expect(NearThread.made).toHaveLength(4);
  });

  it('replaces a worker that is killed while it is idle at the next question', async () => {
    const client = new TaskClient(() => new NearThread(async (_, request) => answer(request)));
    await client.ask('plan', 1);
    NearThread.made[0]!.dispatchEvent(new Event('gone'));
    expect(await client.ask('plan', 2)).toBe(2);
    expect(NearThread.made.map(({ isEnded }) => isEnded)).toEqual([true, false]);
  });

  it('takes a worker that reports progress for alive, however long it works', async () => {
    const client = new TaskClient(
      () =>
        new NearThread(async (_, __, progress) => {
          for (let step = 1; step <= 8; step++) {
            await later(150);
            progress?.postMessage([step / 8, 'working']);
          }
          return answer('done');
        }),
    );
    expect(await client.ask('plan', {}, { hungAfterMs: 1000 })).toBe('done');
    expect(NearThread.made.map(({ isEnded }) => isEnded)).toEqual([false]);
  });

  it('passes progress on', async () => {
    const heard: number[] = [];
    const client = new TaskClient(
      () =>
        new NearThread(async (_, __, progress) => {
          progress?.postMessage([0.5, 'half']);
          await later(5);
          return answer(0);
        }),
    );
    await client.ask('plan', {}, { progress: (fraction) => heard.push(fraction) });
    expect(heard).toEqual([0.5]);
  });

  it('closes the way that progress takes, however a question ends', async () => {
    let closed = 0;
    const client = new TaskClient(
      () =>
        new NearThread(async (_, request, progress) => {
          (progress as unknown as MessagePort).on('close', () => closed++);
          if (request === 'hang') await later(10_000);
          return answer(0);
        }),
    );
    await client.ask('plan', 'answer');
    await expect.poll(() => closed).toBe(1);
    await expect(client.ask('plan', 'hang', { hungAfterMs: 100 })).rejects.toThrow('was ended');
    await expect.poll(() => closed).toBe(2);
  });
});
