import { css } from 'lit';

/** What stands around a paper on the screen; printed, nothing of it is left. */
export const paperStyles = css`
  .tools {
    display: flex;
    flex-wrap: wrap;
    gap: var(--cw-space-3) var(--cw-space-4);
    align-items: center;
    margin-bottom: var(--cw-space-4);
  }
  .tools h1 {
    margin: 0 auto 0 0;
    font: 600 var(--cw-size-title) / 1.2 var(--cw-font-title);
  }
  a {
    display: inline-block;
    min-height: 1.5rem;
    padding-block: 0.2em;
    color: var(--cw-ink);
  }
  .paper {
    padding: 1rem clamp(0.5rem, 3vw, 3rem);
    background: var(--cw-sheet);
    box-shadow: 0 0 0 var(--cw-hairline) var(--cw-rule-strong);
    overflow-x: auto;
  }
  @media print {
    .tools {
      display: none;
    }
    .paper {
      padding: 0;
      box-shadow: none;
      overflow: visible;
    }
  }
`;
