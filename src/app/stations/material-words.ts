import { significant } from '../../base/format.ts';
import type { Batch } from '../../batch/document.ts';
import { resolveIndex } from '../../materials/index-spec.ts';
import { allMaterials, findMaterial } from '../../materials/library.ts';
import type { MaterialRecord } from '../../materials/record.ts';

/** The yellow helium line, at which glasses are named. */
const D_LINE_NM = 587.6;

const SUBSCRIPTS = '₀₁₂₃₄₅₆₇₈₉';

/** A material as people write it: "MgF₂", "Glass 517642, borosilicate crown". */
export function materialLabel(record: MaterialRecord): string {
  if (record.role === 'substrate' || record.formula === undefined) return record.name;
  return formulaText(record.formula);
}

/** A chemical formula with its figures lowered. */
export function formulaText(formula: string): string {
  return formula.replace(/\d/g, (digit) => SUBSCRIPTS[Number(digit)]!);
}

/** The label of an id, the id itself where it is unknown. */
export function labelOf(id: string, { materials }: Pick<Batch, 'materials'>): string {
  const record = findMaterial(id, materials);
  return record === undefined ? id : materialLabel(record);
}

/** n at the yellow helium line, or undefined where the material's data do not reach it. */
export function indexAtD(record: MaterialRecord): number | undefined {
  if (D_LINE_NM < record.rangeNm[0] || D_LINE_NM > record.rangeNm[1]) return undefined;
  return resolveIndex(record.id, Float64Array.of(D_LINE_NM), [record]).n[0];
}

/** "nd 1.5168", '' where the data do not reach the line. */
export function indexWords(record: MaterialRecord): string {
  const n = indexAtD(record);
  return n === undefined ? '' : `nd ${significant(n, 5)}`;
}

/** Materials of a role that a batch can use: its own first, then the library's. */
export function materialsOf(
  roles: readonly MaterialRecord['role'][],
  { materials }: { readonly materials: readonly MaterialRecord[] },
): readonly MaterialRecord[] {
  const own = new Set(materials.map(({ id }) => id));
  return [...materials, ...allMaterials().filter(({ id }) => !own.has(id))].filter(({ role }) =>
    roles.includes(role),
  );
}
