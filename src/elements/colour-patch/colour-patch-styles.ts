import { css } from 'lit';

export const colourPatchStyles = css`
  :host {
    display: inline-flex;
    gap: var(--cw-space-3);
    align-items: center;
  }
  .lens {
    flex: none;
    width: 2.75rem;
    height: 2.75rem;
    border: var(--cw-hairline) solid var(--cw-rule-strong);
    border-radius: 50%;
    background:
      linear-gradient(var(--cw-lamp, #ffffff) 0 0),
      radial-gradient(circle closest-side, var(--shown) 0 80%, var(--before) 81%);
    background-blend-mode: multiply;
    forced-color-adjust: none;
    print-color-adjust: exact;
  }
  .lens.open {
    border-style: dotted;
  }
  .words {
    display: grid;
  }
  .detail {
    color: var(--cw-ink-soft);
    font-size: var(--cw-size-small);
  }
`;
