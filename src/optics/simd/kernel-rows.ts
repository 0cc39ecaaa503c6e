import { BOUNDARY_STRIDE } from '../layer-boundaries.ts';
import type { LayerTables, WavelengthRun } from '../layer-tables.ts';

/*
 * Tables as the compiled kernels read them: a row for each two wavelengths of a run (the last one doubled where the run
 * is odd), in pairs of doubles, one for each wavelength. A row begins with
 *   lossless: Re F, Im F above the substrate in units of the lowest layer, Y0, Re Ysub;
 *   absorbing: Re F, Im F, Re Y0, Im Y0, Re Ysub;
 * and goes on with the boundaries (see layer-boundaries.ts):
 *   lossless: half turns, ratio, slope;  absorbing: all of BOUNDARY_STRIDE.
 */

const HEAD = { lossless: 4, absorbing: 5 } as const;
/** What of a boundary's numbers the kernel takes, in its order. */
const TAKEN = { lossless: [0, 2, 5], absorbing: [0, 1, 2, 3, 4, 5] } as const;
const PAIR_BYTES = 16;

const kindOf = (run: WavelengthRun) => (run.lossless ? 'lossless' : 'absorbing');

/** Bytes of one row. */
export function rowBytes(tables: LayerTables, run: WavelengthRun): number {
  const kind = kindOf(run);
  return PAIR_BYTES * (HEAD[kind] + tables.boundaryCount * TAKEN[kind].length);
}

/** Rows of a run. */
export function rowCount(run: WavelengthRun): number {
  return Math.ceil((run.to - run.from) / 2);
}

/** Writes the rows of a run from the double `at` on. */
export function writeRows(tables: LayerTables, run: WavelengthRun, doubles: Float64Array, at: number): void {
  const { entry, incidentAdmittance, substrateAdmittance, boundaries, boundaryCount } = tables;
  const head = HEAD[kindOf(run)];
  const taken = TAKEN[kindOf(run)];
  const rowLength = rowBytes(tables, run) / 8;
  for (let row = 0, here = at; row < rowCount(run); row++, here += rowLength)
    for (let lane = 0; lane < 2; lane++) {
      const w = Math.min(run.from + 2 * row + lane, run.to - 1);
      const glassRe = substrateAdmittance[2 * w]!;
      const glassIm = substrateAdmittance[2 * w + 1]!;
      const entryRe = entry[2 * w]!;
      const entryIm = entry[2 * w + 1]!;
      let place = here + lane;
      doubles[place] = entryRe * glassRe - entryIm * glassIm;
      doubles[place + 2] = entryRe * glassIm + entryIm * glassRe;
      doubles[place + 4] = incidentAdmittance[2 * w]!;
      if (!run.lossless) doubles[place + 6] = incidentAdmittance[2 * w + 1]!;
      doubles[place + 2 * head - 2] = glassRe;
      place += 2 * head;
      for (
        let b = 0, from = w * boundaryCount * BOUNDARY_STRIDE;
        b < boundaryCount;
        b++, from += BOUNDARY_STRIDE
      )
        for (let i = 0; i < taken.length; i++, place += 2) doubles[place] = boundaries[from + taken[i]!]!;
    }
}

/** Writes for each layer how many bytes into a row its upper boundary stands, from the integer `at` on. */
export function writeBoundaryPlaces(
  tables: LayerTables,
  run: WavelengthRun,
  integers: Int32Array,
  at: number,
): void {
  const kind = kindOf(run);
  for (let j = 0; j < tables.layerCount; j++)
    integers[at + j] = PAIR_BYTES * (HEAD[kind] + tables.boundaryOf[j]! * TAKEN[kind].length);
}
