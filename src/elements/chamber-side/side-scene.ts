/** A vapour source at the bottom of the chamber. */
export interface SideSource {
  readonly id: string;
  readonly label: string;
  /** From the chamber's axis, to the right. */
  readonly offsetMm: number;
  /** Above the reference height, default 0. */
  readonly heightMm?: number;
  /** Exponent of its emission law cos^n; 0 draws no lobe. */
  readonly exponent: number;
}

/** What is coated, as it moves. Heights are above the sources. */
export type SideSurface =
  | { readonly kind: 'plane'; readonly heightMm: number; readonly diameterMm: number }
  | {
      readonly kind: 'dome';
      readonly radiusMm: number;
      readonly centreHeightMm: number;
      /** Width of the dome's open edge. */
      readonly diameterMm: number;
    }
  | {
      readonly kind: 'planetary';
      readonly carrierRadiusMm: number;
      readonly heightMm: number;
      /** Turns the coated face towards the carrier's axis. */
      readonly tiltDeg: number;
      readonly rackDiameterMm: number;
    };

/** A still shield between source and load, seen edge on. */
export interface SideMask {
  readonly id: string;
  readonly label: string;
  readonly offsetMm: number;
  readonly heightMm: number;
  readonly lengthMm: number;
}

/** Something that stands still above the sources. */
export interface SideFixed {
  readonly id: string;
  readonly label: string;
  readonly kind: 'witness' | 'crystal';
  readonly offsetMm: number;
  readonly heightMm: number;
}

/** The chamber from the side, lengths in mm, heights from the sources' level. */
export interface SideScene {
  readonly widthMm: number;
  /** From the floor to the ceiling. */
  readonly heightMm: number;
  /** How far the sources' level lies above the floor. */
  readonly floorMm?: number;
  readonly sources: readonly SideSource[];
  readonly surface: SideSurface;
  readonly masks?: readonly SideMask[];
  readonly fixed?: readonly SideFixed[];
}

/** A point of the picture: mm to the right of the axis and up from the sources' level. */
export type SidePoint = readonly [rightMm: number, upMm: number];

/** Outline of a source's emission lobe, r = reach · cos^n φ, from the source itself and back to it. */
export function lobe(source: SideSource, reachMm: number): SidePoint[] {
  const count = 48;
  return Array.from({ length: count + 1 }, (_, i) => {
    const angle = -Math.PI / 2 + (Math.PI * i) / count;
    const radius = reachMm * Math.max(Math.cos(angle), 0) ** source.exponent;
    return [
      source.offsetMm + radius * Math.sin(angle),
      (source.heightMm ?? 0) + radius * Math.cos(angle),
    ] as const;
  });
}

/** The ends of a planet's rack, inner end first, for the planet on the given side (1 right, −1 left). */
export function rackEnds(
  surface: Extract<SideSurface, { kind: 'planetary' }>,
  side: 1 | -1,
): readonly [SidePoint, SidePoint] {
  const tilt = (surface.tiltDeg * Math.PI) / 180;
  const half = surface.rackDiameterMm / 2;
  // Tilting the face towards the axis raises the inner end: the normal (downwards) leans inwards.
  const along = half * Math.cos(tilt);
  const rise = half * Math.sin(tilt);
  const { carrierRadiusMm: radius, heightMm: height } = surface;
  return [
    [side * (radius - along), height + rise],
    [side * (radius + along), height - rise],
  ];
}

/** Points along the inside of a dome, from its left edge to its right one. */
export function domeArc(surface: Extract<SideSurface, { kind: 'dome' }>): SidePoint[] {
  const { radiusMm, centreHeightMm, diameterMm } = surface;
  const edge = Math.asin(Math.min(1, diameterMm / 2 / radiusMm));
  const count = 40;
  return Array.from({ length: count + 1 }, (_, i) => {
    const angle = -edge + (2 * edge * i) / count;
    return [radiusMm * Math.sin(angle), centreHeightMm + radiusMm * Math.cos(angle)] as const;
  });
}
