import { InputError, requireWithin } from '../base/errors.ts';
import { loadCrystal } from './crystal.ts';

export interface CrystalLayer {
  readonly thicknessNm: number;
  readonly densityGPerCm3: number;
  readonly zRatio: number;
  /** Thickness on the lens over that on the crystal, default 1. */
  readonly tooling?: number;
}

export interface CrystalBudget {
  readonly frequencyHz: number;
  /** How far a crystal may fall before it is changed, Hz; 5 % of 6 MHz is usual (common practice, no source). */
  readonly budgetHz: number;
  /** What of the budget the first crystal has already used, default 0. */
  readonly usedHz?: number;
}

export interface CrystalStep {
  /** Fall of the frequency at the layer's start and end, Hz, of the crystal that is in use. */
  readonly startHz: number;
  readonly endHz: number;
  /** A fresh crystal is turned in before this layer. */
  readonly changeBefore: boolean;
  /** Even a fresh crystal does not last for this layer. */
  readonly overBudget: boolean;
}

/**
 * Which layers a crystal change falls between: a crystal is kept until the next layer would take it beyond its budget,
 * never changed within a layer. Films of several materials are summed as mass with the Z-ratio weighted by mass.
 * @throws InputError for a value outside its range.
 */
export function planCrystals(layers: readonly CrystalLayer[], budget: CrystalBudget): CrystalStep[] {
  const { frequencyHz, budgetHz, usedHz = 0 } = budget;
  requireWithin('frequencyHz', frequencyHz, 'Hz', { min: 1e5, max: 1e8 });
  requireWithin('budgetHz', budgetHz, 'Hz', { above: 0, max: frequencyHz / 2 });
  requireWithin('usedHz', usedHz, 'Hz', { min: 0, max: budgetHz });
  let mass = 0;
  let weighted = 0;
  let before = usedHz;
  let worn = usedHz;
  const fallWith = (layer: CrystalLayer) => {
    // Thickness at density 1 g/cm3 that carries the same mass.
    const own = (layer.thicknessNm * layer.densityGPerCm3) / (layer.tooling ?? 1);
    const zRatio = own + mass === 0 ? 1 : (weighted + own * layer.zRatio) / (mass + own);
    const film = { frequencyHz, densityGPerCm3: 1, zRatio };
    return { own, fallHz: worn + frequencyHz - loadCrystal(film, mass + own).loadedFrequencyHz };
  };
  return layers.map((layer, index) => {
    const at = `layers[${index}]`;
    requireWithin(`${at}.thicknessNm`, layer.thicknessNm, 'nm', { min: 0, max: 1e7 });
    requireWithin(`${at}.densityGPerCm3`, layer.densityGPerCm3, 'g/cm3', { above: 0, max: 30 });
    requireWithin(`${at}.zRatio`, layer.zRatio, '', { min: 0.01, max: 10 });
    requireWithin(`${at}.tooling`, layer.tooling ?? 1, '', { min: 0.001, max: 1000 });
    let next = fallWith(layer);
    const changeBefore = next.fallHz > budgetHz && before > 0;
    if (changeBefore) {
      [mass, weighted, worn, before] = [0, 0, 0, 0];
      next = fallWith(layer);
    }
    if (next.fallHz > frequencyHz / 2)
      throw new InputError(
        `${at}.thicknessNm`,
        `${layer.thicknessNm} nm is more than any crystal can follow`,
      );
    const startHz = before;
    before = next.fallHz;
    mass += next.own;
    weighted += next.own * layer.zRatio;
    return { startHz, endHz: next.fallHz, changeBefore, overBudget: next.fallHz > budgetHz };
  });
}
