import { curvesOnGrid, type IndexSpec, type ResolvedIndex } from '../../materials/index-spec.ts';
import type { MaterialRecord } from '../../materials/record.ts';
import { type SpecCurves, specCurves } from '../../materials/spec-curves.ts';

/** An index on any grid of wavelengths in nm, together with whether the data reach there. */
export type IndexOnGrid = (wavelengthNm: Float64Array) => ResolvedIndex;

/** Books by the shop's own materials, which are never changed in place. */
const books = new WeakMap<readonly MaterialRecord[], IndexBook>();

/**
 * Looks indices up. A material asked for again on the same array of wavelengths gives the same object, so that equal
 * layers share their tables.
 */
export class IndexBook {
  /** The book for the shop's own materials that lasts as long as they: what one plan has looked up, the next finds. */
  static lasting(own: readonly MaterialRecord[]): IndexBook {
    const book = books.get(own) ?? new IndexBook(own);
    books.set(own, book);
    return book;
  }

  readonly #own: readonly MaterialRecord[];
  readonly #functions = new Map<string, IndexOnGrid>();

  constructor(own: readonly MaterialRecord[]) {
    this.#own = own;
  }

  /** The index function of a material or of any other index specification. */
  of(spec: IndexSpec): IndexOnGrid {
    const key = JSON.stringify(spec);
    const found = this.#functions.get(key);
    if (found !== undefined) return found;
    const known = new WeakMap<Float64Array, ResolvedIndex>();
    let curves: SpecCurves | undefined;
    const look: IndexOnGrid = (wavelengthNm) => {
      curves ??= specCurves(spec, this.#own);
      const resolved = known.get(wavelengthNm) ?? curvesOnGrid(curves, wavelengthNm);
      known.set(wavelengthNm, resolved);
      return resolved;
    };
    this.#functions.set(key, look);
    return look;
  }

  /** Real index at one wavelength. */
  indexAt(spec: IndexSpec, wavelengthNm: number): number {
    return this.of(spec)(Float64Array.of(wavelengthNm)).n[0]!;
  }

  /** Whether the data of a material reach from one wavelength to the other. */
  reaches(spec: IndexSpec, [fromNm, toNm]: readonly [number, number]): boolean {
    return this.of(spec)(Float64Array.of(fromNm, toNm)).inRange.every(Boolean);
  }
}
