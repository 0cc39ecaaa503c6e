import { RAD_PER_DEG } from '../base/constants.ts';
import { integrate, meanByEqualSteps } from '../math/integrate.ts';
import { integrateSpans } from '../math/integrate-spans.ts';
import type { Element } from './element.ts';
import { type ShieldShape, shadeAt } from './shield.ts';
import type { Sight } from './sight.ts';
import { arrivalAt, clearanceAt, type VapourSource } from './vapour-source.ts';

/** Samples of a shadow for each rad of the turn, and the fewest. */
const SAMPLES_PER_RAD = 4;
const FEWEST_SAMPLES = 6;
/** Relative to what the shields take, which is a small part of the whole. */
const TOLERANCE = 1e-6;

/**
 * What shields keep from an element while it goes once round the chamber's axis: the part of `meanOverTurn` for which
 * a ray to the source meets one of them.
 */
export function shadedOverTurn(
  shapes: readonly ShieldShape[],
  source: VapourSource,
  element: Element,
  sight?: Sight,
): number {
  const facing = Math.atan2(element.y, element.x);
  const radius = Math.hypot(element.x, element.y);
  const isOpen = sight === undefined && alwaysFaces(source, element);
  let sum = 0;
  for (const [index, shape] of shapes.entries()) {
    const window = shadowWindow(shape, source, element.z, radius, 0);
    if (window === undefined) continue;
    sum += integrateSpans(
      (turn) => arrivalAt(source, element, facing - turn),
      (turn) => shadeOfOne(shapes, index, source, element, facing - turn, isOpen, sight),
      window.from,
      window.to,
      samplesOf(window.to - window.from),
    );
  }
  return sum / (2 * Math.PI);
}

/**
 * The same over `turns` turns of a carrier whose racks turn as gears make them. @param placed the element, seen from
 * the carrier, when the carrier has turned by so much (rad). @param reach where its rack's middle runs, how far from that it
 * stands, and how high it comes, mm. @param speed turns of the element about its rack's axis for one of the carrier.
 */
export function shadedOverPath(
  shapes: readonly ShieldShape[],
  source: VapourSource,
  placed: (carrier: number) => { readonly element: Element; readonly sight: Sight | undefined },
  reach: { readonly carrierRadius: number; readonly rackRadius: number; readonly highestZ: number },
  speed: number,
  turns: number,
): number {
  const azimuth = (source.azimuthDeg ?? 0) * RAD_PER_DEG;
  const end = 2 * Math.PI * turns;
  const { carrierRadius, rackRadius, highestZ } = reach;
  const swing = rackRadius < carrierRadius ? Math.asin(rackRadius / carrierRadius) : Math.PI;
  const nearest = Math.abs(carrierRadius - rackRadius);
  let sum = 0;
  for (const [index, shape] of shapes.entries()) {
    const window = shadowWindow(shape, source, highestZ, nearest, swing);
    if (window === undefined) continue;
    const samples = samplesOf((window.to - window.from) * (1 + Math.abs(speed)));
    for (let pass = -2; pass <= turns + 2; pass++) {
      const from = Math.max(0, window.from + azimuth + 2 * Math.PI * pass);
      const to = Math.min(end, window.to + azimuth + 2 * Math.PI * pass);
      if (to <= from) continue;
      sum += integrateSpans(
        (carrier) => arrivalAt(source, placed(carrier).element, azimuth - carrier),
        (carrier) => {
          const { element, sight } = placed(carrier);
          return shadeOfOne(shapes, index, source, element, azimuth - carrier, false, sight);
        },
        from,
        to,
        samples,
      );
    }
  }
  return sum / end;
}

/** The mean over the turns of a free planet of what shields keep from it at each of its angles. */
export function shadedOverPlanet(shadedAt: (angle: number) => number): number {
  return (
    meanByEqualSteps(shadedAt, 2 * Math.PI, TOLERANCE, FREE_FIRST, FREE_MOST) ??
    integrate(shadedAt, 0, 2 * Math.PI, END_TOLERANCE, FREE_FIRST) / (2 * Math.PI)
  );
}

const FREE_FIRST = 16;
const FREE_MOST = 512;
/** Where places pass beyond an end of the sheet, its shadow comes and goes at once. */
const END_TOLERANCE = 1e-4;

/** Whether an element looks towards the source wherever that stands around the axis. */
function alwaysFaces(source: VapourSource, { x, y, z, nx, ny, nz }: Element): boolean {
  const steady = -(nx * x + ny * y + nz * (z - (source.heightMm ?? 0)));
  return steady > source.offsetMm * Math.hypot(nx, ny);
}

/** In the shadow of one shield and of none before it, and seen but for that. */
function shadeOfOne(
  shapes: readonly ShieldShape[],
  index: number,
  source: VapourSource,
  element: Element,
  azimuth: number,
  isOpen: boolean,
  sight: Sight | undefined,
): number {
  let shade = shadeAt(shapes[index]!, source, element, azimuth);
  for (let before = 0; before < index; before++)
    shade = Math.min(shade, -shadeAt(shapes[before]!, source, element, azimuth));
  return isOpen || shade <= 0 ? shade : Math.min(shade, clearanceAt(source, element, azimuth, sight));
}

/**
 * The turns (of an element's azimuth against the source's) between which its ray can meet the shield: the ray crosses
 * the sheet at S + t (P − S), whose azimuth differs from that of P by at most asin((1 − t) s / (t r)).
 */
function shadowWindow(
  shape: ShieldShape,
  source: VapourSource,
  z: number,
  radius: number,
  swing: number,
): { from: number; to: number } | undefined {
  const sourceZ = source.heightMm ?? 0;
  const part = (shape.height - sourceZ) / (z - sourceZ);
  if (!(part > 0) || shape.widest <= 0) return undefined;
  const lead = part >= 1 ? 0 : ((1 - part) * source.offsetMm) / (part * radius);
  const half = shape.widest + swing + (lead < 1 ? Math.asin(lead) : Math.PI);
  const middle = shape.middle - (source.azimuthDeg ?? 0) * RAD_PER_DEG;
  return { from: middle - Math.min(half, Math.PI), to: middle + Math.min(half, Math.PI) };
}

function samplesOf(rad: number): number {
  return Math.max(FEWEST_SAMPLES, Math.ceil(rad * SAMPLES_PER_RAD));
}
