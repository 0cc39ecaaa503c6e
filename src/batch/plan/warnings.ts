import { counted, fixed, listed } from '../../base/format.ts';
import type { Batch } from '../document.ts';
import type { FilmFacts } from './film-facts.ts';
import type { DistributionPlan, LoadPlan, RunPlan, SurfacePlan } from './plan-types.ts';

interface Parts {
  readonly surfaces: readonly SurfacePlan[];
  readonly load: LoadPlan;
  readonly runs: readonly RunPlan[];
  readonly distributions: readonly DistributionPlan[];
  readonly facts: readonly FilmFacts[];
}

/** What somebody should look at before the run, each in one sentence. */
export function planWarnings(document: Batch, parts: Parts): string[] {
  return [
    ...new Set([
      ...ofSurfaces(parts.surfaces),
      ...ofLoad(document, parts.load),
      ...ofHeat(document),
      ...ofShields(document, parts.distributions),
      ...ofRuns(document, parts.runs),
      ...parts.facts.flatMap(({ assumed }) => assumed.map(sentence)),
    ]),
  ];
}

function ofSurfaces(surfaces: readonly SurfacePlan[]): string[] {
  return surfaces
    .filter(({ own }) => own)
    .flatMap(({ side, layers, requirements }) => {
      const outside = [...new Set(layers.filter(({ inRange }) => !inRange).map(({ label }) => label))];
      return [
        ...(layers.length === 0 ? [`The ${side} side has no layer yet.`] : []),
        ...(outside.length === 0
          ? []
          : [
              `The data of ${listed(outside)} do not cover the whole band of the ${side} side; outside them the nearest value is held.`,
            ]),
        ...requirements
          .filter(({ met }) => !met)
          .map(
            ({ text, valuePercent }) =>
              `The ${side} side misses ${text}: the plan gives ${fixed(valuePercent, 3)} %.`,
          ),
      ];
    });
}

function ofLoad({ fixture }: Batch, load: LoadPlan): string[] {
  if (load.racks <= load.racksThatFit) return [];
  return [
    `Only ${counted(load.racksThatFit, 'rack')} of ${fixture.rackDiameterMm} mm ${load.racksThatFit === 1 ? 'fits' : 'fit'} on the carrier without touching each other or the wall, but ${load.racks} are planned.`,
  ];
}

function ofHeat({ order: { lens }, process }: Batch): string[] {
  const limit = lens.maximumTemperatureC;
  if (limit === undefined || process.temperatureC <= limit) return [];
  return [`The process runs at ${process.temperatureC} °C, above the ${limit} °C that this glass may see.`];
}

/** A shield before the crystal leaves the run blind. */
function ofShields({ chamber }: Batch, distributions: readonly DistributionPlan[]): string[] {
  if (chamber.crystals.count === 0) return [];
  return distributions.flatMap(({ materials }) =>
    materials
      .filter(({ shade, crystalTooling }) => shade !== undefined && crystalTooling === undefined)
      .map(({ label, source }) => `A shield hides the crystal from ${source}: it would not see ${label}.`),
  );
}

function ofRuns({ chamber }: Batch, runs: readonly RunPlan[]): string[] {
  return runs.flatMap(({ side, charge, cuts }) => {
    const crystals = 1 + cuts.filter(({ freshCrystal }) => freshCrystal).length;
    const pockets = chamber.sources.flatMap((source) => {
      const needed = charge
        .filter((item) => item.source === source.id)
        .reduce((sum, item) => sum + item.pockets, 0);
      if (needed <= source.pockets) return [];
      return [
        `The ${side} side needs ${counted(needed, 'pocket')} of ${source.id}, which has ${source.pockets}: refill between layers or use another source.`,
      ];
    });
    return [
      ...pockets,
      ...(cuts.length > 0 && crystals > chamber.crystals.count
        ? [
            `The ${side} side uses ${counted(crystals, 'crystal')}, but the holder has ${chamber.crystals.count}.`,
          ]
        : []),
      ...cuts
        .filter(({ note }) => note !== '' && note !== 'fresh crystal before this layer')
        .map(
          ({ label, note }, index) =>
            `Layer ${cuts.findIndex((cut) => cut.note === note && cut.label === label) + 1 || index + 1}, ${label}: ${note}.`,
        ),
    ];
  });
}

function sentence(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;
}
