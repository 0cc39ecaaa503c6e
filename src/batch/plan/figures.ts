import { counted, duration, fixed, percent, significant } from '../../base/format.ts';
import { costLot } from './lot-cost.ts';
import type { Plan, RequirementVerdict, YieldPlan } from './plan-types.ts';

/** One figure that everybody cares about, as the ripple strip shows it. */
export interface Figure {
  readonly id: string;
  readonly label: string;
  readonly value: number;
  readonly text: string;
  /** Which way is good, for the colour of a change. */
  readonly betterWhen: 'lower' | 'higher' | 'neither';
  /** Writes a change of the value, such as "+12 min". */
  readonly changeText: (change: number) => string;
  /** For a figure that has a limit: whether it is kept. */
  readonly met?: boolean;
}

/** The figures of a plan, in the order of the strip; the yield stands among them and makes the cost once it is known. */
export function figuresOf(plan: Plan, yieldPlan?: YieldPlan): Figure[] {
  const figures: Figure[] = [];
  const tightest = tightestRequirement(plan);
  if (tightest !== undefined)
    figures.push({
      id: 'requirement',
      label: `${tightest.quantityText} against ${fixed(tightest.limitPercent, 2)} %`,
      value: tightest.valuePercent,
      text: `${significant(tightest.valuePercent, 3)} %`,
      betterWhen: tightest.sense === 'below' ? 'lower' : 'higher',
      changeText: (change) => signed(change, `${significant(Math.abs(change), 2)} %`),
      met: plan.surfaces.every(({ allMet }) => allMet),
    });
  if (yieldPlan !== undefined)
    figures.push({
      id: 'yield',
      label: 'expected yield',
      value: yieldPlan.yield,
      text: percent(yieldPlan.yield, 1),
      betterWhen: 'higher',
      changeText: (change) => signed(change, percent(Math.abs(change), 1)),
    });
  figures.push(
    count('lenses-a-load', 'lenses a load', plan.load.lensesPerLoad, 'higher', 'lens', 'lenses'),
    count('runs', 'runs', plan.lot.runs, 'lower', 'run', 'runs'),
    time('run-time', 'longest run', Math.max(...plan.runs.map(({ totalS }) => totalS), 0)),
    time('lot-time', 'whole lot', plan.lot.totalS),
    {
      id: 'charge',
      label: 'charge for the lot',
      value: plan.lot.chargeG,
      text: `${significant(plan.lot.chargeG, 3)} g`,
      betterWhen: 'lower',
      changeText: (change) => signed(change, `${significant(Math.abs(change), 2)} g`),
    },
  );
  const { costing, currency = '' } = plan.lot;
  const costed = costing === undefined ? undefined : costLot(costing, yieldPlan?.yield);
  if (costed !== undefined)
    figures.push({
      id: 'cost',
      label: `cost a good lens, by the ${costed.by}`,
      value: costed.cost.perGoodLens,
      text: `${fixed(costed.cost.perGoodLens, 2)} ${currency}`.trim(),
      betterWhen: 'lower',
      changeText: (change) => signed(change, fixed(Math.abs(change), 2)),
    });
  return figures;
}

interface Tightest extends RequirementVerdict {
  readonly quantityText: string;
}

/** The requirement with the least room, relative to its limit: the one that decides. */
function tightestRequirement({ surfaces }: Plan): Tightest | undefined {
  const all = surfaces
    .filter(({ own }) => own)
    .flatMap(({ requirements }) => requirements)
    .map((verdict) => ({ ...verdict, quantityText: verdict.text.split(/[≤≥]/)[0]?.trim() ?? verdict.text }));
  return all.reduce<Tightest | undefined>(
    (worst, verdict) => (worst === undefined || room(verdict) < room(worst) ? verdict : worst),
    undefined,
  );
}

function room({ marginPercent, limitPercent }: RequirementVerdict): number {
  return marginPercent / Math.max(limitPercent, 0.01);
}

function count(
  id: string,
  label: string,
  value: number,
  betterWhen: 'lower' | 'higher',
  one: string,
  many: string,
): Figure {
  return {
    id,
    label,
    value,
    text: String(value),
    betterWhen,
    changeText: (change) => signed(change, counted(Math.abs(change), one, many)),
  };
}

function time(id: string, label: string, value: number): Figure {
  return {
    id,
    label,
    value,
    text: duration(value),
    betterWhen: 'lower',
    changeText: (change) => signed(change, duration(Math.abs(change))),
  };
}

function signed(change: number, amount: string): string {
  return `${change < 0 ? '\u2212' : '+'}${amount}`;
}
