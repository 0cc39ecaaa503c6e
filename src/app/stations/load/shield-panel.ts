import { html, nothing } from 'lit';
import { fixed, listed } from '../../../base/format.ts';
import type { BatchShield } from '../../../batch/document.ts';
import { firstShield, usedSources } from '../../../batch/plan/even-out-load.ts';
import type { DistributionPlan, Plan } from '../../../batch/plan/plan-types.ts';
import { shieldCsv, shieldSvg } from '../../../chamber/shield-drawing.ts';
import { downloadText } from '../../download.ts';
import { choiceField, type Desk, flagField, numberField } from '../../fields/fields.ts';
import type { ShieldDesk } from './shield-desk.ts';

const MOST_SHIELDS = 4;

/** Shields: made with one button for a source or for all, hung, seen in what they do, cut out to scale. */
export function shieldPanel(desk: Desk, shields: ShieldDesk, plan: Plan | undefined) {
  const { batch } = desk.state;
  const made = batch.chamber.shields ?? [];
  const used = usedSources(batch);
  const open = used.filter((source) => !made.some((shield) => shield.source === source));
  const isFull = made.length >= MOST_SHIELDS || plan === undefined || shields.busy !== '';
  const make = (source: string | undefined) => {
    if (plan === undefined) return;
    const id = freshName(made, source ?? 'all');
    void shields.evenOut(desk.bench, batch, plan.load, firstShield(batch, id, source));
  };
  return html`<div class="group">
    <h2>Shields</h2>
    ${made.map((shield, index) => oneShield(desk, shields, plan, shield, index))}
    <div class="row">
      ${open.map((source) => html`<button class="quiet" ?disabled=${isFull} @click=${() => make(source)}>Even out with a shield for ${source}</button>`)}
      ${used.length < 2 || made.some(({ source }) => source === undefined) ? nothing : html`<button class="quiet" ?disabled=${isFull} @click=${() => make(undefined)}>Even out with one still shield for ${listed(used)}</button>`}
    </div>
    <p class="small" role="status">${shields.busy === '' ? shields.said : 'The shape is being computed; this takes some seconds.'}</p>
    ${plan === undefined ? nothing : effectTable(plan.distributions[0])}
    <p class="small soft">A shield is a level sheet that stands still below the turning racks; one for a single source swings in with it. Fasten it so that nothing can reach the racks, and cool down and vent by the machine's manual before hands go in.</p>
  </div>`;
}

function oneShield(
  desk: Desk,
  shields: ShieldDesk,
  plan: Plan | undefined,
  shield: BatchShield,
  index: number,
) {
  const { batch } = desk.state;
  const { id } = shield;
  const path = ['chamber', 'shields', index] as const;
  const title = `${batch.order.title}, shield ${id}`;
  const anew = () => {
    if (plan !== undefined) void shields.evenOut(desk.bench, batch, plan.load, plainWanted(shield));
  };
  const remove = () =>
    desk.bench.edit({
      name: `Shield ${id} removed`,
      recipe: (draft) => {
        const left = (draft.chamber.shields ?? []).filter((one) => one.id !== id);
        if (left.length > 0) draft.chamber.shields = left;
        else delete draft.chamber.shields;
      },
    });
  const stands = [
    ['', 'stands still for every source'] as const,
    ...batch.chamber.sources.map((source) => [source.id, `swings in with ${source.id}`] as const),
  ];
  return html`<div role="group" aria-label="Shield ${id}">
    <div class="fields">
      ${numberField(desk, [...path, 'heightMm'], `Shield ${id}: height`, { name: `Height of shield ${id}` })}
      ${numberField(desk, [...path, 'azimuthDeg'], 'Direction', { name: `Direction of shield ${id}` })}
      ${choiceField(desk, [...path, 'source'], 'How it stands', stands, { name: `Shield ${id}`, usual: '', also: dropEmptySource(index) })}
    </div>
    ${flagField(desk, [...path, 'inTooling'], 'The toolings of the batch were measured with it in place', { name: `Shield ${id} in the toolings` })}
    <div class="row">
      <button class="quiet" aria-label="Even out anew with shield ${id}" ?disabled=${plan === undefined || shields.busy !== ''} @click=${anew}>Even out anew</button>
      <button class="quiet" aria-label="Save the cutting picture, to scale: shield ${id}" @click=${() => downloadText(`${batch.id}-shield-${id}.svg`, shieldSvg(shield, title), 'image/svg+xml')}>Save the cutting picture, to scale</button>
      <button class="quiet" aria-label="Save the outline as CSV: shield ${id}" @click=${() => downloadText(`${batch.id}-shield-${id}.csv`, shieldCsv(shield), 'text/csv')}>Save the outline as CSV</button>
      <button class="quiet" aria-label="Remove shield ${id}" @click=${remove}>Remove</button>
    </div>
  </div>`;
}

/** The picker's "for every source" is a source left out. */
function dropEmptySource(index: number): (draft: Desk['state']['batch'], value: string) => void {
  return (draft, value) => {
    const shield = draft.chamber.shields?.[index];
    if (value === '' && shield !== undefined) delete shield.source;
  };
}

function plainWanted({ id, source, heightMm, azimuthDeg }: BatchShield) {
  return { id, ...(source === undefined ? {} : { source }), heightMm, azimuthDeg };
}

function freshName(made: readonly BatchShield[], wanted: string): string {
  let name = wanted;
  for (let number = 2; made.some(({ id }) => id === name); number++) name = `${wanted}-${number}`;
  return name;
}

/** Every material's film without and with its shields, and what they cost. */
function effectTable(distribution: DistributionPlan | undefined) {
  const shaded = distribution?.materials.filter(({ shade }) => shade !== undefined) ?? [];
  if (shaded.length === 0) return nothing;
  return html`<div class="scroll" tabindex="0" role="group" aria-label="What the shields do"><table>
    <caption>Film on the lens places. A shield takes film from the lenses, not from the crystal: charge and time grow by as much, and the toolings are carried over to it until they are measured with it in place.</caption>
    <thead><tr><th>Material</th><th class="figure">Without</th><th class="figure">With</th><th class="figure">Taken</th><th class="figure">Crystal tooling, own</th><th class="figure">In the run</th></tr></thead>
    <tbody>${shaded.map(
      ({ label, deviationPercent, ownCrystalTooling, shade }) => html`<tr>
        <th scope="row">${label}</th>
        <td class="figure">±${fixed(shade!.bareDeviationPercent, 2)} %</td>
        <td class="figure">±${fixed(deviationPercent, 3)} %</td>
        <td class="figure">${fixed(shade!.takenPercent, 1)} %</td>
        <td class="figure">${fixed(ownCrystalTooling, 4)}</td>
        <td class="figure">${fixed(ownCrystalTooling * shade!.crystalFactor, 4)}</td>
      </tr>`,
    )}</tbody>
  </table></div>`;
}
