import { hostKernels } from '../../src/compute/kernel-host.ts';
import type { KernelThread } from '../../src/compute/thread-pool.ts';

/** Threads that live in this one, each answer delayed by a turn or two so that they overtake one another. */
export class Threads {
  started = 0;
  ended = 0;
  /** Called before each input; true: the thread breaks down instead of answering. */
  breaks: (thread: number) => boolean = () => false;
  /** Whether threads never answer. */
  hang = false;

  readonly start = (): KernelThread => {
    const number = this.started++;
    let alive = true;
    const take = hostKernels((answer) => {
      setTimeout(() => alive && !this.hang && thread.onAnswer(answer), number % 3);
    });
    const thread: KernelThread = {
      post: (order) => {
        if (order.kind === 'input' && this.breaks(number)) {
          alive = false;
          setTimeout(() => thread.onBroken('it was killed'), 0);
        } else if (alive) take(structuredClone(order));
      },
      onAnswer: () => undefined,
      onBroken: () => undefined,
      setBusy: () => undefined,
      end: () => {
        alive = false;
        this.ended++;
      },
    };
    return thread;
  };
}
