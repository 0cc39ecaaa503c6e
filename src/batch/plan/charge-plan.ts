import { chargeMassG } from '../../chamber/charge.ts';
import type { Batch } from '../document.ts';
import type { ChargePlan } from './plan-types.ts';
import type { ScheduledLayer } from './run-plan.ts';
import { within } from './within.ts';

/** What the charge needs to know of a material. */
export interface ChargedMaterial {
  readonly densityGPerCm3: number;
}

/**
 * The mass of each material to charge for one run, by the emission law: a plane that turns at the height
 * of the planets, taken at the planets' distance from the axis (Holland & Steckelmacher 1952).
 */
export function planCharge(
  { chamber, fixture }: Batch,
  layers: readonly ScheduledLayer[],
  propertiesOf: (material: string) => ChargedMaterial,
): ChargePlan[] {
  const thicknessNm = new Map<string, number>();
  for (const { material, thicknessNm: more } of layers)
    thicknessNm.set(material, (thicknessNm.get(material) ?? 0) + more);
  return [...thicknessNm].flatMap(([material, total]) => {
    const layer = layers.find((candidate) => candidate.material === material);
    const source = chamber.sources.find(({ id }) => id === layer?.process.source);
    if (layer === undefined || source === undefined) return [];
    const { densityGPerCm3 } = propertiesOf(material);
    const netMassG = within('fixture', () =>
      chargeMassG({
        densityGPerCm3,
        thicknessNm: total,
        exponent: source.exponent,
        heightMm: fixture.heightMm,
        offsetMm: source.offsetMm,
        pointRadiusMm: fixture.carrierRadiusMm,
      }),
    );
    const massG = netMassG * (1 + layer.process.chargeReservePercent / 100);
    return [
      {
        material,
        label: layer.label,
        source: source.id,
        netMassG,
        massG,
        pockets: Math.max(1, Math.ceil(massG / (source.pocketCm3 * densityGPerCm3) - 1e-9)),
        tooling: layer.process.crystalTooling,
      },
    ];
  });
}
