import { css } from 'lit';

/** What every element starts from: its box, its type, figures that stand in columns, a focus that is seen. */
export const baseStyles = css`
  :host {
    display: block;
    box-sizing: border-box;
    color: var(--cw-ink);
    font: var(--cw-size-text) / var(--cw-line) var(--cw-font-text);
    font-variant-numeric: tabular-nums lining-nums;
  }
  :host([hidden]) {
    display: none;
  }
  /* Not inherited: the box around the content of a details element would pass on the browser's own. */
  *,
  *::before,
  *::after {
    box-sizing: border-box;
  }
  /* A date or a time has stops of its own inside, which the field itself must show. */
  :focus-visible,
  input[type='date']:focus-within,
  input[type='time']:focus-within,
  input[type='datetime-local']:focus-within {
    outline: 2px solid var(--cw-focus);
    outline-offset: 2px;
  }
  .visually-hidden {
    position: absolute;
    width: 1px;
    height: 1px;
    margin: -1px;
    overflow: hidden;
    clip-path: inset(50%);
    white-space: nowrap;
  }
`;

/** Buttons: plain, `class="main"` for the one action of a place, `class="quiet"` within a picture's tools. */
export const buttonStyles = css`
  button {
    min-height: var(--cw-touch);
    padding: 0.2em 0.8em;
    border: var(--cw-hairline) solid var(--cw-rule-strong);
    border-radius: var(--cw-radius);
    background: var(--cw-sheet);
    color: var(--cw-ink);
    font: inherit;
    cursor: pointer;
  }
  button:hover:not(:disabled) {
    border-color: var(--cw-ink);
  }
  button:active:not(:disabled) {
    background: var(--cw-rule);
  }
  button.main {
    border-color: var(--cw-ink);
    background: var(--cw-ink);
    color: var(--cw-paper);
  }
  button.main:hover:not(:disabled) {
    background: var(--cw-ink-soft);
  }
  button.quiet {
    border-color: transparent;
    background: transparent;
    color: var(--cw-ink-soft);
    font-size: var(--cw-size-small);
  }
  button.quiet:hover:not(:disabled) {
    border-color: var(--cw-rule-strong);
    color: var(--cw-ink);
  }
  button[aria-pressed='true'] {
    border-color: var(--cw-ink);
    color: var(--cw-ink);
    box-shadow: inset 0 -2px 0 var(--cw-ink);
  }
  @media (forced-colors: active) {
    button.main,
    button[aria-pressed='true'] {
      forced-color-adjust: none;
    }
    button[aria-pressed='true'] {
      background: Highlight;
      color: HighlightText;
    }
  }
  button.main:disabled {
    border-color: var(--cw-rule-strong);
    background: transparent;
  }
  button:disabled,
  button.main:disabled {
    border-style: dotted;
    color: var(--cw-ink-faint);
    cursor: default;
  }
`;

/** Things that are written into or picked from. */
export const inputStyles = css`
  input,
  select,
  textarea {
    min-height: var(--cw-touch);
    padding: 0.2em 0.5em;
    border: var(--cw-hairline) solid var(--cw-rule-strong);
    border-radius: var(--cw-radius);
    background: var(--cw-well);
    color: var(--cw-ink);
    font: inherit;
    font-variant-numeric: inherit;
  }
  select {
    max-width: 100%;
  }
  ::placeholder {
    color: var(--cw-ink-faint);
    opacity: 1;
  }
  /* The browser's own signs are white wherever the page is dark, in the chamber's red too: a caret in the field's ink. */
  ::-webkit-calendar-picker-indicator {
    background: var(--cw-ink);
    clip-path: polygon(20% 35%, 80% 35%, 50% 70%);
    cursor: pointer;
  }
  input:hover,
  select:hover,
  textarea:hover {
    border-color: var(--cw-ink);
  }
  input[type='checkbox'],
  input[type='radio'] {
    display: inline-grid;
    place-content: center;
    flex: none;
    width: 1.125rem;
    height: 1.125rem;
    min-height: 0;
    margin: 0.2rem;
    padding: 0;
    appearance: none;
    vertical-align: middle;
  }
  input[type='radio'] {
    border-radius: 50%;
  }
  input[type='checkbox']:checked,
  input[type='radio']:checked {
    border-color: var(--cw-ink);
    background: var(--cw-ink);
  }
  input[type='checkbox']:checked::before {
    width: 0.3rem;
    height: 0.6rem;
    margin-top: -0.15rem;
    border: solid var(--cw-paper);
    border-width: 0 2px 2px 0;
    transform: rotate(45deg);
    content: '';
  }
  input[type='radio']:checked::before {
    width: 0.4rem;
    height: 0.4rem;
    border-radius: 50%;
    background: var(--cw-paper);
    content: '';
  }
  input[type='checkbox']:disabled,
  input[type='radio']:disabled {
    border-style: dotted;
  }
  @media (forced-colors: active) {
    input[type='checkbox'],
    input[type='radio'] {
      appearance: auto;
    }
    input[type='checkbox']::before,
    input[type='radio']::before {
      display: none;
    }
  }
  input[aria-invalid='true'] {
    border-color: var(--cw-missed);
    box-shadow: inset 0 -2px 0 var(--cw-missed);
  }
`;

/** Ruled tables as in a notebook: no boxes, hairlines between rows, figures to the right. */
export const tableStyles = css`
  table {
    border-collapse: collapse;
    width: 100%;
    font-size: var(--cw-size-small);
  }
  caption {
    padding-block: var(--cw-space-1);
    color: var(--cw-ink-soft);
    text-align: start;
  }
  th,
  td {
    padding: 0.3em 0.6em;
    border-bottom: var(--cw-hairline) solid var(--cw-rule);
    text-align: start;
    vertical-align: baseline;
  }
  thead th,
  thead td {
    border-bottom-color: var(--cw-ink);
    color: var(--cw-ink-soft);
    font-weight: 600;
  }
  .figure {
    text-align: end;
    white-space: nowrap;
  }
  @media print {
    tr {
      break-inside: avoid;
    }
  }
`;
