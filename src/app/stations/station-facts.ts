import { counted, duration, fixed, percent, significant } from '../../base/format.ts';
import type { Batch } from '../../batch/document.ts';
import type { Plan } from '../../batch/plan/plan-types.ts';
import type { Station } from '../routes.ts';
import { residualOf } from './residual.ts';

/** One thing that a station says, by a name that stays the same from plan to plan. */
export interface Fact {
  readonly name: string;
  readonly text: string;
}

/** What was said before and is said now. */
export interface FactChange {
  readonly name: string;
  readonly before: string;
  readonly after: string;
}

/** What a station says of a batch and its plan, as far as an edit can change it. */
export function stationFacts(station: Station, batch: Batch, plan: Plan): Fact[] {
  switch (station) {
    case 'order':
      return orderFacts(batch, plan);
    case 'stack':
      return stackFacts(plan);
    case 'load':
      return loadFacts(plan);
    case 'run':
      return runFacts(plan);
    case 'monitor':
      return monitorFacts(plan);
    case 'inspect':
      return inspectFacts(batch, plan);
  }
}

/** What an edit changed at a station. */
export function factChanges(before: readonly Fact[], after: readonly Fact[]): FactChange[] {
  const old = new Map(before.map(({ name, text }) => [name, text]));
  const fresh = new Set(after.map(({ name }) => name));
  const changed = after
    .filter(({ name, text }) => old.get(name) !== text)
    .map(({ name, text }) => ({ name, before: old.get(name) ?? 'none', after: text }));
  const gone = before
    .filter(({ name }) => !fresh.has(name))
    .map(({ name, text }) => ({ name, before: text, after: 'none' }));
  return [...changed, ...gone];
}

/** The one figure under a station's name on the way from order to inspection. */
export function headline(station: Station, batch: Batch, plan: Plan | undefined): string {
  if (station === 'order') return counted(batch.order.quantity, 'lens', 'lenses');
  if (station === 'inspect') return counted(batch.runs.length, 'run logged', 'runs logged');
  if (plan === undefined) return '–';
  const longest = Math.max(0, ...plan.runs.map(({ totalS }) => totalS));
  switch (station) {
    case 'stack':
      return plan.surfaces.map(({ layers }) => counted(layers.length, 'layer')).at(0) ?? '–';
    case 'load':
      return `${plan.load.lensesPerLoad} a load`;
    case 'run':
      return duration(longest);
    case 'monitor':
      return counted(
        plan.runs.reduce((most, { cuts }) => Math.max(most, cuts.length), 0),
        'cut',
      );
  }
}

function orderFacts(batch: Batch, { lot, surfaces }: Plan): Fact[] {
  const verdicts = surfaces
    .filter(({ own }) => own)
    .flatMap(({ side, requirements }) =>
      requirements.map(({ text, met }) => ({ name: `${side}: ${text}`, text: met ? 'met' : 'missed' })),
    );
  return [
    { name: 'good lenses ordered', text: String(batch.order.quantity) },
    { name: 'lenses to start', text: String(lot.lensesToStart) },
    ...verdicts,
  ];
}

function stackFacts({ surfaces }: Plan): Fact[] {
  return surfaces
    .filter(({ own }) => own)
    .flatMap((surface) => {
      const { side, layers, totalThicknessNm, requirements } = surface;
      const residual = residualOf(surface);
      return [
        { name: `${side}: layers`, text: String(layers.length) },
        { name: `${side}: total thickness`, text: `${fixed(totalThicknessNm, 1)} nm` },
        ...requirements.map(({ text, valuePercent }) => ({
          name: `${side}: ${text}`,
          text: `${significant(valuePercent, 3)} %`,
        })),
        ...(residual === undefined ? [] : [{ name: `${side}: residual colour`, text: residual.srgb }]),
      ];
    });
}

function loadFacts({ load, lot, distributions }: Plan): Fact[] {
  return [
    ...distributions.flatMap(({ side, deviationPercent, edgePercent }) => [
      { name: `${side}: film over the rack`, text: `±${fixed(deviationPercent, 2)} %` },
      { name: `${side}: film at the lens's edge`, text: `${fixed(edgePercent, 2)} %` },
    ]),
    { name: 'places on a rack', text: String(load.places.length) },
    { name: 'lenses a load', text: String(load.lensesPerLoad) },
    { name: 'loads', text: String(lot.loads) },
    { name: 'runs', text: String(lot.runs) },
    { name: 'lenses in the last load', text: String(lot.lensesInLastLoad) },
    { name: 'rack used', text: `${fixed(load.usedPercent, 0)} %` },
  ];
}

function runFacts({ runs, lot }: Plan): Fact[] {
  return [
    ...runs.map(({ side, totalS }) => ({ name: `${side}: door to door`, text: duration(totalS) })),
    { name: 'whole lot', text: duration(lot.totalS) },
    ...runs.flatMap(({ side, charge }) =>
      charge.map(({ label, source, massG }) => ({
        name: `${side}: charge of ${label}, ${source}`,
        text: `${significant(massG)} g`,
      })),
    ),
    ...(lot.costPerLens === undefined
      ? []
      : [
          {
            name: 'cost a good lens by the reserve',
            text: `${fixed(lot.costPerLens, 2)} ${lot.currency ?? ''}`.trim(),
          },
        ]),
  ];
}

function monitorFacts({ runs }: Plan): Fact[] {
  return runs.flatMap(({ side, cuts }) =>
    cuts.map((cut, index) => ({
      name: `${side}: layer ${index + 1} ${cut.label}`,
      text: `cut at ${percent(cut.endLevel)}, ${fixed(cut.crystalDropHz, 0)} Hz`,
    })),
  );
}

function inspectFacts(batch: Batch, plan: Plan): Fact[] {
  return [{ name: 'runs logged', text: String(batch.runs.length) }, ...orderFacts(batch, plan).slice(2)];
}
