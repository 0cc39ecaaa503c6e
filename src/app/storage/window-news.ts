/** What one window of the program tells the others on the same machine. */
export interface WindowNews {
  readonly id: string;
  readonly deed: 'saved' | 'deleted';
}

/** Tells the other windows about savings and hears of theirs. Where the browser has no channel, nobody hears. */
export class WindowChannel {
  readonly #channel: BroadcastChannel | undefined;

  constructor(hear: (news: WindowNews) => void) {
    if (typeof BroadcastChannel === 'undefined') return;
    this.#channel = new BroadcastChannel('coatwright');
    this.#channel.onmessage = ({ data }: MessageEvent<WindowNews>) => hear(data);
  }

  tell(news: WindowNews): void {
    this.#channel?.postMessage(news);
  }

  close(): void {
    this.#channel?.close();
  }
}
