import Complex from 'complex.js';
import { InputError } from '../base/errors.ts';
import { type GradedStack, layOutGraded, spreadThickness } from './graded-stack.ts';
import {
  type FieldVector,
  type LightInMedium,
  lightInMedium,
  type Ray,
  throughLayer,
} from './layer-matrix.ts';
import {
  type Polarization,
  requireIncidence,
  requireStack,
  requireThicknesses,
  type StackOnGrid,
} from './stack-on-grid.ts';
import { LEAST_LAYER_NORMAL, LEAST_SUBSTRATE_NORMAL } from './tilted-admittance.ts';

/** What the light does at one depth. */
export interface FieldPoint {
  /** |E|² over that of the incident wave, of the total field: both components for p. */
  readonly intensity: number;
  /** Fraction of the incident power that is absorbed per nm of depth. */
  readonly absorptionPerNm: number;
}

/**
 * The field of one stack at one wavelength, angle and polarization, inside and in front of it and in the
 * substrate. Within a graded layer it is that of the sublayers which stand for it. Depth counts from the first boundary that the light meets, in nm, positive into the stack; a
 * point on a boundary belongs to the medium behind it.
 */
export class StackField {
  readonly #wavelengthNm: number;
  readonly #ray: Ray;
  /** Of each sublayer; a layer that isn't graded is its own only one. */
  readonly #thicknessNm: Float64Array;
  readonly #graded: GradedStack | undefined;
  readonly #layerCount: number;
  readonly #incident: LightInMedium;
  readonly #layers: readonly LightInMedium[];
  readonly #substrate: LightInMedium;
  /** At the lower boundary of each sublayer, and last at the front. */
  readonly #vectors: readonly FieldVector[];
  /** Factor that makes the incident wave's tangential field 1, its logarithm of scale taken off. */
  readonly #unit: Complex;
  readonly #reflected: Complex;

  /**
   * @param thicknessNm one value (nm, from 0) a layer.
   * @param at which wavelength of the stack's grid.
   * @throws InputError where the stack, the angle, a thickness or `at` is not legal.
   */
  constructor(
    stack: StackOnGrid,
    thicknessNm: Float64Array,
    incidenceRad: number,
    polarization: Polarization,
    at = 0,
  ) {
    requireStack(stack);
    requireIncidence('incidenceRad', incidenceRad);
    requireThicknesses(thicknessNm, stack.layers.length);
    if (!(at in stack.wavelengthNm))
      throw new InputError(
        'at',
        `the stack has no wavelength number ${at}; it has ${stack.wavelengthNm.length}`,
      );
    this.#graded = layOutGraded(stack);
    this.#layerCount = stack.layers.length;
    const { wavelengthNm, incident, layers, substrate } = this.#graded?.stack ?? stack;
    this.#wavelengthNm = wavelengthNm[at]!;
    this.#thicknessNm = thicknessNm.slice();
    if (this.#graded !== undefined) {
      this.#thicknessNm = new Float64Array(layers.length);
      spreadThickness(this.#graded, thicknessNm, this.#thicknessNm);
    }
    this.#ray = { incidentN: incident.n[at]!, incidenceRad, polarization };
    const light = ({ n, k }: { n: Float64Array; k: Float64Array }, least: number) =>
      lightInMedium(n[at]!, k[at]!, this.#ray, least);
    this.#incident = light(incident, LEAST_SUBSTRATE_NORMAL);
    this.#substrate = light(substrate, LEAST_SUBSTRATE_NORMAL);
    this.#layers = layers.map((medium) => light(medium, LEAST_LAYER_NORMAL));
    const vectors: FieldVector[] = [{ b: Complex.ONE, c: this.#substrate.admittance, logScale: 0 }];
    this.#layers.forEach((medium, j) => {
      vectors.push(throughLayer(vectors[j]!, medium, this.#thicknessNm[j]!, this.#wavelengthNm));
    });
    this.#vectors = vectors;
    const front = vectors.at(-1)!;
    const perAdmittance = front.c.div(this.#incident.admittance);
    this.#unit = new Complex(2).div(front.b.add(perAdmittance));
    this.#reflected = front.b.sub(perAdmittance).div(front.b.add(perAdmittance));
  }

  /** The whole thickness of the layers, nm. */
  get depthNm(): number {
    return this.#thicknessNm.reduce((sum, nm) => sum + nm, 0);
  }

  /** @param depthNm any finite depth. @throws InputError for another one. */
  at(depthNm: number): FieldPoint {
    if (!Number.isFinite(depthNm)) throw new InputError('depthNm', `${depthNm} is not a finite number`);
    const { medium, b, c, size } = this.#tangential(depthNm);
    const { incidentN, incidenceRad, polarization } = this.#ray;
    const cosine = Math.cos(incidenceRad);
    let intensity = squared(b) * size * size;
    if (polarization === 'p') {
      // E along the normal is n0 sin θ0 H / ε in free-space units; the incident tangential field is E cos θ0.
      const across = c.mul(incidentN * Math.sin(incidenceRad)).div(medium.permittivity);
      intensity = (intensity + squared(across) * size * size) * cosine * cosine;
    }
    // Power lost per volume ½ ω ε0 Im ε |E|² over the incident power ½ c ε0 n0 cos θ0 |E0|².
    const rate = (-2 * Math.PI * medium.permittivity.im) / (this.#wavelengthNm * incidentN * cosine);
    return { intensity, absorptionPerNm: rate * intensity };
  }

  /** Fraction of the incident power that each layer absorbs, in the order of deposition. */
  absorptance(): Float64Array {
    return Float64Array.from({ length: this.#layerCount }, (_, j) =>
      Math.max(0, this.#flux(this.#firstOf(j + 1)) - this.#flux(this.#firstOf(j))),
    );
  }

  /**
   * The admittance Y = C / B (free-space units) seen from each of `points` + 1 equally spaced levels of each
   * layer, from its lower boundary up: the path that the stack draws in the plane as it grows.
   */
  admittanceLocus(points: number): Complex[][] {
    return Array.from({ length: this.#layerCount }, (_, j) => {
      const first = this.#firstOf(j);
      const sublayers = this.#firstOf(j + 1) - first;
      return Array.from({ length: points + 1 }, (_, i) => {
        const passed = (sublayers * i) / points;
        const own = first + Math.min(Math.floor(passed), sublayers - 1);
        const nm = this.#thicknessNm[own]! * (passed - own + first);
        const { b, c } = throughLayer(this.#vectors[own]!, this.#layers[own]!, nm, this.#wavelengthNm);
        return c.div(b);
      });
    });
  }

  /** Place of a layer's first sublayer; layers that aren't graded are their own only one. */
  #firstOf(layer: number): number {
    return this.#graded?.firstOf[layer] ?? layer;
  }

  /** Net power towards the substrate at boundary `j` over the incident one: Re(B C*) scaled. */
  #flux(j: number): number {
    const { b, c } = this.#vectors[j]!;
    const size = this.#scaleAt(this.#vectors[j]!.logScale);
    return (size * size * (b.re * c.re + b.im * c.im)) / this.#incident.admittance.re;
  }

  #scaleAt(logScale: number): number {
    return this.#unit.abs() * Math.exp(logScale - this.#vectors.at(-1)!.logScale);
  }

  #tangential(depthNm: number): { medium: LightInMedium; b: Complex; c: Complex; size: number } {
    if (depthNm < 0) return this.#before(depthNm);
    let top = 0;
    for (let j = this.#layers.length - 1; j >= 0; j--) {
      const bottom = top + this.#thicknessNm[j]!;
      if (depthNm < bottom) {
        const medium = this.#layers[j]!;
        const { b, c, logScale } = throughLayer(
          this.#vectors[j]!,
          medium,
          bottom - depthNm,
          this.#wavelengthNm,
        );
        return { medium, b, c, size: this.#scaleAt(logScale) };
      }
      top = bottom;
    }
    // In the substrate a single wave runs on, and fades where the substrate absorbs or is evanescent.
    const medium = this.#substrate;
    const fade = Math.exp((2 * Math.PI * medium.normal.im * (depthNm - top)) / this.#wavelengthNm);
    return { medium, b: Complex.ONE, c: medium.admittance, size: this.#scaleAt(0) * fade };
  }

  #before(depthNm: number): { medium: LightInMedium; b: Complex; c: Complex; size: number } {
    const medium = this.#incident;
    const phase = (2 * Math.PI * medium.normal.re * depthNm) / this.#wavelengthNm;
    const forth = new Complex(Math.cos(phase), -Math.sin(phase));
    const back = this.#reflected.mul(new Complex(Math.cos(phase), Math.sin(phase)));
    return { medium, b: forth.add(back), c: forth.sub(back).mul(medium.admittance), size: 1 };
  }
}

function squared(value: Complex): number {
  return value.re * value.re + value.im * value.im;
}
