import { requireWithin } from '../base/errors.ts';

/** The shop's own prices; any currency, the same throughout. */
export interface Prices {
  readonly machinePerHour: number;
  readonly labourPerHour: number;
  /** Price of each gram that leaves the pocket, by material. */
  readonly materialPerG: Readonly<Record<string, number>>;
  readonly perCrystal: number;
  /** What an uncoated lens has cost so far: lost where it is scrapped. */
  readonly perLens: number;
}

/** What a lot takes. */
export interface LotEffort {
  readonly goodLenses: number;
  readonly runs: number;
  readonly machineS: number;
  readonly labourS: number;
  readonly materialG: Readonly<Record<string, number>>;
  readonly crystals: number;
  /** Part of the started lenses that is expected to be lost, 0 to below 1. */
  readonly scrapPart: number;
}

export interface LotCost {
  readonly material: number;
  readonly machine: number;
  readonly labour: number;
  readonly crystals: number;
  /** Worth of the lenses that are expected to be lost. */
  readonly scrap: number;
  readonly total: number;
  readonly perGoodLens: number;
}

/**
 * What the lot costs, item by item, and each good lens of it.
 * @throws InputError for a value outside its range, and for a material without a price.
 */
export function lotCost(effort: LotEffort, prices: Prices): LotCost {
  const money = { min: 0, max: 1e9 };
  requireWithin('goodLenses', effort.goodLenses, '', { min: 1, max: 1e8 });
  requireWithin('machineS', effort.machineS, 's', { min: 0, max: 1e10 });
  requireWithin('labourS', effort.labourS, 's', { min: 0, max: 1e10 });
  requireWithin('crystals', effort.crystals, '', { min: 0, max: 1e6 });
  requireWithin('scrapPart', effort.scrapPart, '', { min: 0, below: 1 });
  requireWithin('prices.machinePerHour', prices.machinePerHour, '', money);
  requireWithin('prices.labourPerHour', prices.labourPerHour, '', money);
  requireWithin('prices.perCrystal', prices.perCrystal, '', money);
  requireWithin('prices.perLens', prices.perLens, '', money);
  let material = 0;
  for (const [name, massG] of Object.entries(effort.materialG)) {
    requireWithin(`materialG.${name}`, massG, 'g', { min: 0, max: 1e9 });
    const price = prices.materialPerG[name];
    requireWithin(`prices.materialPerG.${name}`, price ?? Number.NaN, 'per g', money);
    material += massG * (price ?? 0);
  }
  const machine = (effort.machineS / 3600) * prices.machinePerHour;
  const labour = (effort.labourS / 3600) * prices.labourPerHour;
  const crystals = effort.crystals * prices.perCrystal;
  const lost = (effort.goodLenses * effort.scrapPart) / (1 - effort.scrapPart);
  const scrap = lost * prices.perLens;
  const total = material + machine + labour + crystals + scrap;
  return { material, machine, labour, crystals, scrap, total, perGoodLens: total / effort.goodLenses };
}
