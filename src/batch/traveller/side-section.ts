import { clock, duration, fixed, percent, significant } from '../../base/format.ts';
import { type Markup, markup } from '../../base/markup.ts';
import { RULE_WORDS } from '../../monitor/rule-words.ts';
import type { Batch } from '../document.ts';
import { gradingWords } from '../grading-words.ts';
import { processOf } from '../plan/film-facts.ts';
import type { CutPlan, RunPlan, StepPlan, SurfacePlan } from '../plan/plan-types.ts';
import { gatherSteps } from './layer-steps.ts';
import { plotSvg } from './plot-svg.ts';

/** All that one run of a side is worked from, on sheets of its own. */
export function sideSection(batch: Batch, surface: SurfacePlan, run: RunPlan): Markup {
  return markup`<section class="side">
${cutting(batch, surface, run)}
<h3>Charge</h3>
<div class="scroll" tabindex="0" role="group" aria-label="Charge"><table class="dense"><thead><tr><td></td><th>Material</th><th>Source</th><th class="n">Pockets</th><th class="n">Used by the run</th><th class="n">Charge with reserve</th><th class="blank">Weighed in</th><th class="blank">Weighed out</th></tr></thead>
<tbody>${run.charge.map(
    (item) =>
      markup`<tr><td class="tick"></td><td>${item.label}</td><td>${item.source}</td><td class="n">${item.pockets}</td><td class="n">${significant(item.netMassG)} g</td><td class="n">${significant(item.massG)} g</td><td></td><td></td></tr>`,
  )}</tbody></table></div>
${stepTables(run)}
${readings(run)}
</section>`;
}

/** What a side's layers are cut by, alone. */
export function cutSection(batch: Batch, surface: SurfacePlan, run: RunPlan): Markup {
  return markup`<section class="side">
${cutting(batch, surface, run)}
${readings(run)}
</section>`;
}

function cutting(batch: Batch, surface: SurfacePlan, run: RunPlan): Markup {
  const name = surface.side === 'front' ? 'Front side' : 'Back side';
  return markup`<h2>${name}: coating${surface.own ? '' : ' as the front'}</h2>
<div class="fill"><span>Run</span><span>Load</span><span>Date</span><span>Operator</span></div>
${layerTable(batch, surface, run)}
${surface.own ? traces(run) : undefined}`;
}

function layerTable(batch: Batch, surface: SurfacePlan, { cuts }: RunPlan): Markup {
  const notes = cuts.flatMap(({ note }, index) => (note === '' ? [] : [`Layer ${index + 1}: ${note}.`]));
  return markup`<h3>Layers, and where to cut</h3>
<div class="scroll" tabindex="0" role="group" aria-label="Layers, and where to cut"><table class="dense"><thead><tr><th class="n">Layer</th><th>Material</th><th class="n">Thickness / nm</th><th class="n">Quarter waves</th><th class="n">Rate / (nm/s)</th><th>Cut by</th><th>Signal</th><th class="n">Starts at / %</th><th class="n">Turning points / %</th><th class="n">Cut at / %</th><th class="n">Crystal / nm</th><th class="n">Drop / Hz</th><th class="n">Left / kHz</th></tr></thead>
<tbody>${surface.layers.map((layer, index) => {
    const cut = cuts[index]!;
    const { rateNmPerS } = processOf(batch, layer.material);
    return markup`<tr><td class="n">${index + 1}</td><td>${layer.label}${layer.grading === undefined ? '' : `, ${gradingWords(layer.grading)}`}${cut.newWitness ? ' (new witness)' : ''}</td><td class="n">${fixed(layer.thicknessNm, 1)}</td><td class="n">${fixed(layer.quarterWaves, 3)}</td><td class="n">${significant(rateNmPerS, 2)}</td><td class="k">${RULE_WORDS[cut.rule]}</td><td class="k">${cut.signal}, ${fixed(cut.wavelengthNm, 0)} nm</td><td class="n">${level(cut.startLevel)}</td><td class="n">${cut.turningPoints.length === 0 ? 'none' : cut.turningPoints.map((point) => level(point.level)).join(', ')}</td><td class="n">${level(cut.endLevel)}</td><td class="n">${fixed(cut.crystalThicknessNm, 1)}</td><td class="n">${fixed(cut.crystalDropHz, 0)}</td><td class="n">${fixed(cut.crystalLeftHz / 1000, 1)}</td></tr>`;
  })}</tbody></table></div>
${notes.length === 0 ? undefined : markup`<ul class="notes">${notes.map((note) => markup`<li>${note} </li>`)}</ul>`}
<p class="small">In the order of deposition; layer 1 lies on the glass. Total ${fixed(surface.totalThicknessNm, 1)} nm. Quarter waves are at ${fixed(surface.referenceWavelengthNm, 0)} nm; crystal and drop are what the crystal shows, left is what it still bears after the layer.${aimWords(batch)}</p>
${surface.requirements.map(
  (verdict) =>
    markup`<p class="${verdict.met ? 'met' : 'missed'}">${verdict.text}: planned ${significant(verdict.valuePercent, 3)} %</p>`,
)}`;
}

/** What the run makes of the thicknesses above; '' where it aims at just these. */
function aimWords({ process }: Batch): string {
  const percentOver = process.aimPercent ?? 0;
  if (percentOver === 0) return '';
  return ` The run aims at ${fixed(Math.abs(percentOver), 1)} % ${percentOver > 0 ? 'more' : 'less'} than this on the mean lens place; steps, charge and cut table have that in them.`;
}

function level(fraction: number): string {
  return fixed(100 * fraction, 2);
}

/** Each layer's signal as it will run, small; every one on its own scale, its first and last level beneath. */
function traces({ cuts }: RunPlan): Markup | undefined {
  if (cuts.length === 0) return undefined;
  return markup`<h3>The signal of each layer, over its thickness; the dot is the cut</h3>
<div class="traces">${cuts.map(
    (cut, index) =>
      markup`<figure>${tracePlot(cut)}<figcaption>${index + 1} ${cut.label}: ${level(cut.startLevel)} to ${percent(cut.endLevel)}</figcaption></figure>`,
  )}</div>`;
}

function tracePlot({ label, trace, endLevel, thicknessNm, signal }: CutPlan): Markup {
  const levels = [...trace.level, endLevel];
  const [least, most] = [Math.min(...levels), Math.max(...levels)];
  const air = Math.max(0.08 * (most - least), 1e-4);
  return plotSvg({
    widthMm: 34,
    heightMm: 16,
    label: `${signal} of the witness while ${label} grows`,
    x: { from: 0, to: Math.max(thicknessNm, trace.thicknessNm.at(-1) ?? 0, 1e-6) },
    y: { from: least - air, to: most + air },
    curves: [{ x: trace.thicknessNm, y: trace.level, style: 'line' }],
    marks: [{ x: thicknessNm, y: endLevel }],
  });
}

function stepTables(run: RunPlan): Markup {
  const { before, layers, after } = gatherSteps(run);
  const columns = LAYER_COLUMNS.filter(({ kind }) => layers.some(({ byKind }) => byKind.has(kind)));
  return markup`<h3>Steps: ${duration(run.totalS)} door to door; bold ones set the length of the run</h3>
${frameSteps(before, 'Before the layers')}
<div class="scroll" tabindex="0" role="group" aria-label="Steps of the layers"><table class="dense"><thead><tr><td></td><th>Layer</th><th class="n">Starts</th>${columns.map(({ heading }) => markup`<th class="n">${heading}</th>`)}<th class="blank">Done at</th></tr></thead>
<tbody>${layers.map(
    ({ startS, byKind }, index) =>
      markup`<tr><td class="tick"></td><td class="k">${index + 1} ${run.cuts[index]?.label}</td><td class="n">${clock(startS)}</td>${columns.map(({ kind }) => markup`<td class="n">${layerStep(byKind.get(kind))}</td>`)}<td></td></tr>`,
  )}</tbody></table></div>
${frameSteps(after, 'After the layers')}`;
}

/** The steps of a layer in the order of work; a column stands where some layer has the step. */
const LAYER_COLUMNS = [
  { kind: 'pocket', heading: 'Turn to its pocket' },
  { kind: 'crystal', heading: 'Change the crystal' },
  { kind: 'backfill', heading: 'Gas settles' },
  { kind: 'ramp', heading: 'Raise the power' },
  { kind: 'source-soak', heading: 'Soak the source' },
  { kind: 'shutter', heading: 'Shutter opens' },
  { kind: 'deposit', heading: 'Deposit' },
] as const;

function layerStep(step: StepPlan | undefined): Markup | string | undefined {
  if (step === undefined) return undefined;
  const text = step.kind === 'shutter' ? clock(step.startS) : duration(step.durationS);
  return step.critical ? markup`<b>${text}</b>` : text;
}

function frameSteps(steps: readonly StepPlan[], heading: string): Markup | undefined {
  if (steps.length === 0) return undefined;
  return markup`<div class="scroll" tabindex="0" role="group" aria-label="Steps: ${heading}"><table class="dense"><thead><tr><td></td><th>${heading}</th><th class="n">Starts</th><th class="n">Takes</th><th>Set by</th><th class="blank">Done at</th></tr></thead>
<tbody>${steps.map(
    (step) =>
      markup`<tr><td class="tick"></td><td>${step.critical ? markup`<b>${step.label}</b>` : step.label}</td><td class="n">${clock(step.startS)}</td><td class="n">${duration(step.durationS)}</td><td>${step.limitedBy}</td><td></td></tr>`,
  )}</tbody></table></div>`;
}

const READINGS = [
  'Signal at cut',
  'Pressure',
  'Oxygen',
  'Temperature',
  'Mean rate',
  'Beam current',
  'Remark',
];

function readings({ cuts }: RunPlan): Markup {
  return markup`<h3>Readings</h3>
<div class="scroll" tabindex="0" role="group" aria-label="Readings"><table class="readings dense"><thead><tr><th>Layer</th>${READINGS.map((heading) => markup`<th>${heading}</th>`)}</tr></thead>
<tbody>${cuts.map((cut, index) => markup`<tr><td>${index + 1} ${cut.label}</td>${READINGS.map(() => markup`<td></td>`)}</tr>`)}</tbody></table></div>`;
}
