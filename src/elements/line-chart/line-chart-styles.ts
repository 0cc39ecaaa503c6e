import { css } from 'lit';

export const lineChartStyles = css`
  .plot {
    position: relative;
    height: var(--cw-chart-height, 20rem);
    cursor: crosshair;
    touch-action: pan-y;
    user-select: none;
  }
  canvas {
    display: block;
    pointer-events: none;
  }
  .overlay {
    position: absolute;
    pointer-events: none;
  }
  .overlay[hidden] {
    display: none;
  }
  .crosshair {
    border-left: 1px solid var(--cw-ink-soft);
  }
  .playhead {
    margin-left: -1px;
    border-left: 2px solid var(--cw-residual);
  }
  .playhead::before {
    content: '';
    position: absolute;
    top: -6px;
    left: -6px;
    border: 5px solid transparent;
    border-top-color: var(--cw-ink);
  }
  .marquee {
    border-inline: 1px solid var(--cw-ink);
    background: color-mix(in srgb, var(--cw-ink) 10%, transparent);
  }
  .readout {
    display: flex;
    flex-wrap: wrap;
    gap: 0 var(--cw-space-4);
    min-height: 1.45em;
    margin: var(--cw-space-1) 0 0;
    padding: 0;
    list-style: none;
    font-size: 0.8667em;
  }
  .readout li {
    display: inline-flex;
    gap: 0.4em;
    align-items: baseline;
    min-width: 0;
    overflow-wrap: anywhere;
  }
  .place {
    min-width: 5.5em;
    font-weight: 600;
  }
  .ghost {
    color: var(--cw-ink-faint);
  }
  .met {
    color: var(--cw-met);
  }
  .missed {
    color: var(--cw-missed);
  }
  b {
    font-weight: 600;
  }
  .key {
    flex: none;
    align-self: center;
    fill: none;
  }
  .tools {
    display: flex;
    flex-wrap: wrap;
    gap: 0.1rem;
    margin-top: var(--cw-space-1);
  }
  .gap {
    flex: 1;
  }
  .table {
    max-height: 18rem;
    margin-top: var(--cw-space-2);
    position: relative;
    overflow: auto;
    border-block: var(--cw-hairline) solid var(--cw-rule);
  }
  .table thead th {
    position: sticky;
    top: 0;
    background: var(--cw-sheet);
  }
  .table tbody th {
    font-weight: 400;
  }
  @media print {
    .tools {
      display: none;
    }
  }
`;
