import { css } from 'lit';
import { stationStyles } from '../../station-styles.ts';

/** The page's list beside its pictures, one below the other where it is narrow. */
export const materialsPageStyles = [
  stationStyles,
  css`
    :host {
      --sheet-share: 0.5fr;
      --picture-share: 1.5fr;
    }
    h4 {
      margin: var(--cw-space-2) 0 0;
      font-size: var(--cw-size-small);
      font-weight: 600;
    }
    .finder {
      gap: var(--cw-space-3);
      position: sticky;
      top: var(--cw-space-4);
    }
    .list {
      max-height: min(70vh, 60rem);
      overflow: auto;
      border-block: var(--cw-hairline) solid var(--cw-rule-strong);
    }
    .list h2 {
      position: sticky;
      top: 0;
      padding: var(--cw-space-2);
      background: var(--cw-paper);
      font: 600 var(--cw-size-small) / 1.2 var(--cw-font-text);
    }
    .list ul {
      gap: 0;
    }
    .list li {
      border-top: var(--cw-hairline) solid var(--cw-rule);
    }
    .list a {
      display: flex;
      flex-wrap: wrap;
      gap: 0 var(--cw-space-3);
      align-items: baseline;
      min-height: var(--cw-touch);
      padding: var(--cw-space-1) var(--cw-space-2);
      text-decoration: none;
    }
    .list .name {
      flex: 1 1 10rem;
    }
    .list .formula {
      color: var(--cw-ink-soft);
      white-space: nowrap;
    }
    .list a:hover .name {
      text-decoration: underline;
    }
    .list a[aria-current] {
      background: var(--cw-sheet);
      box-shadow: inset 3px 0 0 var(--cw-ink);
      font-weight: 600;
    }
    .scroll table {
      width: auto;
    }
    .row > .deeds {
      align-self: end;
    }
    .row > .flag {
      align-self: end;
    }
    #against {
      width: 22rem;
    }
    .charts {
      display: grid;
      grid-template-columns: repeat(auto-fit, minmax(min(24rem, 100%), 1fr));
      gap: var(--cw-space-5);
    }
    .columns {
      display: grid;
      grid-template-columns: repeat(auto-fit, minmax(min(22rem, 100%), 1fr));
      gap: var(--cw-space-6);
      align-items: start;
    }
    dl.record {
      display: grid;
      grid-template-columns: minmax(7em, max-content) minmax(0, 1fr);
      gap: var(--cw-space-1) var(--cw-space-4);
      margin: 0;
    }
    dl.record dt {
      max-width: 11em;
      color: var(--cw-ink-soft);
    }
    dl.record dd {
      margin: 0;
      overflow-wrap: anywhere;
    }
    .whence {
      display: block;
      color: var(--cw-ink-soft);
      font-size: var(--cw-size-small);
    }
    .caution {
      padding-inline-start: var(--cw-space-3);
      border-inline-start: 3px solid var(--cw-ink);
    }
    .hazards {
      display: grid;
      gap: var(--cw-space-1);
      margin: 0;
      padding-inline-start: 1.2em;
    }
    .told:empty {
      display: none;
    }
    @media (max-width: 32rem) {
      dl.record {
        grid-template-columns: minmax(0, 1fr);
        gap: 0;
      }
      dl.record dt {
        max-width: none;
        margin-top: var(--cw-space-2);
        font-size: var(--cw-size-small);
      }
    }
    @media (max-width: 62rem) {
      .finder {
        position: static;
      }
      .list {
        max-height: 16rem;
      }
    }
  `,
];
