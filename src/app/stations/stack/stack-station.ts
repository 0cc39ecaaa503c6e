import { css, html, nothing } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import { counted, fixed, percent, significant } from '../../../base/format.ts';
import type { SurfacePlan, SurfaceYield } from '../../../batch/plan/plan-types.ts';
import '../../../elements/colour-patch/cw-colour-patch.ts';
import '../../../elements/spectrum-chart/cw-spectrum-chart.ts';
import '../../../elements/stack-section/cw-stack-section.ts';
import type {
  LayerSelectEvent,
  LayerThicknessChangeEvent,
  LayerThicknessInputEvent,
} from '../../../elements/stack-section/layer-events.ts';
import '../../../elements/verdict/cw-verdict.ts';
import type { Desk } from '../../fields/fields.ts';
import { routeHref } from '../../routes.ts';
import '../../shell/change-line.ts';
import { stationStyles } from '../../station-styles.ts';
import { labelOf, materialsOf } from '../material-words.ts';
import { type Residual, residualOf } from '../residual.ts';
import { shownSide, shownSurface, shownSurfacePlan, sidePicker, withoutPlan } from '../sides-shown.ts';
import { verdictDetail } from '../verdict-detail.ts';
import { DeskPanel } from './desk-panel.ts';
import { equalLayers } from './equal-layers.ts';
import { gradingFields } from './grading-fields.ts';
import { addLayer, reverseLayers, setThickness, THICKEST_LAYER_NM } from './layer-edits.ts';
import { layerTable } from './layer-table.ts';
import {
  FIRST_VIEW,
  type SpectrumView,
  spectrumCurves,
  spectrumLimits,
  toleranceBand,
} from './spectrum-view.ts';
import './off-axis-panel.ts';
import './stack-finder.ts';
import './tolerance-panel.ts';

/** Share of the runs in which a layer may miss its cut unsaid. */
const MANY_MISSED = 0.05;

/** Stack: the layers in section and as a table, what they do to light, and what an error of each would cost. */
@customElement('app-stack-station')
export class StackStation extends DeskPanel {
  static override styles = [
    stationStyles,
    css`
      :host {
        --sheet-share: 1.15fr;
        --picture-share: 1fr;
      }
      tr.picked {
        background: var(--cw-sheet);
        box-shadow: inset 3px 0 0 var(--cw-ink);
      }
      .layers td,
      .layers th {
        padding: 0.15em 0.3em;
      }
      .layers thead th {
        vertical-align: bottom;
      }
      .layers select {
        max-width: 8.5em;
      }
      .layers cw-quantity-field {
        --cw-field-width: 5em;
      }
      .graded,
      .place {
        white-space: nowrap;
      }
      .place button {
        min-width: var(--cw-touch);
        padding-inline: 0.15em;
        text-decoration: none;
      }
      .controls {
        display: flex;
        flex-wrap: wrap;
        gap: var(--cw-space-1) var(--cw-space-4);
        align-items: center;
      }
      .verdicts {
        display: grid;
        gap: var(--cw-space-2);
        justify-items: start;
      }
    `,
  ];

  @state() private selected: number | undefined;
  @state() private view: SpectrumView = FIRST_VIEW;

  protected override willUpdate(): void {
    this.desk.keepFor(this.state);
  }

  override render() {
    const { state: now, bench } = this;
    const desk: Desk = { bench, state: now };
    const side = shownSide(now);
    const surface = shownSurface(now);
    const plan = shownSurfacePlan(now);
    const before = shownSurfacePlan(now, 'before');
    const sensitivity = now.yields.answer?.surfaces.find((one) => one.side === side)?.sensitivity ?? [];
    const fits = sensitivity.length === surface.layers.length ? sensitivity : [];
    return html`<div class="stack">
      <div class="row head"><h1>Stack</h1>${sidePicker(desk)}</div>
      <app-change-line .state=${now} .station=${'stack'}></app-change-line>
      <div class="bench">
        <div class="stack">
          ${this.section(plan, before, fits)}
          <div class="row">
            <button @click=${() => this.add()}>Add a layer${this.selected === undefined ? '' : ` on layer ${this.selected + 1}`}</button>
            <button class="quiet" ?disabled=${surface.layers.length < 2} @click=${() => bench.edit(reverseLayers(side))}>Turn the order round</button>
            <span class="small soft">${counted(surface.layers.length, 'layer')}${plan === undefined ? '' : `, ${fixed(plan.totalThicknessNm, 1)} nm`}</span>
          </div>
          ${layerTable(desk, {
            side,
            layers: surface.layers,
            plan,
            selected: this.selected,
            sensitivity: fits,
            onSelect: (index) => {
              this.selected = index;
            },
          })}
          ${equalLayers(desk, side, surface.layers)}
          ${gradingFields(desk, side, surface.layers)}
        </div>
        <div class="stack picture">${plan === undefined ? withoutPlan(now) : this.light(plan, before)}</div>
      </div>
      <app-stack-finder .bench=${bench} .state=${now}></app-stack-finder>
      <app-tolerance-panel .bench=${bench} .state=${now}></app-tolerance-panel>
      <app-off-axis-panel .bench=${bench} .state=${now}></app-off-axis-panel>
    </div>`;
  }

  private section(
    plan: SurfacePlan | undefined,
    before: SurfacePlan | undefined,
    sensitivity: readonly number[],
  ) {
    if (plan === undefined) return nothing;
    const greatest = Math.max(...sensitivity, 0);
    const layers = plan.layers.map(({ label, thicknessNm, referenceIndex, locked, grading }, index) => ({
      material: label,
      thicknessNm,
      index: referenceIndex,
      locked,
      ...(grading && { indexChange: grading.indexChangePercent / 100 }),
      ...(greatest > 0 ? { sensitivity: (sensitivity[index] ?? 0) / greatest } : {}),
    }));
    const isSameRow = before !== undefined && before !== plan && before.layers.length === plan.layers.length;
    return html`<cw-stack-section
      .layers=${layers}
      .substrate=${plan.substrateLabel}
      .selected=${this.selected}
      .maxNm=${THICKEST_LAYER_NM}
      .previousNm=${isSameRow ? before.layers.map(({ thicknessNm }) => thicknessNm) : []}
      @cw-layer-thickness-input=${this.onThickness}
      @cw-layer-thickness-change=${this.onThickness}
      @cw-layer-select=${({ layer }: LayerSelectEvent) => {
        this.selected = layer;
      }}
    ></cw-stack-section>`;
  }

  private light(plan: SurfacePlan, before: SurfacePlan | undefined) {
    const { requirements } = shownSurface(this.state);
    const residual = residualOf(plan);
    return html`
      <cw-spectrum-chart
        .curves=${[...toleranceBand(this.desk.tolerance.answer, requirements, this.view), ...spectrumCurves(plan, before, this.view)]}
        .limits=${spectrumLimits(requirements, plan)}
        .quantity=${this.view.quantity}
        .log=${this.view.isLog}
        .label=${'Spectrum of the coated surface'}
        .fileName=${`${this.state.batch.id}-spectrum`}
      ></cw-spectrum-chart>
      ${this.controls(plan)}
      <div class="verdicts">
        ${plan.requirements.map(
          (verdict) =>
            html`<cw-verdict .verdict=${verdict.met ? 'met' : 'missed'}>${verdict.text}: ${significant(verdict.valuePercent, 3)} %</cw-verdict>
            <span class="small soft">${verdictDetail(verdict)}</span>`,
        )}
        ${this.yieldLine()}
      </div>
      ${residual === undefined ? nothing : this.residual(residual, residualOf(before)?.vivid ?? '')}
    `;
  }

  /** The colour of what is still reflected; in the dark of the chamber room by its figures only, to keep eyes adapted. */
  private residual({ vivid, srgb, L, a, b }: Residual, before: string) {
    const figures = `L* ${fixed(L, 1)}, a* ${fixed(a, 1)}, b* ${fixed(b, 1)} under D65`;
    if (this.state.preferences.theme === 'chamber')
      return html`<p class="small">Residual colour: ${figures} (${srgb}). It is shown in the other themes; here it would cost the eye its adaptation to the dark.</p>`;
    return html`<cw-colour-patch .colour=${vivid} .previous=${before} .label=${'Residual colour, brightened to be seen'} .detail=${`as it is: ${srgb}, ${figures}`}></cw-colour-patch>`;
  }

  private yieldLine() {
    const { answer, isUpdating, fault } = this.state.yields;
    const own = answer?.surfaces.find(({ side }) => side === shownSide(this.state));
    if (fault !== undefined)
      return html`<p class="said" role="status">The yield cannot be computed: ${fault}.</p>`;
    if (own === undefined) return isUpdating ? html`<p class="small soft">Yield: updating …</p>` : nothing;
    const [low, high] = own.yield95;
    return html`<p class="small ${isUpdating ? 'soft' : ''}">Expected yield of this side: ${percent(own.yield, 1)} (95 % between ${percent(low, 1)} and ${percent(high, 1)})${isUpdating ? ', updating …' : ''}</p>${isUpdating ? nothing : this.missedCut(own)}`;
  }

  /** Where many runs miss a cut, a good stack is spoiled by its monitoring. */
  private missedCut({ missedCuts }: SurfaceYield) {
    const most = Math.max(...missedCuts);
    const { batch } = this.state;
    const layer = shownSurface(this.state).layers[missedCuts.indexOf(most)];
    if (most < MANY_MISSED || layer === undefined) return nothing;
    const monitor = routeHref({ page: 'station', batchId: batch.id, station: 'monitor' });
    return html`<p class="small">Layer ${missedCuts.indexOf(most) + 1}, ${labelOf(layer.material, batch)}, misses its cut in ${percent(most, 1)} of the virtual runs; <a href=${monitor}>Monitor</a> can choose wavelength and rule anew.</p>`;
  }

  private controls(plan: SurfacePlan) {
    const { view } = this;
    const show = (change: Partial<SpectrumView>) => {
      this.view = { ...this.view, ...change };
    };
    const angle = (incidenceDeg: number) => {
      const hiddenDeg = new Set(view.hiddenDeg);
      if (!hiddenDeg.delete(incidenceDeg)) hiddenDeg.add(incidenceDeg);
      show({ hiddenDeg });
    };
    return html`<div class="controls" role="group" aria-label="What the chart shows">
      <select aria-label="Quantity" @change=${(event: Event) => show({ quantity: (event.target as HTMLSelectElement).value as SpectrumView['quantity'] })}>
        <option value="R">Reflectance</option><option value="T">Transmittance</option><option value="A">Absorptance</option>
      </select>
      <select aria-label="Polarisation" @change=${(event: Event) => show({ polarization: (event.target as HTMLSelectElement).value as SpectrumView['polarization'] })}>
        <option value="mean">unpolarised</option><option value="s">s</option><option value="p">p</option><option value="s and p">s and p</option>
      </select>
      ${plan.curves.length < 2 ? nothing : plan.curves.map(({ incidenceDeg }) => html`<label class="flag"><input type="checkbox" .checked=${!view.hiddenDeg.has(incidenceDeg)} @change=${() => angle(incidenceDeg)} />${incidenceDeg}°</label>`)}
      <label class="flag"><input type="checkbox" .checked=${view.showsBare} @change=${() => show({ showsBare: !view.showsBare })} />bare glass</label>
      <label class="flag"><input type="checkbox" .checked=${view.isLog} @change=${() => show({ isLog: !view.isLog })} />logarithmic</label>
    </div>`;
  }

  private readonly onThickness = (event: LayerThicknessInputEvent | LayerThicknessChangeEvent): void => {
    const isHeld = event.type === 'cw-layer-thickness-input';
    this.bench.edit({ ...setThickness(shownSide(this.state), event.layer, event.thicknessNm), isHeld });
  };

  /** One more layer on the picked one: of another material than its neighbour, a quarter wave thick. */
  private add(): void {
    const { layers } = shownSurface(this.state);
    const plan = shownSurfacePlan(this.state);
    const after = Math.min(this.selected ?? layers.length - 1, layers.length - 1);
    const { batch } = this.state;
    const own = [...new Set([...layers.map(({ material }) => material), 'mgf2', 'zro2'])];
    const known = new Set(materialsOf(['film', 'metal'], batch).map(({ id }) => id));
    const neighbours = [layers[after]?.material, layers[after + 1]?.material];
    const material = own.find((id) => known.has(id) && !neighbours.includes(id)) ?? 'mgf2';
    const reference = plan?.referenceWavelengthNm ?? 550;
    const thicknessNm = Math.round((10 * reference) / (4 * 1.5)) / 10;
    this.bench.edit(addLayer(shownSide(this.state), after, { material, thicknessNm }));
    this.selected = after + 1;
  }
}
