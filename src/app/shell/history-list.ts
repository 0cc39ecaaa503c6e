import { css, html } from 'lit';
import { customElement } from 'lit/decorators.js';
import { StationElement } from '../station-element.ts';
import { stationStyles } from '../station-styles.ts';

/** The edits by name, those of earlier visits too; any of them can be gone back to. */
@customElement('app-history-list')
export class HistoryList extends StationElement {
  static override styles = [
    stationStyles,
    css`
      ol {
        display: grid;
        gap: var(--cw-space-1);
        margin: var(--cw-space-2) 0 0;
        padding: 0;
        list-style: none;
      }
      button {
        width: 100%;
        text-align: start;
      }
      button.ahead {
        font-style: italic;
      }
      button[aria-current='step'] {
        border-color: var(--cw-ink);
        color: var(--cw-ink);
        font-weight: 700;
      }
    `,
  ];

  override render() {
    const { past, future } = this.bench.history;
    const names = ['The beginning', ...past.map(({ name }) => name), ...future.map(({ name }) => name)];
    const newestFirst = names.map((name, count) => ({ name, count })).reverse();
    return html`<h2>History of edits</h2>
      <ol reversed>
        ${newestFirst.map(
          ({ name, count }) => html`<li>
            <button class="quiet ${count > past.length ? 'ahead' : ''}" aria-current=${count === past.length ? 'step' : 'false'} @click=${() => this.bench.goTo(count)}>${name}</button>
          </li>`,
        )}
      </ol>`;
  }
}
