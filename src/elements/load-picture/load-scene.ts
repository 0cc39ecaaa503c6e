import type { Verdict } from '../verdict/verdict-element.ts';
import type { LoadMove } from './load-events.ts';

/** Something that stands in the load: a part to be coated, a witness, or a blank that fills a place. */
export interface LoadPart {
  readonly id: string;
  /** As it is called aloud, such as "place 12". */
  readonly label: string;
  /** From the rack's centre. */
  readonly xMm: number;
  readonly yMm: number;
  readonly angleDeg?: number;
  readonly diameterMm?: number;
  /** For rectangles, in place of a diameter. */
  readonly widthMm?: number;
  readonly heightMm?: number;
  readonly role?: 'part' | 'witness' | 'dummy';
  /** A value that colours the place, in the unit of the picture's scale. */
  readonly value?: number;
  readonly verdict?: Verdict;
}

/** A round rack or planet with what stands in it. */
export interface LoadRack {
  readonly id: string;
  readonly label: string;
  /** Its centre from the chamber's axis. */
  readonly xMm: number;
  readonly yMm: number;
  readonly diameterMm: number;
  /** Edge that nothing may stand on. */
  readonly rimMm?: number;
  readonly parts: readonly LoadPart[];
  /** Places that must stay free, from the rack's centre. */
  readonly keepOuts?: readonly { readonly xMm: number; readonly yMm: number; readonly diameterMm: number }[];
}

/** Something that stands still in the chamber: a source below, a witness or crystal above, a keep-out. */
export interface LoadFixed {
  readonly id: string;
  readonly label: string;
  readonly kind: 'source' | 'witness' | 'crystal' | 'keep-out';
  readonly xMm: number;
  readonly yMm: number;
  readonly diameterMm: number;
}

/** A level sheet at rest below the racks. */
export interface LoadShield {
  readonly id: string;
  readonly label: string;
  readonly azimuthDeg: number;
  /** Once around, as it lies with its middle line along x. */
  readonly outline: readonly { readonly xMm: number; readonly yMm: number }[];
}

/** The chamber from above, all lengths from its axis in mm; y points away from the door. */
export interface LoadScene {
  /** Inner width of a round chamber; leave out to show a single rack. */
  readonly chamberDiameterMm?: number;
  /** Radius on which the planets' centres travel; leave out where nothing turns. */
  readonly carrierRadiusMm?: number;
  readonly racks: readonly LoadRack[];
  readonly fixed?: readonly LoadFixed[];
  readonly shields?: readonly LoadShield[];
}

/** What a place's colour means. */
export interface ValueScale {
  readonly label: string;
  readonly unit: string;
  /** The value that is wanted; drawn in the middle colour. */
  readonly middle: number;
  /** Distance from the middle at which the end colours are reached. */
  readonly reach: number;
}

/** How far a value lies along the scale, −1 (too little) to 1 (too much), beyond the ends the end. */
export function scaleShare(value: number, { middle, reach }: ValueScale): number {
  return reach > 0 ? Math.max(-1, Math.min(1, (value - middle) / reach)) : 0;
}

/** The CSS colour of a value on the scale. */
export function scaleColour(value: number, scale: ValueScale): string {
  const share = scaleShare(value, scale);
  const end = share < 0 ? 'low' : 'high';
  return `color-mix(in oklab, var(--cw-ramp-${end}) ${Math.round(Math.abs(share) * 100)}%, var(--cw-ramp-mid))`;
}

/** A part with where it stands in the chamber, before anything has turned. */
export interface PlacedPart {
  readonly part: LoadPart;
  readonly rack: LoadRack;
  readonly xMm: number;
  readonly yMm: number;
}

/** All parts of all racks with their places in the chamber. */
export function placedParts(scene: LoadScene): PlacedPart[] {
  return scene.racks.flatMap((rack) =>
    rack.parts.map((part) => ({ part, rack, xMm: rack.xMm + part.xMm, yMm: rack.yMm + part.yMm })),
  );
}

/**
 * The nearest part in a direction (unit vector, y up) from the part at `index`: distance counts, and lying off
 * the direction counts against it. The same index comes back where nothing lies that way.
 */
export function neighbour(parts: readonly PlacedPart[], index: number, dx: number, dy: number): number {
  const from = parts[index];
  if (from === undefined) return parts.length > 0 ? 0 : -1;
  let best = index;
  let least = Number.POSITIVE_INFINITY;
  parts.forEach((to, i) => {
    const along = (to.xMm - from.xMm) * dx + (to.yMm - from.yMm) * dy;
    const aside = Math.abs((to.xMm - from.xMm) * dy - (to.yMm - from.yMm) * dx);
    if (along <= 1e-9 || aside > 2 * along) return;
    const cost = along + 2 * aside;
    if (cost < least) {
      least = cost;
      best = i;
    }
  });
  return best;
}

/** Half the side of the square that the whole scene fits in, mm. */
export function sceneReachMm(scene: LoadScene): number {
  const racks = scene.racks.map((rack) => Math.hypot(rack.xMm, rack.yMm) + rack.diameterMm / 2);
  const fixed = (scene.fixed ?? []).map((item) => Math.hypot(item.xMm, item.yMm) + item.diameterMm / 2);
  return Math.max((scene.chamberDiameterMm ?? 0) / 2, ...racks, ...fixed, 1);
}

/** The scene after a source or a shield was moved. */
export function sceneMoved(scene: LoadScene, move: LoadMove): LoadScene {
  if (move.what === 'source')
    return {
      ...scene,
      fixed: (scene.fixed ?? []).map((item) =>
        item.kind === 'source' && item.id === move.id ? { ...item, xMm: move.xMm, yMm: move.yMm } : item,
      ),
    };
  return {
    ...scene,
    shields: (scene.shields ?? []).map((item) =>
      item.id === move.id ? { ...item, azimuthDeg: move.azimuthDeg } : item,
    ),
  };
}
