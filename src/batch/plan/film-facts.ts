import { formula } from '../../base/format.ts';
import { findMaterial } from '../../materials/library.ts';
import type { MaterialRecord } from '../../materials/record.ts';
import type { Batch, MaterialProcess } from '../document.ts';
import { houseProcess } from '../house-settings.ts';

/** What the run needs to know of a film material beside its index. */
export interface FilmFacts {
  readonly label: string;
  readonly densityGPerCm3: number;
  readonly zRatio: number;
  readonly hazards: readonly string[];
  /** What is not known and was therefore assumed. */
  readonly assumed: readonly string[];
}

/** Density and Z-ratio of water: what a crystal controller assumes where nothing is known. */
const UNKNOWN_DENSITY_G_PER_CM3 = 1;
const UNKNOWN_Z_RATIO = 1;

/** The facts of a film material; what its record lacks is assumed and named in `assumed`. */
export function filmFacts({ materials }: Batch, id: string): FilmFacts {
  const record = findMaterial(id, materials);
  const film = record?.film;
  const label = labelOf(record, id);
  const assumed: string[] = [];
  if (film === undefined)
    assumed.push(`the density of ${label} is not known; ${UNKNOWN_DENSITY_G_PER_CM3} g/cm³ was assumed`);
  if (film === undefined || !film.zRatio.known)
    assumed.push(
      `the Z-ratio of ${label} is not known; ${film?.zRatio.value ?? UNKNOWN_Z_RATIO} was assumed`,
    );
  return {
    label,
    densityGPerCm3: film?.densityGPerCm3.value ?? UNKNOWN_DENSITY_G_PER_CM3,
    zRatio: film?.zRatio.value ?? UNKNOWN_Z_RATIO,
    hazards: (record?.hazards ?? []).map(({ fact }) => fact),
    assumed,
  };
}

/** The batch's own settings for a material, or the house's from the material's usual process window. */
export function processOf(document: Batch, id: string): MaterialProcess {
  const given = document.process.materials[id];
  if (given !== undefined) return given;
  const film = findMaterial(id, document.materials)?.film;
  const kind = film?.vapourSource.value === 'boat' ? 'boat' : 'e-beam';
  const { sources } = document.chamber;
  const source = sources.find((candidate) => candidate.kind === kind) ?? sources[0]!;
  return houseProcess(source.id, kind, film?.rateNmPerS.value ?? 0.3, film?.oxygenPa.value ?? 0);
}

/** A material as people write it: its formula for a film, its name otherwise. */
export function labelOf(record: MaterialRecord | undefined, id: string): string {
  if (record === undefined) return id;
  return record.role === 'substrate' ? record.name : formula(record.formula ?? record.name);
}
