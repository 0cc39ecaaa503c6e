import { css } from 'lit';

export const stackSectionStyles = css`
  .picture {
    position: relative;
    overflow: hidden;
  }
  svg {
    display: block;
    font: 12px var(--cw-font-text);
    font-variant-numeric: tabular-nums;
    print-color-adjust: exact;
  }
  .glass {
    fill: var(--cw-glass);
  }
  .medium {
    fill: var(--cw-ink-soft);
    font-style: italic;
  }
  .film {
    cursor: pointer;
  }
  .hatch {
    stroke: var(--cw-paper);
    stroke-opacity: 0.55;
    stroke-width: 2;
  }
  .sensitivity {
    fill: var(--cw-ink);
    fill-opacity: 0.55;
    pointer-events: none;
  }
  .selected {
    fill: none;
    stroke: var(--cw-ink);
    stroke-width: 2;
    pointer-events: none;
  }
  .edge {
    stroke: var(--cw-ink);
    stroke-width: 1;
    pointer-events: none;
  }
  .reach {
    stroke: transparent;
    stroke-width: 11;
    cursor: ns-resize;
    touch-action: none;
  }
  .reach:hover {
    stroke: var(--cw-ink);
    stroke-opacity: 0.14;
  }
  .before {
    stroke: var(--cw-ink);
    stroke-dasharray: 2 4;
    stroke-opacity: 0.6;
    pointer-events: none;
  }
  .leader {
    fill: none;
    stroke: var(--cw-rule-strong);
  }
  .leader.moving {
    stroke: var(--cw-ink);
  }
  .rule {
    stroke: var(--cw-ink-soft);
  }
  .mark {
    fill: var(--cw-ink-soft);
    font-size: 11px;
    text-anchor: end;
  }
  .ray {
    fill: none;
    stroke: var(--cw-ink-soft);
    stroke-width: 1.5;
  }
  .ray.back {
    stroke: var(--cw-residual);
    stroke-width: 3;
  }
  .grip {
    position: absolute;
    right: 0;
    display: grid;
    grid-template-columns: 1.3em minmax(0, 1fr) auto 1.5em;
    gap: 0.25em;
    align-items: center;
    height: 24px;
    padding-inline: 0.3em;
    transform: translateY(-50%);
    border-radius: var(--cw-radius);
    font-size: var(--cw-size-small);
    cursor: ns-resize;
    touch-action: none;
    user-select: none;
  }
  .grip:hover {
    background: var(--cw-rule);
  }
  .grip:focus-visible {
    outline-offset: -2px;
  }
  .grip.picked {
    background: var(--cw-rule);
    box-shadow: inset 2px 0 0 var(--cw-ink);
  }
  .grip.still {
    cursor: default;
  }
  .number,
  .change,
  .unit {
    color: var(--cw-ink-soft);
  }
  .material {
    overflow: hidden;
    text-overflow: ellipsis;
    white-space: nowrap;
  }
  .thickness {
    font-weight: 600;
  }
  .lock {
    position: absolute;
    right: 0.2em;
    fill: none;
    stroke: var(--cw-ink-soft);
    stroke-width: 1.4;
  }
  .grip:has(.lock) .unit {
    visibility: hidden;
  }
  .key {
    margin: var(--cw-space-1) 0 0;
    color: var(--cw-ink-soft);
    font-size: var(--cw-size-small);
  }
  .swatch {
    display: inline-block;
    width: 1.6rem;
    height: 6px;
    margin-right: 0.3em;
    background: var(--cw-ink);
    opacity: 0.55;
    vertical-align: middle;
  }
  .bare {
    position: absolute;
    inset: 40% 0 auto 60px;
    margin: 0;
    color: var(--cw-ink-soft);
  }
`;
