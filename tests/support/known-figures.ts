import type { OffAxisAnswer } from '../../src/app/stations/stack/stack-desk.ts';
import { offAxisRequest } from '../../src/app/stations/stack/task-requests.ts';
import { dayText } from '../../src/base/day-text.ts';
import { clock, counted, duration, fixed, percent, significant } from '../../src/base/format.ts';
import type { Batch } from '../../src/batch/document.ts';
import { figuresOf } from '../../src/batch/plan/figures.ts';
import { heatLimit, heatLimitWords } from '../../src/batch/plan/heat-limit.ts';
import { rowWords } from '../../src/batch/plan/load-rows.ts';
import { costLot } from '../../src/batch/plan/lot-cost.ts';
import { calendarHours } from '../../src/batch/plan/lot-plan.ts';
import { type PlacesPlan, planPlaces } from '../../src/batch/plan/places-plan.ts';
import { computePlan } from '../../src/batch/plan/plan.ts';
import type { Plan, RunPlan, SurfacePlan, YieldPlan } from '../../src/batch/plan/plan-types.ts';
import { computeYield, YIELD_RUNS } from '../../src/batch/plan/yield-plan.ts';
import { runTask } from '../../src/compute/task.ts';
import offAxisTask from '../../src/compute/tasks/offaxis.ts';
import { resolveIndex } from '../../src/materials/index-spec.ts';
import { findMaterial } from '../../src/materials/library.ts';
import type { ShownFigure } from './figures-shown.ts';
import { atInspect, type Inspected, inspected } from './known-inspect.ts';
import { ofWays } from './known-ways.ts';

/** A batch with what the engine makes of it under Node. */
export interface Computed {
  readonly batch: Batch;
  readonly plan: Plan;
  readonly yields: YieldPlan;
  readonly places: PlacesPlan;
  readonly offAxis: OffAxisAnswer;
  /** The last run of the log, where something was measured. */
  readonly inspected: Inspected | undefined;
  /** All batches that are kept. */
  readonly shelf: readonly Batch[];
}

/** The half angle in ° of the cone that the Stack station begins with. */
const CONE_DEG = 10;

/** What the engine makes of one of the batches that are kept. */
export async function computed(batch: Batch, shelf: readonly Batch[]): Promise<Computed> {
  const plan = computePlan(batch);
  const request = offAxisRequest(batch, batch.surfaces.front, 'front', CONE_DEG);
  return {
    batch,
    plan,
    yields: await computeYield(batch, YIELD_RUNS),
    places: planPlaces(batch, plan),
    offAxis: (await runTask(offAxisTask, request)) as OffAxisAnswer,
    inspected: await inspected(batch),
    shelf,
  };
}

/** A station whose figures are known one by one. */
export type TracedStation = 'order' | 'stack' | 'load' | 'run' | 'monitor' | 'inspect';

/** Where a figure stands, and the plan's value with its unit as it must be written there. */
export type Known = readonly [where: string, text: string];

/** Sentences that explain a law and show no figure of the batch. */
const EXPLANATIONS = [/^A stage pumps from the crossover/, /^The rate falls as 1\/t\./];

/** The stations' way across the top. */
export function knownInRail({ batch, plan }: Computed): Known[] {
  const cuts = Math.max(...plan.runs.map((run) => run.cuts.length));
  const stations: readonly (readonly [string, string])[] = [
    ['Order', counted(batch.order.quantity, 'lens', 'lenses')],
    ['Stack', counted(plan.surfaces[0]!.layers.length, 'layer')],
    ['Load', `${plan.load.lensesPerLoad} a load`],
    ['Run', duration(Math.max(...plan.runs.map(({ totalS }) => totalS)))],
    ['Monitor', counted(cuts, 'cut')],
    ['Inspect', counted(batch.runs.length, 'run logged', 'runs logged')],
  ];
  return stations.map(([station, text]) => ['li', `${station} ${text}`]);
}

/** The strip along the lower edge. */
export function knownInStrip({ plan, yields }: Computed): Known[] {
  return figuresOf(plan, yields).map(({ label, text, met }) => [
    label,
    met === undefined ? text : `${met ? '✓' : '✕'} ${text}`,
  ]);
}

/** Every figure of a station, front side shown. */
export function knownAt(station: TracedStation, computed: Computed): Known[] {
  const surface = computed.plan.surfaces[0]!;
  const run = computed.plan.runs[0]!;
  switch (station) {
    case 'order':
      return atOrder(computed, surface);
    case 'stack':
      return atStack(computed, surface);
    case 'load':
      return atLoad(computed);
    case 'run':
      return [
        ...atRun(computed, run),
        ...ofSteps(run),
        ...ofCost(computed),
        ...ofCalendar(computed),
        ...ofWays(computed),
      ];
    case 'inspect':
      return atInspect(computed);
    case 'monitor':
      return atMonitor(computed, run);
  }
}

/** What was shown and is not known, and what is known and was not shown. */
export function unlike(shown: readonly ShownFigure[], known: readonly Known[]): string[] {
  const line = (where: string, text: string) => `${where} => ${text}`;
  const inShown = new Set(
    shown
      .filter(({ text }) => !EXPLANATIONS.some((start) => start.test(text)))
      .map(({ where, text }) => line(where, text)),
  );
  const inKnown = new Set(known.map(([where, text]) => line(where, text)));
  return [
    ...[...inShown].filter((one) => !inKnown.has(one)).map((one) => `unknown: ${one}`),
    ...[...inKnown]
      .filter((one) => /\d/.test(one.split(' => ')[1]!) && !inShown.has(one))
      .map((one) => `missing: ${one}`),
  ];
}

function glassWords(id: string, { materials }: Batch): string {
  const record = findMaterial(id, materials)!;
  return `${record.name}, nd ${fixed(resolveIndex(id, Float64Array.of(587.5618), materials).n[0]!, 4)}`;
}

function atOrder({ batch, plan, yields }: Computed, surface: SurfacePlan): Known[] {
  const { lot } = plan;
  const costed = costLot(lot.costing!, yields.yield)!;
  return [
    ['text', glassWords(batch.order.lens.substrate, batch)],
    ...surface.requirements.map(
      (verdict): Known => [
        'li',
        `from to at ° ${verdict.met ? '✓' : '✕'} ${significant(verdict.valuePercent, 3)} % planned ${detailOf(verdict)}`,
      ],
    ),
    ['to start, reserve included', counted(lot.lensesToStart, 'lens', 'lenses')],
    ['loads, runs', `${lot.loads}, ${lot.runs}`],
    ['machine time for the lot', duration(lot.totalS)],
    ['cost a good lens, by the computed yield', `${fixed(costed.cost.perGoodLens, 2)} ${lot.currency}`],
    ['glass', surface.substrateLabel],
  ];
}

function detailOf(verdict: SurfacePlan['requirements'][number]): string {
  const room = `${significant(Math.abs(verdict.marginPercent), 2)} %`;
  return `${verdict.met ? `${room} to spare` : `missed by ${room}`}, worst at ${Math.round(verdict.worstWavelengthNm)} nm and ${verdict.worstIncidenceDeg}°`;
}

function atStack({ batch, yields, offAxis }: Computed, surface: SurfacePlan): Known[] {
  const { layers, residual, requirements } = surface;
  const own = yields.surfaces.find(({ side }) => side === surface.side)!;
  const quarterWaves = `Quarter waves at ${Math.round(surface.referenceWavelengthNm)} nm`;
  return [
    ['text', counted(layers.length, 'layer')],
    ['text', `, ${fixed(surface.totalThicknessNm, 1)} nm`],
    ['caption', 'In the order of deposition; layer 1 lies on the glass.'],
    [`No. | ${quarterWaves}`, quarterWaves],
    ...layers.flatMap((layer, index): Known[] => [
      [`${index + 1} | No.`, String(index + 1)],
      [`${index + 1} | Index`, fixed(layer.referenceIndex, 4)],
      [`${index + 1} | Sensitivity`, fixed(own.sensitivity[index]! / Math.max(...own.sensitivity), 2)],
    ]),
    ...(surface.curves.length < 2 ? [] : surface.curves).map(
      ({ incidenceDeg }): Known => ['text', String(incidenceDeg)],
    ),
    ...requirements.flatMap((verdict): Known[] => [
      ['text', verdict.text],
      ['text', significant(verdict.valuePercent, 3)],
      ['text', detailOf(verdict)],
    ]),
    [
      'p',
      `Expected yield of this side: ${percent(own.yield, 1)} (95 % between ${percent(own.yield95[0], 1)} and ${percent(own.yield95[1], 1)})`,
    ],
    [
      'p',
      `At most ${counted(
        batch.chamber.sources.reduce((sum, { pockets }) => sum + pockets, 0),
        'material',
      )} in one stack: as many as the chamber's sources have pockets.`,
    ],
    ['text', residual.vivid],
    [
      'text',
      `as it is: ${residual.srgb}, L* ${fixed(residual.L, 1)}, a* ${fixed(residual.a, 1)}, b* ${fixed(residual.b, 1)} under D65`,
    ],
    ...ofOffAxis(batch, offAxis),
  ];
}

function ofOffAxis({ surfaces }: Batch, { alongLens = [], inCone = [] }: OffAxisAnswer): Known[] {
  const names = surfaces.front.requirements.map(
    ({ quantity, statistic, bandNm: [from, to] }) => `${quantity} ${statistic}, ${from}–${to} nm`,
  );
  const verdict = ({ value, met }: { value: number; met: boolean }) =>
    `${met ? '✓' : '✕'} ${significant(value, 3)} %`;
  return [
    ...(alongLens.length > 0 ? names.map((name): Known => [`From the axis | ${name}`, name]) : []),
    ...alongLens.flatMap(({ distanceMm, slopeDeg, relativeThickness, results }): Known[] => {
      const row = `${fixed(distanceMm, 1)} mm`;
      return [
        [`${row} | From the axis`, row],
        [`${row} | Slope`, `${fixed(slopeDeg, 1)} °`],
        [`${row} | Film`, `${fixed(100 * relativeThickness, 1)} %`],
        ...results.map((result, at): Known => [`${row} | ${names[at]}`, verdict(result)]),
      ];
    }),
    ...inCone.map((result, at): Known => ['li', `${names[at]}: ${verdict(result)}`]),
  ];
}

function atLoad({ batch, plan, places, yields }: Computed): Known[] {
  const { load, lot } = plan;
  const film = plan.distributions[0]!;
  return [
    ['lenses on a rack', String(load.lensesPerRack)],
    ['lenses a load', String(load.lensesPerLoad)],
    ['loads', String(lot.loads)],
    ['runs, all sides', String(lot.runs)],
    ['in the last load', String(lot.lensesInLastLoad)],
    ['of the rack used', `${fixed(load.usedPercent, 0)} %`],
    ['p', lastLoad(load.racks, lot.rows.at(-1)!.racks)],
    [
      'p',
      `The ring: outside ${fixed(load.holder.outerMm, 2)} mm, seat ${fixed(load.holder.seatMm, 2)} mm, opening ${fixed(load.holder.openingMm, 2)} mm (usual play and ledge).`,
    ],
    [
      'p',
      `Without a gear ratio the racks never stand the same way twice. ${load.racksThatFit} such racks would fit on this carrier.`,
    ],
    ...lot.rows.flatMap((row): Known[] => {
      const { from, to } = row;
      const loads = from === to ? String(from) : `${from}–${to}`;
      return [
        [`${loads} | Load`, loads],
        [`${loads} | Racks`, rowWords(row)],
      ];
    }),
    ['text', `${load.places.length} places`],
    [
      'p',
      `As planned, ${places.goodPerLoad} of ${load.lensesPerLoad} lenses a load meet every requirement at centre and edge. With the errors of the run ${percent(yields.yield, 1)} are expected, about ${fixed(yields.yield * load.lensesPerLoad, 0)} a full load.`,
    ],
    [
      'p',
      `On the lens places the film deviates from its mean by at most ± ${fixed(film.deviationPercent, 2)} %; at the edge of a lens's clear aperture it differs from the centre by ${fixed(film.edgePercent, 2)} %.`,
    ],
    ...film.materials.flatMap((spread): Known[] => [
      [`${spread.label} | Over the rack`, `± ${fixed(spread.deviationPercent, 2)} %`],
      [`${spread.label} | Edge of the lens`, `${fixed(100 * (spread.lens.relative.at(-1)! - 1), 2)} %`],
      [`${spread.label} | Witness, geometry`, fixed(spread.witnessTooling!, 4)],
      [`${spread.label} | Witness, own`, fixed(batch.process.materials[spread.material]!.witnessTooling, 4)],
      [`${spread.label} | Crystal, geometry`, fixed(spread.crystalTooling!, 4)],
      [`${spread.label} | Crystal, own`, fixed(batch.process.materials[spread.material]!.crystalTooling, 4)],
    ]),
  ];
}

function lastLoad(racks: number, last: Plan['lot']['rows'][number]['racks']): string {
  const full = last.filter(({ lenses, dummies }) => lenses > 0 && dummies === 0).length;
  const part = last.filter(({ lenses, dummies }) => lenses > 0 && dummies > 0);
  const idle = racks - full - part.length;
  return `The last load: ${[
    ...(full > 0 ? [`${counted(full, 'rack')} full`] : []),
    ...part.map(({ lenses, dummies }) => `one with ${lenses} lenses and ${dummies} dummies`),
    ...(idle > 0 ? [`${counted(idle, 'rack')} of dummies alone, free for another lot`] : []),
  ].join(', ')}. Dummies keep the racks balanced and let no vapour pass.`;
}

function atRun({ batch, plan, yields }: Computed, run: RunPlan): Known[] {
  const { lot } = plan;
  const costed = costLot(lot.costing!, yields.yield)!;
  const growing = run.steps.filter(({ kind }) => kind === 'deposit');
  return [
    ['door to door', duration(run.totalS)],
    ['film growing', duration(growing.reduce((sum, { durationS }) => sum + durationS, 0))],
    ['runs for the lot', String(lot.runs)],
    ['whole lot, cleaning included', duration(lot.totalS)],
    ['material for the lot', `${significant(lot.chargeG)} g`],
    ['cost a good lens, by the computed yield', `${fixed(costed.cost.perGoodLens, 2)} ${lot.currency}`],
    ...run.charge.flatMap((charge): Known[] => [
      [`What to weigh in | ${charge.label} | Source`, charge.source],
      [`${charge.label} | Pockets`, String(charge.pockets)],
      [`${charge.label} | Used`, `${significant(charge.netMassG)} g`],
      [`${charge.label} | With reserve`, `${significant(charge.massG)} g`],
    ]),
    [
      'caption',
      `Pockets over the lot of ${counted(lot.runs, 'run')}; filled up between runs, as late as the reserve allows.`,
    ],
    ...lot.pockets.flatMap((pocket): Known[] => [
      [
        `Pockets over the lot | ${pocket.label} | Source`,
        `${pocket.source}, ${counted(pocket.pockets, 'pocket')}`,
      ],
      [`${pocket.label} | Pockets hold`, `${significant(pocket.capacityG)} g`],
      [`${pocket.label} | Used a run`, `${significant(pocket.perRunG)} g`],
      [`${pocket.label} | Stays in`, `${significant(pocket.leastG)} g`],
      [`${pocket.label} | Used by the lot`, `${significant(pocket.totalG)} g`],
      [`${pocket.label} | Fill up before run`, pocket.refillBeforeRun.join(', ')],
    ]),
    ...run.pumps.map((pump): Known => ['p', `Takes ${duration(pump.durationS)}.`]),
    ['p', heatLimitWords(heatLimit(batch), plan.surfaces[0]!.substrateLabel)],
    ...batch.chamber.sources.map(({ id }): Known => ['text', id]),
    [
      'caption',
      `A crystal may fall by ${fixed(batch.chamber.crystals.budgetHz / 1000, 1)} kHz; it is changed between layers, never within one. A fresh one lasts for the whole run.`,
    ],
    ...run.cuts.flatMap((cut, index): Known[] => [
      [`${index + 1} ${cut.label} | Layer`, `${index + 1} ${cut.label}`],
      [`${index + 1} ${cut.label} | Falls by / kHz`, fixed(cut.crystalDropHz / 1000, 1)],
      [`${index + 1} ${cut.label} | Left / kHz`, fixed(cut.crystalLeftHz / 1000, 1)],
    ]),
    ...plan.cautions.map((text): Known => ['li', text]),
    ...plan.warnings.map((text): Known => ['li', text]),
  ];
}

function ofSteps({ steps }: RunPlan): Known[] {
  return [
    ['h2', `${counted(steps.length, 'step')}, those that set the length in bold`],
    ...steps.flatMap(({ label, startS, durationS, limitedBy }): Known[] => [
      [`${label} | Step`, label],
      [`${label} | Starts`, clock(startS)],
      [`${label} | Takes`, duration(durationS)],
      [`${label} | Set by`, limitedBy],
    ]),
  ];
}

function ofCost({ plan: { lot }, yields }: Computed): Known[] {
  const { cost, lostLenses, deliveredLenses } = costLot(lot.costing!, yields.yield)!;
  const { startedLenses, orderedLenses } = lot.costing!;
  const lost = `${fixed(lostLenses, 1)} lenses lost, by the computed yield`;
  const parts: readonly (readonly [string, number])[] = [
    ['Machine', cost.machine],
    ['Labour', cost.labour],
    ['Material', cost.material],
    ['Crystals', cost.crystals],
    [lost, cost.scrap],
    ['In all', cost.total],
  ];
  return [
    [
      'p',
      `Of ${startedLenses} lenses started ${Math.floor(yields.yield * startedLenses + 1e-9)} are expected to be good, by the computed yield of ${percent(yields.yield, 1)}: enough for the ${orderedLenses} ordered.`,
    ],
    [`${lost} | Part`, lost],
    ...parts.flatMap(([part, value]): Known[] => [
      [`${part} | Lot / ${lot.currency}`, fixed(value, 2)],
      [`${part} | A good lens / ${lot.currency}`, fixed(value / deliveredLenses, 3)],
    ]),
  ];
}

function ofCalendar({ plan: { lot } }: Computed): Known[] {
  const { calendar } = lot;
  if (calendar === undefined) return [];
  const timeOf = (moment: string) => moment.slice(11);
  const last = calendar.at(-1)!.ends;
  return [
    [
      'p',
      `The lot is done on ${dayText(last)} at ${timeOf(last)}, ${fixed(calendarHours(calendar), 1)} h after its first run begins.`,
    ],
    ['text', counted(calendar.length, 'run')],
    ...calendar.flatMap(({ label, begins, aloneFrom, unloadFrom, ends }, index): Known[] => {
      const row = `${index + 1}: ${label}`;
      return [
        [`${row} | Run`, row],
        [`${row} | Day`, dayText(begins)],
        [`${row} | Loading`, timeOf(begins)],
        [`${row} | Alone from`, timeOf(aloneFrom)],
        [`${row} | Unloading`, timeOf(unloadFrom)],
        [`${row} | Done`, timeOf(ends)],
        ...(index === 0
          ? [
              [
                `${row} | Fill up before it`,
                lot.pockets.map((pocket) => `${pocket.label} (${pocket.source})`).join(', '),
              ] as const,
            ]
          : []),
      ];
    }),
  ];
}

function atMonitor({ batch }: Computed, run: RunPlan): Known[] {
  return [
    ...run.cuts.flatMap((cut, index): Known[] => {
      const row = `${index + 1} ${cut.label} ${fixed(cut.thicknessNm, 1)} nm`;
      const turns = cut.turningPoints.map(
        ({ level, thicknessNm }) => `${percent(level)} at ${fixed(thicknessNm, 1)} nm`,
      );
      return [
        [`${row} | Layer`, row],
        [`${row} | Starts at`, percent(cut.startLevel)],
        [`${row} | Turning points`, turns.join(' ')],
        [`${row} | Cut at`, percent(cut.endLevel)],
        [`${row} | Swing`, `${fixed(cut.swingPercent, 2)} %`],
        [
          `${row} | Crystal, its fall and what is left`,
          `${fixed(cut.crystalThicknessNm, 1)} nm ${fixed(cut.crystalDropHz, 0)} Hz, ${fixed(cut.crystalLeftHz / 1000, 1)} kHz left`,
        ],
        [`${row} | Time`, duration(cut.timeS)],
        [`${cut.note} | Layer`, cut.note],
      ];
    }),
    ['text', glassWords(batch.monitor.witness.material, batch)],
    ['text', `front of lot ${batch.order.lot}, nothing scripted, 10 ×`],
  ];
}
