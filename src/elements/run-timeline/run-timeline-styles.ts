import { css } from 'lit';

export const runTimelineStyles = css`
  .scroll {
    position: relative;
    overflow-x: auto;
  }
  .lanes {
    display: grid;
    min-width: var(--cw-timeline-width, 40rem);
    grid-template-columns: auto 1fr;
    gap: 0 var(--cw-space-3);
    align-items: center;
    padding-inline-end: 1.5rem;
  }
  .name {
    color: var(--cw-ink-soft);
    font-size: var(--cw-size-small);
  }
  .track {
    position: relative;
    height: 2rem;
    border-bottom: var(--cw-hairline) solid var(--cw-rule);
  }
  .bar {
    position: absolute;
    top: 4px;
    bottom: 4px;
    min-width: 2px;
    padding-inline: 0.2em;
    overflow: hidden;
    border: 1px solid var(--cw-rule-strong);
    background: var(--cw-sheet);
    color: var(--cw-ink);
    font-size: var(--cw-size-small);
    line-height: 22px;
    white-space: nowrap;
    cursor: pointer;
    container-type: inline-size;
    print-color-adjust: exact;
  }
  @container (max-width: 2.2em) {
    .bar:not(.deposit) span {
      visibility: hidden;
    }
  }
  .bar.critical {
    border-color: var(--cw-ink);
    border-bottom-width: 3px;
    background: var(--cw-rule);
  }
  .bar.deposit.critical {
    background: color-mix(in oklab, var(--cw-residual) 30%, var(--cw-sheet));
  }
  .bar.at,
  .bar.picked {
    outline: 2px solid var(--cw-ink);
    outline-offset: 0;
    z-index: 1;
  }
  .marks {
    position: relative;
    height: 2rem;
  }
  .mark {
    position: absolute;
    top: 0.5rem;
    transform: translateX(-50%);
    color: var(--cw-ink-soft);
    font-size: var(--cw-size-small);
  }
  .mark i {
    position: absolute;
    top: -0.5rem;
    left: 50%;
    height: 0.5rem;
    border-left: 1px solid var(--cw-ink-soft);
  }
  .now {
    position: absolute;
    bottom: 100%;
    height: calc(2rem * var(--lanes));
    border-left: 2px solid var(--cw-residual);
    pointer-events: none;
  }
  .readout {
    min-height: 1.45em;
    margin: 0;
    font-size: var(--cw-size-small);
  }
`;
