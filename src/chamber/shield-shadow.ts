import { RAD_PER_DEG } from '../base/constants.ts';
import { integrate, meanByEqualSteps } from '../math/integrate.ts';
import { integrateSmooth, integrateSpans } from '../math/integrate-spans.ts';
import { integrateWhere } from '../math/integrate-where.ts';
import type { Element } from './element.ts';
import { type ShieldShape, shadeAt } from './shield.ts';
import { shadowSpans } from './shield-spans.ts';
import type { Sight } from './sight.ts';
import { arrivalAt, clearanceAt, type VapourSource } from './vapour-source.ts';

/** Samples of a shadow for each rad of the turn, and the fewest. */
const SAMPLES_PER_RAD = 4;
const FEWEST_SAMPLES = 6;
/** Relative to what the shields take, which is a small part of the whole. */
const TOLERANCE = 1e-6;
const PATH_TOLERANCE = 1e-7;

/** What shields keep from an element that goes once round the chamber's axis, and how their shadow lies on its way. */
export interface ShadedTurn {
  /** Changes where the shadow gains or loses a border; see `ShadowSpans`. */
  readonly borders: string;
  /** The part of `meanOverTurn` for which a ray to the source meets a shield. */
  readonly shaded: () => number;
}

/** The shadow of shields on an element that goes once round the chamber's axis; its borders are found to about 1e-11 rad. */
export function shadedOverTurn(
  shapes: readonly ShieldShape[],
  source: VapourSource,
  element: Element,
  sight?: Sight,
): ShadedTurn {
  const found = shapes.map((shape) => shadowSpans(shape, source, element));
  return {
    borders: found.map((one) => one?.borders ?? '').join('/'),
    shaded: () => {
      const facing = Math.atan2(element.y, element.x);
      const isOpen = sight === undefined && alwaysFaces(source, element);
      const arrival = (turn: number) => arrivalAt(source, element, facing - turn);
      let sum = 0;
      for (const [index, one] of found.entries()) {
        const shade = (turn: number) =>
          shadeOfOne(shapes, index, source, element, facing - turn, isOpen, sight);
        if (one === undefined) {
          const radius = Math.hypot(element.x, element.y);
          const { from, to } = shadowWindow(shapes[index]!, source, element.z, radius, 0)!;
          sum += integrateSpans(arrival, shade, from, to, NEAR_AXIS_SAMPLES);
        } else
          for (let at = 0; at < one.turns.length; at += 2) {
            const [from, to] = [one.turns[at]!, one.turns[at + 1]!];
            sum +=
              isOpen && index === 0
                ? integrateSmooth(arrival, from, to)
                : integrateSpans(arrival, shade, from, to, samplesOf(to - from));
          }
      }
      return sum / (2 * Math.PI);
    },
  };
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
      sum += integrateWhere(
        (carrier) => arrivalAt(source, placed(carrier).element, azimuth - carrier),
        (carrier) => {
          const { element, sight } = placed(carrier);
          return shadeOfOne(shapes, index, source, element, azimuth - carrier, false, sight);
        },
        from,
        to,
        samples,
        PATH_TOLERANCE,
      );
    }
  }
  return sum / end;
}

/**
 * The mean over the turns of a free planet of what shields keep from it at each of its angles. Where the shadow gains or loses
 * a border (a place passes an end of the sheet) the mean is not smooth: these angles are sought, and between them panels whose
 * nodes crowd towards the ends follow roots and kinks alike.
 */
export function shadedOverPlanet(turnAt: (angle: number) => ShadedTurn): number {
  const first = Array.from({ length: ANGLES }, (_, step) => turnAt((2 * Math.PI * step) / ANGLES));
  const borders = (angle: number) => turnAt(angle).borders;
  const breaks = first.flatMap((turn, step) =>
    breaksBetween(
      borders,
      (2 * Math.PI * step) / ANGLES,
      (2 * Math.PI * (step + 1)) / ANGLES,
      turn.borders,
      first[(step + 1) % ANGLES]!.borders,
    ),
  );
  if (breaks.length === 0) {
    const shadedAt = (angle: number) => {
      const step = (angle * ANGLES) / (2 * Math.PI);
      return (Number.isInteger(step) ? first[step]! : turnAt(angle)).shaded();
    };
    return (
      meanByEqualSteps(shadedAt, 2 * Math.PI, TOLERANCE, ANGLES / 2, FREE_MOST) ??
      integrate(shadedAt, 0, 2 * Math.PI, TOLERANCE, ANGLES / 2) / (2 * Math.PI)
    );
  }
  let sum = 0;
  for (const [piece, from] of breaks.entries()) {
    const width = (breaks[piece + 1] ?? breaks[0]! + 2 * Math.PI) - from;
    const crowded = (x: number) => {
      const part = x / width;
      return 6 * part * (1 - part) * turnAt(from + width * part * part * (3 - 2 * part)).shaded();
    };
    sum += integrateSmooth(crowded, 0, width);
  }
  return sum / (2 * Math.PI);
}

/** Where a step function of an angle, known at both ends, changes its value, each to about 1e-6: the mean bends there by less than the square root. */
function breaksBetween(
  of: (angle: number) => string,
  from: number,
  to: number,
  atFrom: string,
  atTo: string,
): number[] {
  if (atFrom === atTo) return [];
  const middle = (from + to) / 2;
  if (to - from < 1e-6) return [middle];
  const atMiddle = of(middle);
  return [
    ...breaksBetween(of, from, middle, atFrom, atMiddle),
    ...breaksBetween(of, middle, to, atMiddle, atTo),
  ];
}

/** Angles of a planet that are looked at for the borders of the shadow. */
const ANGLES = 32;
const FREE_MOST = 512;
/** Samples of a turn of an element so near to the axis that its ray's crossing does not go round that. */
const NEAR_AXIS_SAMPLES = 96;

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
 * @returns undefined where the sheet does not hang between source and element.
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
  if (!(part > 0 && part < 1)) return undefined;
  const lead = ((1 - part) * source.offsetMm) / (part * radius);
  const half = shape.widest + swing + (lead < 1 ? Math.asin(lead) : Math.PI);
  const middle = shape.middle - (source.azimuthDeg ?? 0) * RAD_PER_DEG;
  return { from: middle - Math.min(half, Math.PI), to: middle + Math.min(half, Math.PI) };
}

function samplesOf(rad: number): number {
  return Math.max(FEWEST_SAMPLES, Math.ceil(rad * SAMPLES_PER_RAD));
}
