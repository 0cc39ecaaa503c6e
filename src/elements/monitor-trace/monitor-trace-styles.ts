import { css } from 'lit';

export const monitorTraceStyles = css`
  .key {
    margin: 0;
    color: var(--cw-ink-soft);
    font-size: var(--cw-size-small);
  }
`;
