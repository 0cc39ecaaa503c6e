import { describe, expect, it } from 'vitest';
import { NoticeBoard } from '../../../src/app/notice.ts';
import { ProgramUpdates } from '../../../src/app/offline/program-updates.ts';
import { TAKE_OVER } from '../../../src/app/offline/take-over.ts';

class FakeWorker extends EventTarget {
  readonly heard: unknown[] = [];
  state = 'installing';
  postMessage(message: unknown): void {
    this.heard.push(message);
  }
  become(state: string): void {
    this.state = state;
    this.dispatchEvent(new Event('statechange'));
  }
}

class FakeRegistration extends EventTarget {
  installing: FakeWorker | null = null;
  waiting: FakeWorker | null = null;
  active: FakeWorker | null = null;
  /** A newer version is found, stored, and waits. */
  bring(worker: FakeWorker): void {
    this.installing = worker;
    this.dispatchEvent(new Event('updatefound'));
    this.installing = null;
    this.waiting = worker;
    worker.become('installed');
  }
}

/** A page that an earlier version serves already, with its updates begun. */
async function page(options: { isSaved?: () => boolean; refuses?: boolean } = {}) {
  const registration = new FakeRegistration();
  registration.active = new FakeWorker();
  const container = Object.assign(new EventTarget(), {
    controller: registration.active as FakeWorker | null,
    register: async () => {
      if (options.refuses) throw new DOMException('no', 'SecurityError');
      return registration;
    },
  });
  const deeds: string[] = [];
  const notices = new NoticeBoard(() => undefined);
  const updates = new ProgramUpdates(container as unknown as ServiceWorkerContainer, {
    notices,
    save: async () => {
      deeds.push('save');
      return options.isSaved?.() ?? true;
    },
    reload: () => void deeds.push('reload'),
    changed: () => undefined,
  });
  await updates.start('./service-worker.js');
  const takenOver = async (worker: FakeWorker) => {
    container.controller = worker;
    container.dispatchEvent(new Event('controllerchange'));
    await new Promise((resolve) => setTimeout(resolve));
  };
  return { registration, updates, notices, deeds, takenOver };
}

const settled = () => new Promise((resolve) => setTimeout(resolve));

describe('updates of the program', () => {
  it('are offered once stored, and start after saving on the reader’s word', async () => {
    const { registration, notices, deeds, takenOver } = await page();
    const worker = new FakeWorker();
    registration.bring(worker);
    expect(notices.all.map(({ text }) => text)).toEqual(['A new version is ready.']);
    expect([worker.heard, deeds]).toEqual([[], []]);
    notices.all[0]!.actions[0]!.run();
    await settled();
    expect([worker.heard, deeds]).toEqual([[TAKE_OVER], ['save']]);
    await takenOver(worker);
    expect(deeds).toEqual(['save', 'save', 'reload']);
  });

  it('do not start while an edit could not be saved, and can be tried again', async () => {
    let isSaved = false;
    const { registration, notices, deeds } = await page({ isSaved: () => isSaved });
    const worker = new FakeWorker();
    registration.bring(worker);
    notices.all[0]!.actions[0]!.run();
    await settled();
    expect(worker.heard).toEqual([]);
    expect(notices.all[0]!.text).toContain('could not be saved yet');
    isSaved = true;
    notices.all[0]!.actions[0]!.run();
    await settled();
    expect(worker.heard).toEqual([TAKE_OVER]);
    expect(deeds).not.toContain('reload');
  });

  it('started in another window leave this one alone but say so', async () => {
    const { notices, deeds, takenOver } = await page();
    await takenOver(new FakeWorker());
    expect(deeds).toEqual([]);
    expect(notices.all[0]!.text).toContain('another window');
    notices.all[0]!.actions[0]!.run();
    await settled();
    expect(deeds).toEqual(['save', 'reload']);
  });

  it('say whether the program starts without a network', async () => {
    expect((await page()).updates.offline).toBe('ready');
    expect((await page({ refuses: true })).updates.offline).toBe('impossible');
  });
});
