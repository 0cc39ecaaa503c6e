import { css, html, LitElement } from 'lit';
import { customElement, query } from 'lit/decorators.js';
import { stationStyles } from '../station-styles.ts';
import { BENCH_KEYS, type BenchKey } from './bench-keys.ts';

/** Keys that work within parts of the bench. */
const FURTHER_KEYS: readonly (readonly [string, string])[] = [
  ['Ctrl+Z', 'takes the last edit back'],
  ['Ctrl+Shift+Z or Ctrl+Y', 'does it again'],
  ['Arrow up, arrow down', 'in a quantity: one step of its last digit'],
  ['Enter', 'in a quantity: settles what was typed'],
  ['Escape', 'in a quantity that cannot be read: puts the last good value back'],
  ['Arrow keys', 'on a chart or a stack: move the read-out or the boundary'],
];

/** What is printed on a key: "Alt+1", "Alt+N". */
function keyWords({ code }: BenchKey): string {
  return `Alt+${code.replace(/^(Digit|Key)/, '')}`;
}

/** Somebody wants the tour. */
export class TourWantedEvent extends Event {
  constructor() {
    super('app-tour-wanted', { bubbles: true, composed: true });
  }
}

/** All keys of the bench, and the way to the tour. */
@customElement('app-help-dialog')
export class HelpDialog extends LitElement {
  static override styles = [
    stationStyles,
    css`
      dialog {
        width: min(36rem, calc(100vw - 2rem));
        max-height: calc(100vh - 4rem);
        border: var(--cw-hairline) solid var(--cw-ink);
        border-radius: var(--cw-radius);
        background: var(--cw-sheet);
        color: var(--cw-ink);
      }
      dialog::backdrop {
        background: rgb(0 0 0 / 40%);
      }
      th {
        white-space: nowrap;
        text-align: start;
      }
      kbd {
        font: inherit;
        font-weight: 600;
      }
      @media (max-width: 30rem) {
        th {
          white-space: normal;
        }
      }
    `,
  ];

  @query('dialog') private readonly dialog!: HTMLDialogElement;

  /** Shows the help; the focus returns to where it was when it is closed. */
  show(): void {
    if (!this.dialog.open) this.dialog.showModal();
  }

  override render() {
    const rows = [...BENCH_KEYS.map((key) => [keyWords(key), key.words] as const), ...FURTHER_KEYS];
    return html`<dialog aria-labelledby="title">
      <div class="stack">
        <h2 id="title">Keys and help</h2>
        <table>
          <thead><tr><th scope="col">Key</th><th scope="col">What it does</th></tr></thead>
          <tbody>
            ${rows.map(([key, words]) => html`<tr><th scope="row"><kbd>${key}</kbd></th><td>${words}</td></tr>`)}
          </tbody>
        </table>
        <p class="small soft">On a Mac, Alt is the Option key and Ctrl the Command key; in a text field Option writes letters as usual.</p>
        <p class="row">
          <button class="main" autofocus @click=${() => this.dialog.close()}>Close</button>
          <button @click=${this.onTour}>Start the tour</button>
        </p>
      </div>
    </dialog>`;
  }

  private readonly onTour = (): void => {
    this.dialog.close();
    this.dispatchEvent(new TourWantedEvent());
  };
}

declare global {
  interface HTMLElementTagNameMap {
    'app-help-dialog': HelpDialog;
  }
  interface HTMLElementEventMap {
    'app-tour-wanted': TourWantedEvent;
  }
}
