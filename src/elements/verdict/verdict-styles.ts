import { css } from 'lit';

export const verdictStyles = css`
  :host {
    display: inline-flex;
    gap: 0.4em;
    align-items: baseline;
    padding: 0 0.45em;
    border-radius: var(--cw-radius);
    background: var(--cw-sheet);
    color: var(--cw-ink-soft);
  }
  :host([verdict='met']) {
    background: var(--cw-met-wash);
    color: var(--cw-met);
  }
  :host([verdict='missed']) {
    background: var(--cw-missed-wash);
    color: var(--cw-missed);
    font-weight: 600;
  }
  :host([verdict='watch']) {
    background: var(--cw-watch-wash);
    color: var(--cw-watch);
  }
  .sign {
    font-weight: 700;
  }
`;
