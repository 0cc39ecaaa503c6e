import { css } from 'lit';

export const chamberSideStyles = css`
  .picture {
    position: relative;
    max-width: var(--cw-load-size, 34rem);
    margin-inline: auto;
  }
  svg {
    display: block;
    width: 100%;
    height: 100%;
    print-color-adjust: exact;
  }
  svg * {
    vector-effect: non-scaling-stroke;
  }
  .chamber {
    fill: var(--cw-sheet);
    stroke: var(--cw-ink);
    stroke-width: 3;
  }
  .axis {
    stroke: var(--cw-rule-strong);
    stroke-dasharray: 14 4 2 4;
  }
  .lobe {
    fill: var(--cw-residual);
    fill-opacity: 0.14;
    stroke: var(--cw-residual);
    stroke-opacity: 0.6;
  }
  .source {
    fill: var(--cw-metal);
    stroke: var(--cw-ink);
    stroke-width: 1.5;
  }
  .load {
    fill: none;
    stroke: var(--cw-ink);
    stroke-width: 5;
  }
  .spindle {
    fill: none;
    stroke: var(--cw-ink-soft);
    stroke-width: 1.5;
  }
  .mask {
    stroke: var(--cw-curve-2);
    stroke-width: 4;
  }
  .witness {
    fill: var(--cw-glass);
    stroke: var(--cw-ink);
    stroke-width: 1.5;
  }
  .crystal {
    fill: var(--cw-well);
    stroke: var(--cw-ink);
    stroke-width: 1.5;
  }
  .caption {
    position: absolute;
    max-width: 9em;
    transform: translate(-50%, -50%);
    color: var(--cw-ink-soft);
    font-size: var(--cw-size-small);
    line-height: 1.1;
    text-align: center;
    pointer-events: none;
  }
  .caption.witness {
    transform: translate(-50%, calc(-100% - 10px));
  }
  .caption.crystal {
    transform: translate(12px, 25%);
  }
  .handle {
    position: absolute;
    width: 24px;
    height: 24px;
    margin: -12px 0 0 -12px;
    border-radius: 50%;
    cursor: ew-resize;
    touch-action: none;
  }
  .handle::before {
    content: '';
    position: absolute;
    inset: 7px;
    border: 1.5px solid var(--cw-ink);
    border-radius: 50%;
    background: var(--cw-well);
  }
  .handle.height,
  .handle.tilt {
    cursor: ns-resize;
  }
  .handle.tilt::before {
    border-radius: 0;
    transform: rotate(45deg);
  }
  .handle:hover::before,
  .handle:focus-visible::before {
    background: var(--cw-ink);
  }
  .tip {
    position: absolute;
    bottom: 100%;
    left: 50%;
    padding: 0 0.4em;
    transform: translateX(-50%);
    background: var(--cw-ink);
    color: var(--cw-paper);
    font-size: var(--cw-size-small);
    white-space: nowrap;
    visibility: hidden;
    pointer-events: none;
  }
  .handle:hover .tip,
  .handle:focus-visible .tip,
  .handle:active .tip {
    visibility: visible;
    z-index: 1;
  }
`;
