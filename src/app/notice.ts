/** Something that the reader has to know, with what he can do about it. It stays until it is put away or solved. */
export interface Notice {
  /** A later notice of the same id takes the place of the earlier one. */
  readonly id: string;
  readonly kind: 'fault' | 'news';
  readonly text: string;
  readonly actions: readonly NoticeAction[];
  /** Called when the reader puts the notice away. */
  readonly onClose?: () => void;
}

export interface NoticeAction {
  readonly label: string;
  /** The notice goes away before this is called. */
  readonly run: () => void;
}

/** The notices that are up, newest last. */
export class NoticeBoard {
  #notices: readonly Notice[] = [];
  readonly #changed: () => void;

  constructor(changed: () => void) {
    this.#changed = changed;
  }

  get all(): readonly Notice[] {
    return this.#notices;
  }

  post(notice: Omit<Notice, 'actions'> & { readonly actions?: readonly NoticeAction[] }): void {
    const others = this.#notices.filter(({ id }) => id !== notice.id);
    this.#notices = [...others, { actions: [], ...notice }];
    this.#changed();
  }

  remove(id: string): void {
    if (!this.#notices.some((notice) => notice.id === id)) return;
    this.#notices = this.#notices.filter((notice) => notice.id !== id);
    this.#changed();
  }
}
