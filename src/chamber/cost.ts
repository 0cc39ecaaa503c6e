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
  /** Good lenses that are delivered and share the cost; need not be whole, being an expectation. */
  readonly goodLenses: number;
  readonly machineS: number;
  readonly labourS: number;
  readonly materialG: Readonly<Record<string, number>>;
  readonly crystals: number;
  /** Lenses that are expected to be lost. */
  readonly lostLenses: number;
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
  requireWithin('goodLenses', effort.goodLenses, '', { above: 0, max: 1e8 });
  requireWithin('machineS', effort.machineS, 's', { min: 0, max: 1e10 });
  requireWithin('labourS', effort.labourS, 's', { min: 0, max: 1e10 });
  requireWithin('crystals', effort.crystals, '', { min: 0, max: 1e6 });
  requireWithin('lostLenses', effort.lostLenses, '', { min: 0, max: 1e8 });
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
  const scrap = effort.lostLenses * prices.perLens;
  const total = material + machine + labour + crystals + scrap;
  return { material, machine, labour, crystals, scrap, total, perGoodLens: total / effort.goodLenses };
}
