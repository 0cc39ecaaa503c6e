import { requireWithin } from '../base/errors.ts';
import { integrate } from '../math/integrate.ts';
import { integrateWhere } from '../math/integrate-where.ts';
import type { Element } from './element.ts';
import { arrivalPerMm2 } from './emission.ts';
import type { Sight } from './sight.ts';

/** A source that looks straight up and sends vapour by the cos^n law (see `arrivalPerMm2`). */
export interface VapourSource {
  /** Distance from the chamber's axis. */
  readonly offsetMm: number;
  /** n of the cos^n law, 0 to 50; 1 is a small flat source. */
  readonly exponent: number;
  /** Height of its surface above the level from which heights count, default 0. */
  readonly heightMm?: number;
  /** Where it stands around the axis, default 0. */
  readonly azimuthDeg?: number;
}

/** @throws InputError for a value outside its range; `path` is the source's place in the request. */
export function requireSource(source: VapourSource, path = 'source'): void {
  requireWithin(`${path}.offsetMm`, source.offsetMm, 'mm', { min: 0, max: 10_000 });
  requireWithin(`${path}.exponent`, source.exponent, '', { min: 0, max: 50 });
  requireWithin(`${path}.heightMm`, source.heightMm ?? 0, 'mm', { min: -10_000, max: 10_000 });
  requireWithin(`${path}.azimuthDeg`, source.azimuthDeg ?? 0, '°', { min: -360, max: 360 });
}

/**
 * Fraction of the evaporated mass per mm² on an element at rest, the source turned by `azimuth` (rad) about the
 * chamber's axis; the element is taken to see whatever it looks towards.
 */
export function arrivalAt(source: VapourSource, element: Element, azimuth: number): number {
  const dx = source.offsetMm * Math.cos(azimuth) - element.x;
  const dy = source.offsetMm * Math.sin(azimuth) - element.y;
  const dz = (source.heightMm ?? 0) - element.z;
  const facing = element.nx * dx + element.ny * dy + element.nz * dz;
  const distance = Math.sqrt(dx * dx + dy * dy + dz * dz);
  return arrivalPerMm2(source.exponent, -dz / distance, facing / distance, distance);
}

/** How freely the element sees that source: the cosine of the ray against its normal, or what `sight` says. */
export function clearanceAt(source: VapourSource, element: Element, azimuth: number, sight?: Sight): number {
  const x = source.offsetMm * Math.cos(azimuth);
  const y = source.offsetMm * Math.sin(azimuth);
  const z = source.heightMm ?? 0;
  const [dx, dy, dz] = [x - element.x, y - element.y, z - element.z];
  const facing =
    (element.nx * dx + element.ny * dy + element.nz * dz) / Math.sqrt(dx * dx + dy * dy + dz * dz);
  return sight === undefined ? facing : Math.min(facing, sight(element, x, y, z));
}

/** Samples of what stands in the way, a turn. */
const SIGHT_SAMPLES = 48;

/**
 * The mean of `arrivalAt` over a full turn of the element about the chamber's axis.
 *
 * As the source goes round at azimuth ψ, N·(S − P) = A + B cos(ψ − ψ0) and r² = C − D cos(ψ − ψ1). Where the
 * element always looks towards the source the integrand is smooth and equal steps converge geometrically, the
 * rate set by the zero of r² (as in `arrivalOnRotatingPlane`). Else the source is seen over one arc alone, whose
 * ends are known, cos(ψ − ψ0) = −A/B; panels fill that arc.
 */
export function meanOverTurn(source: VapourSource, element: Element, sight?: Sight): number {
  const { x, y, nx, ny, nz } = element;
  const offset = source.offsetMm;
  const z = element.z - (source.heightMm ?? 0);
  if (z <= 0) return 0;
  const steady = -(nx * x + ny * y + nz * z);
  const swing = offset * Math.hypot(nx, ny);
  if (steady + swing <= 0) return 0;
  const radius = Math.hypot(x, y);
  const towards = Math.atan2(ny, nx);
  const nearest = z * z + (radius - offset) ** 2;
  const product = 2 * radius * offset;
  const azimuth = Math.atan2(y, x);
  const power = -(source.exponent + 3) / 2;
  const shape = (psi: number) => {
    const half = Math.sin((psi - azimuth) / 2);
    return (steady + swing * Math.cos(psi - towards)) * (nearest + 2 * product * half * half) ** power;
  };
  const factor = ((source.exponent + 1) * z ** source.exponent) / (2 * Math.PI);
  const half = steady >= swing ? Math.PI : Math.acos(-steady / swing);
  if (sight !== undefined) {
    const clear = (psi: number) =>
      sight(element, offset * Math.cos(psi), offset * Math.sin(psi), element.z - z);
    const seen = integrateWhere(shape, clear, towards - half, towards + half, SIGHT_SAMPLES, 1e-10);
    return (factor * seen) / (2 * Math.PI);
  }
  if (steady < swing) {
    return (factor * integrate(shape, towards - half, towards + half, 1e-12, 2)) / (2 * Math.PI);
  }
  const beyond = nearest / product;
  const decay = product === 0 ? 40 : Math.log1p(beyond + Math.sqrt(beyond * (2 + beyond)));
  const steps = 4 + Math.ceil(34 / decay);
  let sum = 0;
  for (let step = 0; step < steps; step++) sum += shape((2 * Math.PI * step) / steps);
  return (factor * sum) / steps;
}
