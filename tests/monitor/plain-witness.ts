import type { Witness } from '../../src/monitor/witness.ts';
import { constantIndex } from './constant-index.ts';

/** A witness of crown glass in air, 1 mm thick, whose back reflects nothing. */
export const plainWitness: Witness = {
  incident: constantIndex(1),
  substrate: constantIndex(1.52),
  thicknessMm: 1,
  backSurface: 'none',
};
