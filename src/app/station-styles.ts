import { css } from 'lit';
import { baseStyles, buttonStyles, inputStyles, tableStyles } from '../elements/shared-styles.ts';

/** The bench's own layout: a sheet to write on and a picture beside it; one below the other where it is narrow. */
const layoutStyles = css`
  h1,
  h2,
  h3 {
    margin: 0;
    font-family: var(--cw-font-title);
    font-weight: 600;
    line-height: 1.2;
    text-wrap: balance;
  }
  h1 {
    font-size: var(--cw-size-title);
  }
  h2 {
    font-size: var(--cw-size-large);
  }
  h3 {
    font-size: var(--cw-size-text);
    font-family: inherit;
  }
  p {
    margin: 0;
    max-width: 68ch;
  }
  /* Names are the shop's own and may be one long word. */
  h1,
  h2,
  h3,
  p,
  dd,
  li,
  summary,
  .field > label,
  .row > * {
    overflow-wrap: anywhere;
  }
  a {
    color: var(--cw-ink);
    text-underline-offset: 0.2em;
  }
  /* A link that stands alone is as easy to hit as a button. */
  .row > a,
  .head > a,
  .tools > a,
  .deeds > a,
  li > a,
  td > a,
  th > a {
    display: inline-block;
    min-height: 1.5rem;
    padding-block: 0.2em;
  }
  .soft {
    color: var(--cw-ink-soft);
  }
  .small {
    font-size: var(--cw-size-small);
  }
  .said {
    color: var(--cw-missed);
    font-size: var(--cw-size-small);
  }
  .bench {
    display: grid;
    grid-template-columns: minmax(0, var(--sheet-share, 1fr)) minmax(0, var(--picture-share, 1.15fr));
    gap: var(--cw-space-6);
    align-items: start;
  }
  .bench > .picture {
    position: sticky;
    top: var(--cw-space-4);
  }
  .stack {
    display: grid;
    grid-template-columns: minmax(0, 1fr);
    gap: var(--cw-space-5);
    align-content: start;
    min-width: 0;
  }
  .group {
    display: grid;
    grid-template-columns: minmax(0, 1fr);
    gap: var(--cw-space-3);
    align-content: start;
    min-width: 0;
    padding-top: var(--cw-space-3);
    border-top: var(--cw-hairline) solid var(--cw-rule-strong);
  }
  .group > .head,
  .row {
    display: flex;
    flex-wrap: wrap;
    gap: var(--cw-space-2) var(--cw-space-4);
    align-items: baseline;
  }
  .head > :first-child {
    margin-inline-end: auto;
  }
  .fields {
    display: flex;
    flex-wrap: wrap;
    gap: var(--cw-space-3) var(--cw-space-5);
    align-items: start;
  }
  .field {
    display: grid;
    grid-template-columns: minmax(0, max-content);
    gap: 0.15em;
    align-content: start;
    min-width: 0;
  }
  .field.text {
    grid-template-columns: minmax(0, 1fr);
    flex: 1 1 11rem;
  }
  .field.wide,
  .field:has(textarea),
  .field:has(> input[type='search']) {
    grid-template-columns: minmax(0, 1fr);
    flex: 1 1 18rem;
  }
  .field > label {
    color: var(--cw-ink-soft);
    font-size: var(--cw-size-small);
  }
  .field input[type='text'],
  .field input[type='search'],
  .field textarea {
    width: 100%;
    min-width: min(11em, 100%);
    max-width: 100%;
  }
  /* What can be pressed is seen without pointing at it. */
  button.quiet:where(:not(:disabled, [aria-pressed])) {
    text-decoration: underline var(--cw-rule-strong);
    text-underline-offset: 0.25em;
  }
  .flag {
    display: inline-flex;
    gap: var(--cw-space-2);
    align-items: center;
    min-height: var(--cw-touch);
  }
  .scroll {
    position: relative;
    overflow-x: auto;
    container-type: inline-size;
  }
  /* Sentences stay in sight while the columns of a wide table pass below them. */
  .scroll caption,
  .scroll td.note > * {
    position: sticky;
    inset-inline-start: 0;
    box-sizing: border-box;
    width: fit-content;
    max-width: min(68ch, 100cqi - 1.2em);
  }
  .scroll td:has(> cw-verdict) {
    min-width: 9.5rem;
  }
  .scroll tbody th:not(.figure) {
    min-width: 6rem;
    overflow-wrap: anywhere;
  }
  td cw-quantity-field {
    --cw-field-width: 6.2em;
  }
  td .field {
    display: block;
  }
  td select {
    max-width: 13em;
  }
  .facts {
    display: grid;
    grid-template-columns: repeat(auto-fit, minmax(9.5rem, 1fr));
    gap: var(--cw-space-3) var(--cw-space-4);
    margin: 0;
  }
  .facts dt {
    color: var(--cw-ink-soft);
    font-size: var(--cw-size-small);
  }
  .facts dd {
    margin: 0;
    font-size: var(--cw-size-figure);
    font-variant-numeric: tabular-nums;
  }
  ul.plain {
    display: grid;
    gap: var(--cw-space-2);
    margin: 0;
    padding: 0;
    list-style: none;
  }
  details > summary {
    min-height: var(--cw-touch);
    padding-block: 0.2em;
    cursor: pointer;
  }
  details > summary h2 {
    display: inline;
  }
  details[open] > summary {
    margin-bottom: var(--cw-space-3);
  }
  .empty {
    padding: var(--cw-space-4);
    border: var(--cw-hairline) dashed var(--cw-rule-strong);
    color: var(--cw-ink-soft);
  }
  @media (max-width: 62rem) {
    .bench {
      grid-template-columns: minmax(0, 1fr);
    }
    .bench > .picture {
      position: static;
    }
  }
`;

/** What every station and page of the app starts from. */
export const stationStyles = [baseStyles, buttonStyles, inputStyles, tableStyles, layoutStyles];
