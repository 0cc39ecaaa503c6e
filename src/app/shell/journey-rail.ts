import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { baseStyles } from '../../elements/shared-styles.ts';
import type { BenchState } from '../bench-state.ts';
import { routeHref, STATIONS, type Station } from '../routes.ts';
import { stationChanges } from '../stations/station-changes.ts';
import { headline } from '../stations/station-facts.ts';
import { stationGlyph } from './station-glyphs.ts';

const NAMES: Readonly<Record<Station, string>> = {
  order: 'Order',
  stack: 'Stack',
  load: 'Load',
  run: 'Run',
  monitor: 'Monitor',
  inspect: 'Inspect',
};

/** The lens's way through the shop: six places on a rail, each with its one figure and a mark where the last edit reached it. */
@customElement('app-journey-rail')
export class JourneyRail extends LitElement {
  static override styles = [
    baseStyles,
    css`
      ol {
        display: grid;
        grid-template-columns: repeat(6, minmax(0, 1fr));
        margin: 0;
        padding: 0;
        list-style: none;
      }
      li {
        position: relative;
      }
      li::before,
      li::after {
        content: '';
        position: absolute;
        top: 1.375rem;
        width: calc(50% - 1.5rem);
        border-top: var(--cw-hairline) solid var(--cw-rule-strong);
      }
      li::before {
        left: 0;
      }
      li::after {
        right: 0;
      }
      li.ahead::before,
      li.ahead::after,
      li.here::after {
        border-top-style: dashed;
      }
      li:first-child::before,
      li:last-child::after {
        border-top-color: transparent;
      }
      a {
        display: grid;
        justify-items: center;
        padding-block: var(--cw-space-1) var(--cw-space-2);
        border-radius: var(--cw-radius);
        color: var(--cw-ink-soft);
        text-align: center;
        text-decoration: none;
      }
      a:hover {
        color: var(--cw-ink);
      }
      .place {
        display: grid;
        place-items: center;
        width: 2.25rem;
        height: 2.25rem;
        border-radius: 50%;
        background: var(--cw-paper);
      }
      a[aria-current] .place {
        background: var(--cw-sheet);
        box-shadow:
          0 0 0 2px var(--cw-ink),
          0 0 0 6px var(--cw-residual);
      }
      @media (forced-colors: active) {
        a[aria-current] .place {
          outline: 3px solid Highlight;
        }
      }
      svg {
        width: 1.75rem;
        height: 1.75rem;
        fill: none;
        stroke: currentColor;
        stroke-width: 1.4;
        stroke-linecap: round;
        stroke-linejoin: round;
      }
      .name {
        margin-top: 0.45rem;
        font-size: var(--cw-size-text);
      }
      a[aria-current] .name {
        color: var(--cw-ink);
        font-weight: 700;
      }
      .figure {
        color: var(--cw-ink-soft);
        font-size: var(--cw-size-small);
        white-space: nowrap;
      }
      .moved {
        color: var(--cw-ink);
        font-weight: 700;
      }
      @media (max-width: 48rem) {
        ol {
          grid-template-columns: repeat(6, minmax(min-content, 1fr));
        }
        .figure {
          display: none;
        }
        .name {
          font-size: var(--cw-size-small);
        }
      }
    `,
  ];

  @property({ attribute: false }) state!: BenchState;
  /** The station that is open; undefined on other pages. */
  @property() station: Station | undefined;

  override render() {
    const { batch, plan } = this.state;
    const here = this.station === undefined ? -1 : STATIONS.indexOf(this.station);
    return html`<nav aria-label="Stations">
      <ol>
        ${STATIONS.map((station, index) => {
          const moved = stationChanges(this.state, station).length > 0;
          const where = index === here ? 'here' : index > here ? 'ahead' : 'behind';
          return html`<li class=${where}>
            <a
              href=${routeHref({ page: 'station', batchId: batch.id, station })}
              aria-current=${index === here ? 'page' : nothing}
            >
              <span class="place"><svg viewBox="0 0 28 28" aria-hidden="true">${stationGlyph(station)}</svg></span>
              <span class="name">${NAMES[station]}${moved ? html`<span class="moved" title="changed by the last edit"><span aria-hidden="true"> ▴</span><span class="visually-hidden">, changed by the last edit</span></span>` : nothing}</span>
              <span class="figure">${headline(station, batch, plan)}</span>
            </a>
          </li>`;
        })}
      </ol>
    </nav>`;
  }
}
