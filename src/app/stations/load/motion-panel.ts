import { html, nothing, type TemplateResult } from 'lit';
import { counted } from '../../../base/format.ts';
import { MOTION_KINDS, type MotionKind } from '../../../batch/document.ts';
import { MOTION_WORDS } from '../../../batch/motion-words.ts';
import { motionKindOf } from '../../../batch/plan/load-motion.ts';
import { widestRackMm } from '../../../batch/plan/load-plan.ts';
import type { Plan } from '../../../batch/plan/plan-types.ts';
import { choiceField, type Desk, numberField } from '../../fields/fields.ts';

const CHOICES = MOTION_KINDS.map((kind) => [kind, MOTION_WORDS[kind]] as const);

/** How the load moves, with the figures of that motion; those of the other motions stay in the batch. */
export function motionPanel(desk: Desk, plan: Plan | undefined): TemplateResult {
  const { fixture } = desk.state.batch;
  const kind = motionKindOf(fixture);
  const of = (name: string, label: string, options = {}) =>
    numberField(desk, ['fixture', name], label, options);
  const height = (label: string) => of('heightMm', label, { name: 'Rack height' });
  const turns = (label: string) => of('carrierTurnsPerMin', label, { name: 'Turns a minute' });
  const fields: Readonly<Record<MotionKind, () => TemplateResult>> = {
    planetary: () => html`
      ${of('racks', 'Racks')}
      ${of('carrierRadiusMm', "Machine's axis to rack's axis", { name: 'Carrier radius' })}
      ${height('Height above the sources')}
      ${of('tiltDeg', 'Tilt towards the axis', { name: 'Tilt of the racks' })}
      ${of('gearRatio', 'Rack turns for one of the carrier', { optional: true, name: 'Gear ratio' })}
      ${turns('Carrier turns')}
    `,
    rotating: () => html`${height('Height above the sources')} ${turns('Rack turns')}`,
    fixed: () => height('Height above the sources'),
    dome: () => html`
      ${height('Top of the dome above the sources')}
      ${of('domeRadiusMm', 'Radius of its sphere', { optional: true, usual: fixture.heightMm, name: 'Dome radius' })}
      ${turns('Dome turns')}
    `,
  };
  return html`<div class="group">
    <h2>Motion</h2>
    <div class="fields">
      ${choiceField(desk, ['fixture', 'motion'], 'The load is', CHOICES, { usual: 'planetary', name: 'Motion' })}
      ${fields[kind]()}
    </div>
    <p class="small soft">${note(kind, plan)} ${kind === 'planetary' ? nothing : `The chamber takes one of up to ${widestRackMm(desk.state.batch)} mm.`}</p>
  </div>`;
}

function note(kind: MotionKind, plan: Plan | undefined) {
  switch (kind) {
    case 'planetary':
      return html`Without a gear ratio the racks never stand the same way twice. ${plan === undefined || plan.load.motion.kind !== kind ? nothing : `${counted(plan.load.racksThatFit, 'such rack')} would fit on this carrier.`}`;
    case 'rotating':
      return 'A film even in the middle of a turning rack wants its source well off the axis.';
    case 'fixed':
      return 'At rest every place gets its own film, the most where it is nearest to the source; a shield would only cast its shadow.';
    case 'dome':
      return 'Places are laid out as seen from above, which keeps lenses apart on the slope too. A sphere whose centre lies halfway up to its top passes through the sources.';
  }
}
