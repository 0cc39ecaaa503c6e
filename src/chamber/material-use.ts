import { requireWithin } from '../base/errors.ts';

/** What one layer takes out of its pocket in one run. */
export interface PocketDraw {
  readonly material: string;
  readonly pocket: string;
  readonly massG: number;
}

/** How pockets are filled. */
export interface PocketRule {
  readonly capacityG: number;
  /** What must stay in the pocket so that the melt stays even and the hearth covered. */
  readonly leastG: number;
}

export interface PocketPlan {
  readonly pocket: string;
  readonly material: string;
  readonly perRunG: number;
  readonly totalG: number;
  /** Numbers of the runs (from 1) before which the pocket is filled up; the first is always among them. */
  readonly refillBeforeRun: readonly number[];
  /** Set where one run alone takes more than a pocket can give. */
  readonly overdrawn: boolean;
}

/**
 * Material of all runs, pocket by pocket, and when each is filled up: always between runs, as late as the least
 * filling allows.
 * @throws InputError for a value outside its range.
 */
export function planMaterial(
  draws: readonly PocketDraw[],
  runs: number,
  rules: Readonly<Record<string, PocketRule>>,
): PocketPlan[] {
  requireWithin('runs', runs, '', { min: 0, max: 100_000 });
  const perPocket = new Map<string, PocketDraw[]>();
  for (const draw of draws) perPocket.set(draw.pocket, [...(perPocket.get(draw.pocket) ?? []), draw]);
  return [...perPocket].map(([pocket, taken]) => {
    const perRunG = taken.reduce((sum, draw) => sum + draw.massG, 0);
    requireWithin(`pockets.${pocket}.massG`, perRunG, 'g', { min: 0, max: 1e6 });
    const rule = rules[pocket];
    const { capacityG, leastG } = rule ?? { capacityG: Number.MAX_VALUE, leastG: 0 };
    requireWithin(`pockets.${pocket}.capacityG`, capacityG, 'g', { above: 0 });
    requireWithin(`pockets.${pocket}.leastG`, leastG, 'g', { min: 0, below: capacityG });
    const lasting = perRunG === 0 ? runs : Math.max(1, Math.floor((capacityG - leastG) / perRunG + 1e-9));
    const refillBeforeRun: number[] = [];
    for (let run = 1; run <= runs; run += Math.max(1, lasting)) refillBeforeRun.push(run);
    return {
      pocket,
      material: [...new Set(taken.map((draw) => draw.material))].join(' and '),
      perRunG,
      totalG: perRunG * runs,
      refillBeforeRun,
      overdrawn: perRunG > capacityG - leastG,
    };
  });
}
