import { fixed, percent, significant } from '../../../base/format.ts';
import { escapeMarkup, markup } from '../../../base/markup.ts';
import type { Batch } from '../../../batch/document.ts';
import { lotWords } from '../../../batch/lot-words.ts';
import type { RunPlan, SurfacePlan } from '../../../batch/plan/plan-types.ts';
import type { CutRule } from '../../../monitor/cut-rule.ts';
import { RULE_WORDS } from '../../../monitor/rule-words.ts';

/** What the sheet tells: the run as it goes on. */
export interface RescueFacts {
  readonly batch: Batch;
  readonly surface: SurfacePlan;
  readonly run: RunPlan;
  /** How many layers are finished. */
  readonly finished: number;
  /** Change of each layer against the plan, nm. */
  readonly changeNm: readonly number[];
  readonly reason: string;
}

/** The traveller's page for a run that goes on after a wrong cut, as a document that still wants `TRAVELLER_CSS`. */
export function rescueSheet({ batch, surface, run, finished, changeNm, reason }: RescueFacts): string {
  const { order } = batch;
  const row = (index: number) => {
    const cut = run.cuts[index]!;
    const change = changeNm[index] ?? 0;
    const head = markup`<td>${index + 1} ${cut.label}</td><td class="n">${fixed(cut.thicknessNm, 1)} nm</td><td class="n">${fixed(change, 1)} nm</td>`;
    if (index < finished) return markup`<tr>${head}<td colspan="6">done</td></tr>`;
    return markup`<tr>${head}<td>${cut.signal} at ${fixed(cut.wavelengthNm, 0)} nm, by ${RULE_WORDS[cut.rule as CutRule]}</td><td class="n">${percent(cut.startLevel)}</td><td>${cut.turningPoints.length === 0 ? 'none' : cut.turningPoints.map(({ level }) => percent(level)).join(', ')}</td><td class="n">${percent(cut.endLevel)}</td><td class="n">${fixed(cut.crystalThicknessNm, 1)} nm</td><td class="blank"></td></tr>
${cut.note === '' ? undefined : markup`<tr><td></td><td colspan="8">${cut.note}</td></tr>`}`;
  };
  const body = markup`<article class="traveller">
<header><div><h1>Rescue: ${order.title}</h1><p>${surface.side === 'front' ? 'Front' : 'Back'} side, after layer ${finished} of ${run.cuts.length}</p></div><div class="lot">Lot<b>${order.lot}</b></div></header>
<p><b>${reason}</b></p>
<h2>New cut table</h2>
<div class="scroll"><table><thead><tr><th>Layer</th><th class="n">Thickness</th><th class="n">Change</th><th>Signal</th><th class="n">Starts at</th><th>Turning points</th><th class="n">Cut at</th><th class="n">Crystal</th><th>Read at the cut</th></tr></thead>
<tbody>${run.cuts.map((_, index) => row(index))}</tbody></table></div>
<h2>What the lenses will be</h2>
${surface.requirements.map((verdict) => markup`<p class="${verdict.met ? 'met' : 'missed'}">${verdict.text}: ${significant(verdict.valuePercent, 3)} %</p>`)}
<div class="sign"><div>Operator, date</div><div>Technician, date</div><div>Released by, date</div></div>
<footer>${batch.invented === undefined ? '' : batch.invented} This page replaces the traveller's cut table for this run only.</footer>
</article>`;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<title>${escapeMarkup(`Rescue · ${lotWords(order.lot)}`)}</title>
</head>
<body>${body}</body>
</html>
`;
}
