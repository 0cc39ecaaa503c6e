import { massForThicknessG } from '../../chamber/charge.ts';
import type { Batch } from '../document.ts';
import type { ChargePlan, DistributionPlan } from './plan-types.ts';
import type { ScheduledLayer } from './run-plan.ts';
import { within } from './within.ts';

/** What the charge needs to know of a material. */
export interface ChargedMaterial {
  readonly densityGPerCm3: number;
}

/**
 * The mass of each material to charge for one run, by the emission law: the part of the vapour that reaches
 * the mean lens place of the racks gives the mass that has to leave the source (see `depositOn`); of two sources that fire
 * together each gives its share.
 */
export function planCharge(
  { chamber }: Batch,
  layers: readonly ScheduledLayer[],
  distribution: DistributionPlan,
  propertiesOf: (material: string) => ChargedMaterial,
): ChargePlan[] {
  const thicknessNm = new Map<string, number>();
  for (const { material, thicknessNm: more } of layers)
    thicknessNm.set(material, (thicknessNm.get(material) ?? 0) + more);
  return [...thicknessNm].flatMap(([material, total]) => {
    const layer = layers.find((candidate) => candidate.material === material);
    const spread = distribution.materials.find((candidate) => candidate.material === material);
    if (layer === undefined || spread === undefined) return [];
    const { densityGPerCm3 } = propertiesOf(material);
    const wholeG = within('fixture', () => massForThicknessG(densityGPerCm3, total, spread.perMassPerMm2));
    return spread.shares.flatMap(({ source: id, share }) => {
      const source = chamber.sources.find((candidate) => candidate.id === id);
      if (source === undefined) return [];
      const netMassG = share * wholeG;
      const massG = netMassG * (1 + layer.process.chargeReservePercent / 100);
      const pocketG = source.pocketCm3 * densityGPerCm3;
      return [
        {
          material,
          label: layer.label,
          source: id,
          netMassG,
          massG,
          pockets: Math.max(1, Math.ceil(massG / pocketG - 1e-9)),
          pocketG,
          tooling: layer.process.crystalTooling,
        },
      ];
    });
  });
}
