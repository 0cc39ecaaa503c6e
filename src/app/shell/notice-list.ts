import { css, html, LitElement } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { repeat } from 'lit/directives/repeat.js';
import { baseStyles, buttonStyles } from '../../elements/shared-styles.ts';
import type { Bench } from '../bench.ts';
import type { Notice } from '../notice.ts';

/** What the reader has to know, each a sentence with what can be done about it. */
@customElement('app-notice-list')
export class NoticeList extends LitElement {
  static override styles = [
    baseStyles,
    buttonStyles,
    css`
      .notice {
        display: flex;
        flex-wrap: wrap;
        gap: var(--cw-space-2) var(--cw-space-3);
        align-items: center;
        margin-top: var(--cw-space-3);
        padding: var(--cw-space-2) var(--cw-space-4);
        border-left: 4px solid var(--cw-residual);
        background: var(--cw-sheet);
      }
      .notice.fault {
        border-left-color: var(--cw-missed);
        background: var(--cw-missed-wash);
        color: var(--cw-missed);
      }
      p {
        flex: 1 1 20rem;
        margin: 0;
        overflow-wrap: anywhere;
      }
    `,
  ];

  @property({ attribute: false }) bench!: Bench;
  @property({ attribute: false }) notices: readonly Notice[] = [];

  override render() {
    return html`<div role="status" aria-label="Messages">
      ${repeat(
        this.notices,
        ({ id }) => id,
        (notice) => this.notice(notice),
      )}
    </div>`;
  }

  private notice({ id, kind, text, actions, onClose }: Notice) {
    const act = (run: () => void) => () => {
      this.bench.notices.remove(id);
      run();
    };
    return html`<div class="notice ${kind}">
      <p>${text}</p>
      ${actions.map(({ label, run }) => html`<button @click=${act(run)}>${label}</button>`)}
      <button class="quiet" @click=${act(() => onClose?.())} aria-label="Close this message">Close</button>
    </div>`;
  }
}
