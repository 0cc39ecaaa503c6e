import { html, nothing, type TemplateResult } from 'lit';
import { duration, significant } from '../../../base/format.ts';
import type { Chamber } from '../../../batch/document.ts';
import { type Desk, numberField, textField } from '../../fields/fields.ts';
import { shownRun } from '../sides-shown.ts';

/** Most stages that a batch may have. */
const MOST_STAGES = 6;

/** The pump stages from air to the pressure of deposition, each with its line, and what the walls give off. */
export function pumpFields(desk: Desk): TemplateResult {
  const { pumps } = desk.state.batch.chamber;
  const change = (name: string, recipe: (chamber: Chamber) => void) => () =>
    desk.bench.edit({ name, recipe: ({ chamber }) => recipe(chamber) });
  const add = change('A pump stage more', (chamber) => {
    const last = chamber.pumps.at(-1)!;
    chamber.pumps.push({
      name: `stage ${chamber.pumps.length + 1}`,
      speedM3PerS: last.speedM3PerS,
      loadPaM3PerS: last.loadPaM3PerS,
      untilPa: last.untilPa,
    });
  });
  return html`
    ${pumps.map((_, index) => stageFields(desk, index, change))}
    ${pumps.length < MOST_STAGES ? html`<div><button class="quiet" @click=${add}>Another pump stage</button></div>` : nothing}
    <p class="small soft">A stage pumps from the crossover before it to its own. A pump's line takes its part of the speed: 1/S = 1/S_pump + 1/C, with C the sum of molecular and viscous flow through a round pipe (Berman 1965, Poiseuille; Knudsen 1909). How and when valves are opened is for the pumps' and the chamber's manuals.</p>
    ${outgassingFields(desk, change)}
  `;
}

type Change = (name: string, recipe: (chamber: Chamber) => void) => () => void;

function stageFields(desk: Desk, index: number, change: Change): TemplateResult {
  const { batch, preferences } = desk.state;
  const { pumps } = batch.chamber;
  const path = ['chamber', 'pumps', index] as const;
  const name = `Pump stage ${index + 1}`;
  const isLast = index === pumps.length - 1;
  const hasLine = pumps[index]!.line !== undefined;
  const pressure = { displayUnit: preferences.pressureUnit };
  const until = isLast ? 'Down to' : 'Crossover at';
  return html`<div class="fields" role="group" aria-label=${name}>
    ${textField(desk, [...path, 'name'], name, { maxLength: 60 })}
    ${numberField(desk, [...path, 'speedM3PerS'], hasLine ? "The pump's own speed" : 'Speed at the chamber', { name: `${name}: speed` })}
    ${numberField(desk, [...path, 'loadPaM3PerS'], 'Gas load', { name: `${name}: gas load` })}
    ${numberField(desk, [...path, 'untilPa'], until, { name: `${name}: ${until.toLowerCase()}`, ...pressure })}
    ${
      hasLine
        ? html`${numberField(desk, [...path, 'line', 'diameterMm'], 'Bore of its line', { name: `${name}: bore of the line` })}
          ${numberField(desk, [...path, 'line', 'lengthMm'], 'Length of its line', { name: `${name}: length of the line` })}
          <button class="quiet" aria-label="Without the line: ${name.toLowerCase()}" @click=${change(
            `${name} without its line`,
            (chamber) => {
              delete chamber.pumps[index]!.line;
            },
          )}>Without the line</button>`
        : html`<button class="quiet" aria-label="Reckon with its line: ${name.toLowerCase()}" @click=${change(
            `${name} with its line`,
            (chamber) => {
              chamber.pumps[index]!.line = isLast
                ? { diameterMm: 250, lengthMm: 300 }
                : { diameterMm: 40, lengthMm: 1500 };
            },
          )}>Reckon with its line</button>`
    }
    ${
      pumps.length > 1
        ? html`<button class="quiet" aria-label="Remove ${name.toLowerCase()}" @click=${change(
            `${name} removed`,
            (chamber) => void chamber.pumps.splice(index, 1),
          )}>Remove</button>`
        : nothing
    }
    ${lineFault(desk, index)}
    ${stageWords(desk, index)}
  </div>`;
}

/** A fault of the line as a whole stands at no single field. */
function lineFault({ state: { outcome } }: Desk, index: number): TemplateResult | typeof nothing {
  const { fault } = outcome;
  if (!fault?.path.startsWith(`chamber.pumps[${index}].line`)) return nothing;
  return html`<p class="small said" role="status">The line: ${fault.reason}.</p>`;
}

/** How long the stage takes and what of the speed the line leaves. */
function stageWords({ state }: Desk, index: number): TemplateResult | typeof nothing {
  const stage = shownRun(state)?.pumps[index];
  if (stage === undefined || state.isStale) return nothing;
  const [first, last] = stage.speedsM3PerS;
  const speed =
    state.batch.chamber.pumps[index]?.line === undefined
      ? ''
      : `; the line leaves ${significant(first, 3)} m³/s at its beginning, ${significant(last, 3)} m³/s at its end`;
  return html`<p class="small soft">Takes ${duration(stage.durationS)}${speed}.</p>`;
}

function outgassingFields(desk: Desk, change: Change): TemplateResult {
  const { outgassing } = desk.state.batch.chamber;
  if (outgassing === undefined) {
    const begin = change('Outgassing reckoned with', (chamber) => {
      chamber.outgassing = { areaM2: 10, rateAfter1hPaM3PerSM2: 1e-4 };
    });
    return html`<div><button class="quiet" @click=${begin}>Reckon with what the walls give off</button></div>`;
  }
  const leave = change('Outgassing left out', (chamber) => {
    delete chamber.outgassing;
  });
  return html`<div class="fields" role="group" aria-label="What the walls give off">
      ${numberField(desk, ['chamber', 'outgassing', 'areaM2'], 'Outgassing area')}
      ${numberField(desk, ['chamber', 'outgassing', 'rateAfter1hPaM3PerSM2'], 'Outgassing after 1 h')}
      ${numberField(desk, ['chamber', 'outgassing', 'exposureMin'], 'Chamber stands open for', { optional: true, usual: 30, name: 'Time open to the air' })}
      <button class="quiet" @click=${leave}>Leave it out</button>
    </div>
    <p class="small soft">The rate falls as 1/t. It holds for a chamber that stood open for 30 min; water gathers with the square root of the time (common practice, no source).</p>`;
}
