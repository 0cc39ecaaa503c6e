import { InputError } from '../base/errors.ts';
import { gradingProfile, gradingSlope } from '../materials/grading.ts';
import { type IndexDirection, lightAlong } from '../optics/light-along.ts';
import type { Medium } from '../optics/medium.ts';
import type { PlateOnGrid } from '../optics/plate.ts';
import { polarizedLight } from '../optics/polarized-light.ts';
import type { StackOnGrid } from '../optics/stack-on-grid.ts';

/** A measurement of a coated surface, or of a plate that has one, and what was meant to be on it. */
export interface MeasuredCoating {
  /** As planned, on the wavelengths of the measurement. */
  readonly stack: StackOnGrid;
  /** As planned, one a layer, nm. */
  readonly thicknessNm: Float64Array;
  readonly plate?: PlateOnGrid;
  readonly quantity: 'R' | 'T';
  /** Measured fractions, one a wavelength. */
  readonly values: Float64Array;
  readonly incidenceRad: number;
  readonly polarization: 'mean' | 's' | 'p';
}

/**
 * One way in which the coating may differ from the plan: a factor on the thicknesses of some layers, a factor on
 * their index n, or a grading of n (relative difference between the outer and the inner side of each layer).
 */
export interface Deviation {
  readonly kind: 'thickness' | 'index' | 'grading';
  /** Numbers of the layers, the first on the substrate being 0. */
  readonly layers: readonly number[];
}

/** The value of a deviation where everything is as planned. */
export function plannedValue({ kind }: Deviation): number {
  return kind === 'grading' ? 0 : 1;
}

/** A layer whose grading is sought is computed as so many sublayers. */
const SUBLAYERS = 6;

/**
 * Computes what would be measured for any values of some deviations, with exact derivatives from the characteristic
 * matrix: those of the thicknesses, and those of the indices along each deviation, through the sublayers of a graded layer.
 */
export class AsBuiltModel {
  readonly pointCount: number;
  readonly #coating: MeasuredCoating;
  readonly #deviations: readonly Deviation[];

  constructor(coating: MeasuredCoating, deviations: readonly Deviation[]) {
    const { stack, thicknessNm, values } = coating;
    this.pointCount = stack.wavelengthNm.length;
    this.#coating = coating;
    this.#deviations = deviations;
    if (values.length !== this.pointCount)
      throw new InputError(
        'measured.values',
        `there are ${values.length} values for ${this.pointCount} wavelengths`,
      );
    if (thicknessNm.length !== stack.layers.length)
      throw new InputError(
        'layers',
        `there are ${thicknessNm.length} thicknesses for ${stack.layers.length} layers`,
      );
  }

  /** Fills `light` with the fraction at each wavelength. */
  values(x: Float64Array, light: Float64Array): void {
    this.#compute(x, light, undefined);
  }

  /** The same and the derivatives `slope[wavelength * x.length + deviation]`. */
  withSlopes(x: Float64Array, light: Float64Array, slope: Float64Array): void {
    this.#compute(x, light, slope);
  }

  /** The thicknesses in nm, one a layer. */
  thicknessesNm(x: Float64Array): Float64Array {
    return this.#coating.thicknessNm.map((nm, layer) => nm * this.#product('thickness', layer, x));
  }

  #product(kind: Deviation['kind'], layer: number, x: Float64Array): number {
    return this.#deviations.reduce(
      (product, deviation, p) =>
        deviation.kind === kind && deviation.layers.includes(layer) ? product * x[p]! : product,
      1,
    );
  }

  #grading(layer: number, x: Float64Array): number {
    return this.#deviations.reduce(
      (sum, { kind, layers }, p) => (kind === 'grading' && layers.includes(layer) ? sum + x[p]! : sum),
      0,
    );
  }

  #compute(x: Float64Array, light: Float64Array, slope: Float64Array | undefined): void {
    const { stack, plate, quantity, incidenceRad, polarization } = this.#coating;
    const media = stack.layers.map((medium, layer) => {
      const scaled = scaledMedium(medium, this.#product('index', layer, x));
      return this.#isGraded(layer) ? withGrading(scaled, this.#grading(layer, x)) : scaled;
    });
    const part = { stack: { ...stack, layers: media }, ...(plate === undefined ? {} : { plate }) };
    const thicknessNm = this.thicknessesNm(x);
    light.fill(0);
    slope?.fill(0);
    const isNormal = incidenceRad === 0;
    const kinds =
      polarization !== 'mean' ? [polarization] : isNormal ? (['s'] as const) : (['s', 'p'] as const);
    const columns = slope === undefined ? [] : this.#indexColumns();
    const directions = columns.map((p) => this.#direction(p, x, media));
    for (const kind of kinds) {
      const found = polarizedLight(part, thicknessNm, incidenceRad, kind, slope !== undefined);
      for (let w = 0; w < this.pointCount; w++) light[w]! += found[quantity][w]! / kinds.length;
      if (slope === undefined) continue;
      this.#addThicknessSlopes(x, found.derivative![quantity], thicknessNm, kinds.length, slope);
      if (directions.length === 0) continue;
      const along = lightAlong(part, thicknessNm, incidenceRad, kind, directions).derivative![quantity];
      for (let w = 0; w < this.pointCount; w++)
        for (const [column, p] of columns.entries())
          slope[w * x.length + p]! += along[w * columns.length + column]! / kinds.length;
    }
  }

  /** Numbers of the deviations that change an index. */
  #indexColumns(): number[] {
    return this.#deviations.flatMap(({ kind }, p) => (kind === 'thickness' ? [] : [p]));
  }

  #isGraded(layer: number): boolean {
    return this.#deviations.some(({ kind, layers }) => kind === 'grading' && layers.includes(layer));
  }

  /** How the indices of `media`, as they are at `x`, change with one deviation of index or grading. */
  #direction(p: number, x: Float64Array, media: readonly Medium[]): IndexDirection {
    const { kind, layers } = this.#deviations[p]!;
    return layers.map((layer) => {
      const { n, k } = media[layer]!;
      return kind === 'index'
        ? { layer, n: n.map((value) => value / x[p]!) }
        : {
            layer,
            n,
            k,
            profile: gradingSlopes(this.#coating.stack.layers[layer]!, this.#grading(layer, x)),
          };
    });
  }

  #addThicknessSlopes(
    x: Float64Array,
    perNm: Float64Array,
    thicknessNm: Float64Array,
    shares: number,
    slope: Float64Array,
  ): void {
    for (const [p, { kind, layers }] of this.#deviations.entries()) {
      if (kind !== 'thickness') continue;
      for (const layer of layers) {
        const nmPerFactor = thicknessNm[layer]! / x[p]!;
        for (let w = 0; w < this.pointCount; w++)
          slope[w * x.length + p]! += (perNm[w * thicknessNm.length + layer]! * nmPerFactor) / shares;
      }
    }
  }
}

function scaledMedium(medium: Medium, factor: number): Medium {
  return factor === 1 ? medium : { ...medium, n: medium.n.map((value) => value * factor) };
}

/** The medium with a linear change of its index beside the one that it was planned with. */
function withGrading(medium: Medium, change: number): Medium {
  const planned = medium.profile;
  const profile =
    planned === undefined
      ? gradingProfile(change, SUBLAYERS)
      : planned.map((factor, i) => factor * (1 + change * depthOf(i, planned.length)));
  return { ...medium, profile };
}

/** How the profile of `withGrading` changes with `change`. */
function gradingSlopes({ profile }: Medium, change: number): Float64Array {
  return profile === undefined
    ? gradingSlope(change, SUBLAYERS)
    : profile.map((factor, i) => factor * depthOf(i, profile.length));
}

/** Where the middle of a sublayer lies in its layer, from −1/2 to 1/2. */
function depthOf(sublayer: number, count: number): number {
  return (sublayer + 0.5) / count - 0.5;
}
