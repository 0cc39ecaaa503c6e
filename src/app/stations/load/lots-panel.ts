import { html, nothing } from 'lit';
import { capital, counted, fixed } from '../../../base/format.ts';
import { lensOfLot } from '../../../batch/batch-of-lot.ts';
import { doneWords, lotNamed } from '../../../batch/lot-done-words.ts';
import { lotWords } from '../../../batch/lot-words.ts';
import { rowWords } from '../../../batch/plan/load-rows.ts';
import type { PlacesPlan } from '../../../batch/plan/places-plan.ts';
import type { Plan } from '../../../batch/plan/plan-types.ts';
import { type Desk, numberField, textField } from '../../fields/fields.ts';

const MOST_LOTS = 6;

/** Other lots with the same coating that fill racks of the same carrier, and what then stands in every load. */
export function lotsPanel(desk: Desk, plan: Plan | undefined, places: PlacesPlan | undefined) {
  const { batch } = desk.state;
  const lots = batch.fixture.otherLots ?? [];
  const add = () =>
    desk.bench.edit({
      name: 'Another lot on the carrier',
      recipe: (draft) => {
        const lot = { lot: `lot ${lots.length + 2}`, quantity: 20, diameterMm: batch.order.lens.diameterMm };
        draft.fixture.otherLots = [...(draft.fixture.otherLots ?? []), lot];
      },
    });
  const remove = (index: number) =>
    desk.bench.edit({
      name: `${capital(lotWords(lots[index]?.lot ?? ''))} removed from the carrier`,
      recipe: (draft) => {
        const left = (draft.fixture.otherLots ?? []).filter((_, at) => at !== index);
        if (left.length > 0) draft.fixture.otherLots = left;
        else delete draft.fixture.otherLots;
      },
    });
  return html`<div class="group">
    <h2>Lots on the carrier</h2>
    ${lots.map(({ lot }, index) => {
      const path = ['fixture', 'otherLots', index] as const;
      const stands = plan?.load.otherLots[index];
      const done = plan === undefined ? undefined : lotNamed(plan.lot, lot);
      return html`<div role="group" aria-label="${capital(lotWords(lot))}">
        <div class="fields">
          ${textField(desk, [...path, 'lot'], `Lot ${index + 2}`, { maxLength: 60 })}
          ${numberField(desk, [...path, 'quantity'], 'Lenses to start', { name: `Lenses of ${lot}` })}
          ${numberField(desk, [...path, 'diameterMm'], 'Lens diameter', { name: `Lens diameter of ${lot}` })}
          ${numberField(desk, [...path, 'clearApertureMm'], 'Clear aperture', { optional: true, usual: lensOfLot(batch, lots[index]!).clearApertureMm, name: `Clear aperture of ${lot}` })}
          ${numberField(desk, [...path, 'frontRadiusMm'], 'Front radius', { optional: true, name: `Front radius of ${lot}` })}
          ${numberField(desk, [...path, 'backRadiusMm'], 'Back radius', { optional: true, name: `Back radius of ${lot}` })}
          <button class="quiet" aria-label="Remove ${lotWords(lot)} from the carrier" @click=${() => remove(index)}>Remove</button>
        </div>
        ${stands === undefined || plan === undefined ? nothing : html`<p class="small">${counted(stands.lensesPerRack, 'lens', 'lenses')} on a rack. ${filmWords(plan, index)} ${verdictWords(places, plan, index)} ${done === undefined ? nothing : `Goes in with ${doneWords(done)}.`}</p>`}
      </div>`;
    })}
    <div><button class="quiet" ?disabled=${lots.length >= MOST_LOTS} @click=${add}>Load another lot with it</button></div>
    ${plan === undefined ? nothing : rowsTable(plan)}
  </div>`;
}

/** The aim is on this order's own mean place; another lot's places lie elsewhere on the rack. */
function filmWords({ load, distributions }: Plan, index: number): string {
  const { places } = load.otherLots[index]!;
  const film = distributions.flatMap(({ materials }) =>
    materials.flatMap(({ atOtherPlaces }) =>
      [...(atOtherPlaces[index] ?? [])].filter((_, place) => places[place]?.use === 'lens'),
    ),
  );
  if (film.length === 0) return '';
  const percent = (value: number) => fixed(100 * value, 2);
  return `At their centres the film is ${percent(Math.min(...film))} to ${percent(Math.max(...film))} % of what is aimed at.`;
}

/** How many of its lenses on a full rack are good as planned. */
function verdictWords(places: PlacesPlan | undefined, { load }: Plan, index: number): string {
  const judged = places?.others[index];
  if (judged === undefined) return 'Its places are being judged.';
  return `As planned, ${judged.goodPerRack} of ${load.otherLots[index]!.lensesPerRack} lenses on a full rack meet every requirement at centre and edge; a face without a radius counts as plane.`;
}

function rowsTable({ lot }: Plan) {
  return html`<div class="scroll" tabindex="0" role="group" aria-label="What stands in every load"><table>
    <thead><tr><th>Load</th><th>Racks</th></tr></thead>
    <tbody>${lot.rows.map(
      (row) => html`<tr>
        <th scope="row">${row.from === row.to ? row.from : `${row.from}–${row.to}`}</th>
        <td>${rowWords(row)}</td>
      </tr>`,
    )}</tbody>
  </table></div>`;
}
