import { css } from 'lit';

export const quantityFieldStyles = css`
  :host {
    display: inline-grid;
    gap: 0.15em;
    align-content: start;
    justify-items: start;
  }
  label {
    color: var(--cw-ink-soft);
    font-size: var(--cw-size-small);
  }
  .line {
    display: inline-flex;
    gap: 0.35em;
    align-items: baseline;
  }
  input {
    width: var(--cw-field-width, 9em);
    max-width: 100%;
    text-align: end;
  }
  :host([compact]) input {
    border-color: transparent transparent var(--cw-rule-strong);
    background: transparent;
  }
  :host([compact]) input:hover,
  :host([compact]) input:focus {
    border-color: var(--cw-ink);
    background: var(--cw-well);
  }
  .unit {
    min-width: 2em;
    color: var(--cw-ink-soft);
    font-size: var(--cw-size-small);
  }
  .said {
    max-width: 24em;
    color: var(--cw-missed);
    font-size: var(--cw-size-small);
  }
  .said:empty {
    display: none;
  }
  .kept {
    color: var(--cw-ink-soft);
  }
`;
