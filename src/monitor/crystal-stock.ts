import { requireWithin } from '../base/errors.ts';

/** The quartz crystals of a run: how far each may fall, and what every nanometre of a layer takes of that. */
export interface CrystalStock {
  /** Fall at which a crystal is changed before the next layer, Hz, above 0 to 5e7. */
  readonly budgetHz: number;
  /** Fall of the frequency for each nm on the lens, Hz/nm, from 0 to 1e5; one a layer. */
  readonly fallHzPerNm: readonly number[];
  /** What the first crystal has lost before the run, Hz, from 0 to the budget. Default 0. */
  readonly usedHz?: number;
  /** Crystals in the holder, from 1 to 100. Default: as many as it takes. */
  readonly count?: number;
}

/** @throws InputError where a value is out of its range or the layers' number is another one. */
export function checkCrystals(stock: CrystalStock, layerCount: number): void {
  const { budgetHz, fallHzPerNm, usedHz = 0, count = 1 } = stock;
  requireWithin('crystals.budgetHz', budgetHz, 'Hz', { above: 0, max: 5e7 });
  requireWithin('crystals.usedHz', usedHz, 'Hz', { min: 0, max: budgetHz });
  requireWithin('crystals.count', count, 'crystals', { min: 1, max: 100 });
  requireWithin('crystals.fallHzPerNm', fallHzPerNm.length, 'layers', { min: layerCount, max: layerCount });
  for (const [index, fall] of fallHzPerNm.entries())
    requireWithin(`crystals.fallHzPerNm[${index}]`, fall, 'Hz/nm', { min: 0, max: 1e5 });
}
