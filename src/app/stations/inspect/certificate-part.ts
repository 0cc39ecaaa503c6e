import { html, type TemplateResult } from 'lit';
import { live } from 'lit/directives/live.js';
import type { MeasuredSpectrum, RunRecord } from '../../../batch/document.ts';
import { serialOf } from '../../../batch/record-code.ts';
import { certificateTitle } from '../../../inspect/certificate/certificate-html.ts';
import { type Desk, textField } from '../../fields/fields.ts';
import { routeHref } from '../../routes.ts';

const PIECES = [
  ['', 'not stated'],
  ['lens', 'a lens'],
  ['witness', 'a witness piece'],
] as const;

/** What a run's certificate says beyond the spectra, to be filled in, and the way to it. */
export function certificatePart(desk: Desk, run: RunRecord, index: number): TemplateResult {
  const { batch } = desk.state;
  const path = ['runs', index] as const;
  const open = () => {
    location.hash = routeHref({ page: 'certificate', batchId: batch.id, runId: run.id });
  };
  return html`<details>
    <summary>Certificate of run ${run.number}, serial ${serialOf({ batchId: batch.id, runId: run.id })}</summary>
    <div class="stack">
      <div class="fields">
        ${textField(desk, ['shop'], "Shop's name and place", { optional: true, maxLength: 200 })}
      </div>
      ${run.spectra.map(
        (
          spectrum,
          place,
        ) => html`<div class="fields" role="group" aria-label="How ${spectrum.name} was measured">
          ${pieceField(desk, index, spectrum, place)}
          ${textField(desk, [...path, 'spectra', place, 'instrument'], `Instrument for ${spectrum.name}`, { optional: true, maxLength: 200 })}
        </div>`,
      )}
      <p class="small soft">As it stands: ${certificateTitle({ batch, run }).toLowerCase()}. A value that is too close to its limit to call is no pass.</p>
      <div class="row"><button @click=${open}>Certificate of run ${run.number} to print</button></div>
    </div>
  </details>`;
}

function pieceField({ bench }: Desk, run: number, { name, piece }: MeasuredSpectrum, place: number) {
  const id = `piece-${run}-${place}`;
  const onChange = (event: Event) => {
    const { value } = event.target as HTMLSelectElement;
    bench.edit({
      name: `${name}: measured on ${PIECES.find(([one]) => one === value)?.[1] ?? value}`,
      recipe: (draft) => {
        const spectrum = draft.runs[run]?.spectra[place];
        if (spectrum === undefined) return;
        if (value === 'lens' || value === 'witness') spectrum.piece = value;
        else delete spectrum.piece;
      },
    });
    bench.settle();
  };
  return html`<div class="field"><label for=${id}>${name} was measured on</label>
    <select id=${id} .value=${live(piece ?? '')} @change=${onChange}>
      ${PIECES.map(([value, words]) => html`<option value=${value} ?selected=${value === (piece ?? '')}>${words}</option>`)}
    </select></div>`;
}
