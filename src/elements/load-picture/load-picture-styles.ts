import { css } from 'lit';

export const loadPictureStyles = css`
  svg {
    display: block;
    width: 100%;
    max-width: var(--cw-load-size, 34rem);
    margin-inline: auto;
    aspect-ratio: 1;
    print-color-adjust: exact;
  }
  svg:focus-visible {
    outline-offset: -2px;
  }
  svg * {
    vector-effect: non-scaling-stroke;
  }
  .chamber {
    fill: var(--cw-sheet);
    stroke: var(--cw-ink);
    stroke-width: 3;
  }
  .path {
    fill: none;
    stroke: var(--cw-rule-strong);
    stroke-dasharray: 14 4 2 4;
  }
  .axis {
    stroke: var(--cw-rule-strong);
  }
  .rack {
    fill: var(--cw-metal);
    stroke: var(--cw-ink-soft);
  }
  .rim {
    fill: none;
    stroke: var(--cw-ink-soft);
    stroke-opacity: 0.5;
    stroke-dasharray: 3 3;
  }
  .hatch {
    stroke: var(--cw-ink-soft);
    stroke-width: 1.5;
  }
  .keep-out circle,
  circle.keep-out {
    fill: url(#keep-out);
    stroke: var(--cw-ink-soft);
  }
  .part {
    fill: var(--cw-sheet);
    stroke: var(--cw-ink-soft);
    cursor: pointer;
  }
  .part.dummy {
    fill: none;
    stroke-dasharray: 2 2;
  }
  .part.witness {
    stroke: var(--cw-ink);
    stroke-width: 2;
  }
  .part.met {
    fill: var(--cw-met-wash);
    stroke: var(--cw-met);
  }
  .part.watch {
    fill: var(--cw-watch-wash);
    stroke: var(--cw-watch);
  }
  .part.missed {
    fill: var(--cw-missed-wash);
    stroke: var(--cw-missed);
  }
  .part.at,
  .part.picked {
    stroke: var(--cw-ink);
    stroke-width: 3;
  }
  .dot {
    fill: var(--cw-ink);
    stroke: none;
  }
  .cross {
    stroke: var(--cw-missed);
    stroke-width: 1.5;
  }
  .cross.over {
    stroke: var(--cw-ink);
  }
  .fixed {
    fill: none;
    stroke: var(--cw-ink);
    stroke-width: 1.5;
  }
  .shield {
    fill: var(--cw-curve-2);
    fill-opacity: 0.25;
    stroke: var(--cw-curve-2);
    stroke-width: 2;
  }
  .grip {
    cursor: grab;
    touch-action: none;
  }
  .grip .source circle,
  .grip .shield {
    pointer-events: all;
  }
  .fixed.source circle {
    fill: var(--cw-well);
    stroke-dasharray: 3 2;
  }
  .fixed.witness circle {
    fill: var(--cw-glass);
    stroke-width: 2;
  }
  .fixed.crystal circle {
    fill: var(--cw-well);
  }
  :host([turning]) .gears .carrier {
    animation: turn var(--carrier-turn) linear infinite reverse;
  }
  :host([turning]) .gears .planet {
    animation: turn var(--planet-turn) linear infinite var(--planet-way);
  }
  @keyframes turn {
    to {
      transform: rotate(360deg);
    }
  }
  @media (prefers-reduced-motion: reduce), print {
    :host([turning]) .gears .carrier,
    :host([turning]) .gears .planet {
      animation: none;
    }
  }
  .readout {
    min-height: 2.9em;
    margin: var(--cw-space-2) 0 0;
    font-size: var(--cw-size-small);
  }
  .legend {
    display: grid;
    grid-template-columns: auto 1fr;
    gap: 0 var(--cw-space-3);
    align-items: center;
    max-width: var(--cw-load-size, 34rem);
    margin: 0 auto;
    padding: 0;
    list-style: none;
    font-size: var(--cw-size-small);
  }
  .bar {
    height: 0.75rem;
    border: var(--cw-hairline) solid var(--cw-rule-strong);
    background: linear-gradient(in oklab to right, var(--cw-ramp-low), var(--cw-ramp-mid), var(--cw-ramp-high));
    print-color-adjust: exact;
  }
  .ends {
    display: flex;
    grid-column: 2;
    justify-content: space-between;
  }
  .legend.verdicts {
    display: flex;
    flex-wrap: wrap;
  }
  li.met {
    color: var(--cw-met);
  }
  li.watch {
    color: var(--cw-watch);
  }
  li.missed {
    color: var(--cw-missed);
  }
`;
