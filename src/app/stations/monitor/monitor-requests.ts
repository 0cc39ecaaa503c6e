import type { Batch, Surface } from '../../../batch/document.ts';
import { aimedLayers, aimFactor } from '../../../batch/plan/aim.ts';
import { filmFacts, processOf } from '../../../batch/plan/film-facts.ts';
import { IndexBook } from '../../../batch/plan/index-of.ts';
import { layerSettings, monitoredLayers } from '../../../batch/plan/monitored-layers.ts';
import { type IndexSpec, resolveIndex } from '../../../materials/index-spec.ts';
import type { CutRule } from '../../../monitor/cut-rule.ts';
import { taskLayers } from '../task-layers.ts';

/** Points of the table that stands in a request for a material which only this batch knows. */
const TABLE_POINTS = 241;

/** Another way of monitoring all layers, for comparison. */
export interface Strategy {
  readonly name: string;
  readonly rule: CutRule;
}

export const STRATEGIES: readonly Strategy[] = [
  { name: 'all by level', rule: 'level' },
  { name: 'all by rescaled level', rule: 'swing' },
  { name: 'all by turning point', rule: 'turning-point' },
  { name: 'all by crystal', rule: 'crystal' },
  { name: 'all by time', rule: 'time' },
];

/** The request of the task `rehearse` for one side of the batch. */
export function rehearseRequest(
  batch: Batch,
  surface: Surface,
  options: { readonly runs: number; readonly seed: number; readonly strategies: readonly Strategy[] },
) {
  const specOf = specsOf(batch, surface);
  return {
    incident: surface.incident,
    substrate: specOf(batch.order.lens.substrate),
    layers: taskLayers(aimedLayers(batch, surface.layers), specOf),
    requirements: surface.requirements,
    monitor: {
      witness: witnessRequest(batch, specOf),
      incidenceDeg: batch.monitor.incidenceDeg,
      layers: sights(batch, surface).map((sight, index) => ({
        ...sight,
        ...crystalFilm(batch, surface.layers[index]!.material),
      })),
    },
    noise: batch.monitor.noise,
    ...crystalsRequest(batch),
    rateNmPerS: ratesNmPerS(batch, surface),
    ...options,
  };
}

/** The request of the task `monitor` that chooses wavelength, signal and rule of every layer. */
export function chooseRequest(batch: Batch, surface: Surface) {
  const specOf = specsOf(batch, surface);
  const aimed = taskLayers(aimedLayers(batch, surface.layers), specOf);
  const [from, to] = spanNm(batch, surface);
  const step = Math.max(5, Math.ceil((to - from) / 60 / 5) * 5);
  return {
    witness: witnessRequest(batch, specOf),
    incident: surface.incident,
    incidenceDeg: batch.monitor.incidenceDeg,
    layers: sights(batch, surface).map(({ rule: _, ...sight }, index) => ({
      ...sight,
      ...aimed[index]!,
    })),
    samplesPerLayer: 2,
    choose: {
      wavelengthNm: { from, to: from + step * Math.floor((to - from) / step), step },
      signals: ['R', 'T'],
      noise: batch.monitor.noise,
      rateNmPerS: ratesNmPerS(batch, surface),
    },
  };
}

/** What may still be changed in a run that has gone wrong. */
export interface RescueFreedom {
  readonly topUp: boolean;
  readonly restructure: boolean;
}

/**
 * The request of the task `rescue` after the first layers got these thicknesses on the mean lens place. The search judges the
 * drawing's film, which is the deposited one without the aim.
 */
export function rescueRequest(
  batch: Batch,
  surface: Surface,
  deposited: readonly number[],
  { topUp, restructure }: RescueFreedom,
) {
  const specOf = specsOf(batch, surface);
  const ids = [...new Set(surface.layers.map(({ material }) => material))];
  return {
    incident: surface.incident,
    substrate: specOf(batch.order.lens.substrate),
    pool: ids.map((id) => {
      const index = specOf(id);
      return index === id ? id : { id, index };
    }),
    requirements: surface.requirements,
    maxLayers: surface.layers.length + (restructure ? 1 : 0),
    minThicknessNm: Math.min(5, ...surface.layers.map(({ thicknessNm }) => Math.max(0.1, thicknessNm))),
    start: taskLayers(surface.layers),
    search: restructure ? 'synthesize' : 'refine',
    deposited: deposited.map((nm) => nm / aimFactor(batch)),
    topUp,
  };
}

function witnessRequest({ monitor: { witness } }: Batch, specOf: (id: string) => IndexSpec) {
  const { material, thicknessMm, backSurface } = witness;
  return { substrate: specOf(material), thicknessMm, backSurface };
}

/** What the crystal must know of a film; the task would not find a material that only this batch carries. */
function crystalFilm(batch: Batch, material: string) {
  const { densityGPerCm3, zRatio } = filmFacts(batch, material);
  return { densityGPerCm3, zRatio, crystalTooling: processOf(batch, material).crystalTooling };
}

function crystalsRequest({ chamber }: Batch) {
  const { frequencyHz, budgetHz, count } = chamber.crystals;
  return count === 0 ? {} : { crystals: { frequencyHz, budgetHz, count } };
}

function sights(batch: Batch, surface: Surface) {
  const monitored = monitoredLayers(batch, surface.layers, new IndexBook(batch.materials));
  return monitored.map(
    ({ wavelengthNm, signal, bandwidthNm = 0, tooling = 1, newWitness = false, rule }) => ({
      ...{ wavelengthNm, signal, bandwidthNm, tooling, newWitness, rule },
    }),
  );
}

function ratesNmPerS(batch: Batch, surface: Surface): number[] {
  return monitoredLayers(batch, surface.layers, new IndexBook(batch.materials)).map(
    ({ rateNmPerS }) => rateNmPerS,
  );
}

/** The wavelengths that requirements and monitor speak of; at least the visible, or as far around a line. */
function spanNm({ monitor }: Batch, { requirements, layers }: Surface): [number, number] {
  const all = [
    ...requirements.flatMap(({ bandNm }) => bandNm),
    ...layers.map(({ id }) => layerSettings(monitor, id).wavelengthNm),
  ];
  const [least, most] = [Math.min(...all), Math.max(...all)];
  if (least >= 380 && most <= 780) return [400, 760];
  return [Math.max(200, 10 * Math.floor(0.075 * least)), 10 * Math.ceil(0.13 * most)];
}

/** A task knows the library alone: what only this batch carries goes with the request as a table. */
function specsOf(batch: Batch, surface: Surface): (id: string) => IndexSpec {
  const own = new Set(batch.materials.map(({ id }) => id));
  const [from, to] = spanNm(batch, surface);
  return (id) => {
    if (!own.has(id)) return id;
    const wavelengthNm = Float64Array.from(
      { length: TABLE_POINTS },
      (_, index) => 0.8 * from + ((1.2 * to - 0.8 * from) * index) / (TABLE_POINTS - 1),
    );
    const { n, k } = resolveIndex(id, wavelengthNm, batch.materials);
    return { wavelengthNm: Array.from(wavelengthNm), n: Array.from(n), k: Array.from(k) };
  };
}
