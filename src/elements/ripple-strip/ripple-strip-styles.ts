import { css } from 'lit';

export const rippleStripStyles = css`
  .row {
    position: relative;
    overflow-x: auto;
    border-top: 2px solid var(--cw-ink);
    background: var(--cw-sheet);
    scrollbar-width: thin;
  }
  .row:focus-visible {
    outline-offset: -2px;
  }
  dl {
    display: flex;
    margin: 0;
  }
  .figure {
    flex: 1 0 auto;
    min-width: 6.75rem;
    padding: var(--cw-space-2) var(--cw-space-3);
    border-right: var(--cw-hairline) solid var(--cw-rule);
  }
  .figure:last-child {
    border-right: 0;
  }
  dt {
    color: var(--cw-ink-soft);
    font-size: var(--cw-size-small);
    white-space: nowrap;
  }
  dd {
    margin: 0;
    white-space: nowrap;
  }
  .value b {
    font: 500 var(--cw-size-figure) / 1.2 var(--cw-font-figure);
    font-variant-numeric: tabular-nums lining-nums;
  }
  .unit {
    color: var(--cw-ink-soft);
    font-size: var(--cw-size-small);
  }
  .met .sign {
    color: var(--cw-met);
  }
  .missed .sign,
  .missed b {
    color: var(--cw-missed);
  }
  .watch .sign {
    color: var(--cw-watch);
  }
  .change {
    min-height: 1.45em;
    color: var(--cw-ink-soft);
    font-size: var(--cw-size-small);
  }
  .better {
    color: var(--cw-met);
  }
  .worse {
    color: var(--cw-missed);
  }
  .note {
    color: var(--cw-ink-soft);
    font-size: var(--cw-size-small);
  }
  .updating b,
  .stale b {
    color: var(--cw-ink-faint);
  }
  .stale b {
    text-decoration: underline dotted;
    text-underline-offset: 0.2em;
  }
  .pulse {
    display: inline-block;
    width: 0.55em;
    height: 0.55em;
    margin-right: 0.4em;
    border-radius: 50%;
    background: var(--cw-residual);
    animation: pulse 1s ease-in-out infinite alternate;
  }
  @keyframes pulse {
    to {
      opacity: 0.2;
    }
  }
  @media (prefers-reduced-motion: reduce) {
    .pulse {
      animation: none;
    }
  }
`;
