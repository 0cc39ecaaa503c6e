import { css } from 'lit';

/** The rehearsal fills the screen in the chamber's dark; figures are read at two metres. */
export const rehearsalStyles = css`
  dialog {
    width: 100vw;
    max-width: none;
    height: 100dvh;
    max-height: none;
    margin: 0;
    padding: clamp(0.75rem, 2vw, 2rem);
    border: 0;
    overflow: auto;
    background: var(--cw-paper);
    color: var(--cw-ink);
    --cw-size-text: clamp(1.1rem, 1.6vw, 1.6rem);
    --cw-size-small: clamp(1rem, 1.3vw, 1.35rem);
    --cw-chart-height: max(12rem, 36vh);
    font-size: var(--cw-size-text);
  }
  dialog:not([open]) {
    display: none;
  }
  dialog::backdrop {
    background: #000;
  }
  .stage {
    display: grid;
    grid-template-columns: minmax(0, 1fr);
    gap: var(--cw-space-3);
    align-content: start;
    min-height: 100%;
  }
  dialog h2 {
    font-size: clamp(1.5rem, 4vw, 4rem);
  }
  .dials {
    display: grid;
    grid-template-columns: repeat(auto-fit, minmax(min(13rem, 44%), 1fr));
    gap: var(--cw-space-2) var(--cw-space-5);
    margin: 0;
  }
  .dials dt {
    color: var(--cw-ink-soft);
  }
  .dials dd {
    margin: 0;
    font-size: clamp(2rem, 5.2vw, 5.5rem);
    line-height: 1.05;
    font-variant-numeric: tabular-nums;
    white-space: nowrap;
  }
  .shutter {
    position: sticky;
    bottom: 0;
    z-index: 1;
    min-height: 4rem;
    width: 100%;
    font-size: clamp(1.5rem, 3.4vw, 3.2rem);
    font-weight: 600;
    touch-action: manipulation;
  }
  .event {
    min-height: 1.45em;
    font-size: clamp(1.1rem, 2vw, 2rem);
  }
  dialog h2:focus {
    outline: none;
  }
  dialog table {
    font-size: inherit;
  }
`;
