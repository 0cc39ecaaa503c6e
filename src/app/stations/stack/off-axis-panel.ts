import { css, html, nothing } from 'lit';
import { customElement } from 'lit/decorators.js';
import { fixed, significant } from '../../../base/format.ts';
import '../../../elements/line-chart/cw-line-chart.ts';
import type { LimitZone, LineSeries } from '../../../elements/line-chart/line-chart-data.ts';
import '../../../elements/verdict/cw-verdict.ts';
import type { RequirementResult } from '../../../design/evaluate.ts';
import { stationStyles } from '../../station-styles.ts';
import { shownSide, shownSurface, shownSurfacePlan } from '../sides-shown.ts';
import { DeskPanel, faultLine } from './desk-panel.ts';
import type { OffAxisAnswer } from './stack-desk.ts';
import { offAxisRequest } from './task-requests.ts';

/** How the stack behaves over angle, over the lens's own slope, and in converging light. */
@customElement('app-off-axis-panel')
export class OffAxisPanel extends DeskPanel {
  static override styles = [
    stationStyles,
    css`
      .pair {
        display: grid;
        grid-template-columns: minmax(0, 1fr) minmax(0, 1fr);
        gap: var(--cw-space-5);
        align-items: start;
      }
      cw-line-chart {
        --cw-chart-height: 14rem;
      }
      @media (max-width: 62rem) {
        .pair {
          grid-template-columns: minmax(0, 1fr);
        }
      }
    `,
  ];

  override render() {
    const { desk } = this;
    const { requirements } = shownSurface(this.state);
    const { answer, state: now } = desk.offAxis;
    return html`<section class="group" aria-label="Angle and edge">
      <div class="head"><h2>Angle and edge</h2>${answer !== undefined && now.kind === 'running' ? html`<span class="small soft">updating …</span>` : nothing}</div>
      ${
        requirements.length === 0
          ? html`<p class="empty">State a requirement at the order: its value is followed over angle and over the lens.</p>`
          : html`<div role="status">${faultLine(now)}</div>
            ${answer === undefined ? nothing : html`<div class="pair"><div class="stack">${this.overAngle(answer)}</div><div class="stack">${this.alongLens(answer)}${this.inCone(answer)}</div></div>`}`
      }
    </section>`;
  }

  protected override willUpdate(): void {
    const surface = shownSurface(this.state);
    if (surface.requirements.length === 0) return;
    const { batch } = this.state;
    this.desk.offAxis.follow(
      offAxisRequest(batch, surface, shownSide(this.state), this.desk.coneHalfAngleDeg),
    );
  }

  private overAngle({ overAngle }: OffAxisAnswer) {
    const { requirements } = shownSurface(this.state);
    const names = this.names();
    const lines = (points: OffAxisAnswer['overAngle'], ghost: boolean) =>
      names.map(
        (name, place): LineSeries => ({
          name,
          x: points.map(({ incidenceDeg }) => incidenceDeg),
          y: points.map(({ results }) => results[place]?.value ?? Number.NaN),
          ghost,
        }),
      );
    const before = this.desk.offAxis.before?.overAngle;
    const isAlike = before?.[0]?.results.length === names.length;
    const series = [...lines(overAngle, false), ...(isAlike ? lines(before, true) : [])];
    const zones = requirements.map(
      ({ limit, sense, incidenceDeg }, place): LimitZone => ({
        name: `${names[place] ?? ''}: limit`,
        from: Math.min(...incidenceDeg),
        to: Math.max(...incidenceDeg),
        limit,
        sense,
        met: shownSurfacePlan(this.state)?.requirements[place]?.met ?? true,
      }),
    );
    return html`<h3>Over the angle of incidence</h3>
      <cw-line-chart
        .series=${series}
        .zones=${zones}
        .xAxis=${{ title: 'Angle of incidence', unit: '°', min: 0, max: 60 }}
        .yAxis=${{ title: 'Required value', unit: '%' }}
        .label=${'Required values over the angle of incidence'}
        .fileName=${`${this.state.batch.id}-over-angle`}
      ></cw-line-chart>`;
  }

  private alongLens({ alongLens }: OffAxisAnswer) {
    const side = shownSide(this.state);
    if (alongLens === undefined)
      return html`<h3>From the axis to the edge</h3>
        <p class="soft">The ${side} is flat, so film and light are the same from its middle to its edge.</p>`;
    return html`<h3>From the axis to the edge of the clear aperture</h3>
      <div class="scroll" tabindex="0" role="region" aria-label="From the axis to the edge"><table>
        <caption>The film thins by the cosine of the slope where vapour arrives along the axis; light meets the slope at its own angle besides.</caption>
        <thead><tr><th class="figure">From the axis</th><th class="figure">Slope</th><th class="figure">Film</th>${this.names().map((name) => html`<th>${name}</th>`)}</tr></thead>
        <tbody>${alongLens.map(
          ({ distanceMm, slopeDeg, relativeThickness, results }) => html`<tr>
            <td class="figure">${fixed(distanceMm, 1)} mm</td><td class="figure">${fixed(slopeDeg, 1)}°</td><td class="figure">${fixed(100 * relativeThickness, 1)} %</td>
            ${results.map((result) => html`<td>${verdict(result)}</td>`)}
          </tr>`,
        )}</tbody>
      </table></div>`;
  }

  private inCone({ inCone }: OffAxisAnswer) {
    const { desk } = this;
    return html`<h3>In converging light</h3>
      <div class="fields">
        ${this.wish(
          "Half angle of the rays' cone",
          desk.coneHalfAngleDeg,
          '°',
          { min: 0, max: 60 },
          (coneHalfAngleDeg) => {
            desk.coneHalfAngleDeg = coneHalfAngleDeg;
          },
        )}
      </div>
      ${
        inCone === undefined
          ? html`<p class="said">The cone around the steepest angle required reaches 90°; take a narrower one.</p>`
          : html`<ul class="plain">${inCone.map((result, place) => html`<li>${this.names()[place]}: ${verdict(result)}</li>`)}</ul>`
      }`;
  }

  private names(): string[] {
    return shownSurface(this.state).requirements.map(({ quantity, statistic, bandNm: [from, to] }) =>
      from === to ? `${quantity}, ${from} nm` : `${quantity} ${statistic}, ${from}–${to} nm`,
    );
  }
}

function verdict({ met, value }: RequirementResult) {
  return html`<cw-verdict .verdict=${met ? 'met' : 'missed'}>${significant(value, 3)} %</cw-verdict>`;
}
