import { lowestPointMm, type Motion } from '../../chamber/motion.ts';
import type { Batch, Fixture, MotionKind } from '../document.ts';

/** How the load moves; a batch that says nothing has planets. */
export function motionKindOf({ motion = 'planetary' }: Fixture): MotionKind {
  return motion;
}

/** Racks that go round with the chamber's motion: as many as the batch says on a carrier, one for every other motion. */
export function racksOf(fixture: Fixture): number {
  return motionKindOf(fixture) === 'planetary' ? fixture.racks : 1;
}

/**
 * The motion as the chamber's kernels read it. A single rack lies level on the axis at the fixture's height; a dome has its
 * top there, and its sphere's centre on the sources' level where the batch gives no radius.
 */
export function motionOf({ fixture }: Pick<Batch, 'fixture'>): Motion {
  const { heightMm, carrierRadiusMm, tiltDeg, gearRatio, domeRadiusMm = heightMm } = fixture;
  const kind = motionKindOf(fixture);
  switch (kind) {
    case 'fixed':
    case 'rotating':
      return { kind, heightMm };
    case 'dome':
      return { kind, radiusMm: domeRadiusMm, centreHeightMm: heightMm - domeRadiusMm };
    case 'planetary':
      return { kind, carrierRadiusMm, heightMm, tiltDeg, ...(gearRatio === undefined ? {} : { gearRatio }) };
  }
}

/** How low the racks' rims come, mm above the sources' level. */
export function lowestRackMm(document: Pick<Batch, 'fixture'>): number {
  return lowestPointMm(motionOf(document), document.fixture.rackDiameterMm / 2);
}

/** Whether places at the same distance from their rack's axis get different films: at rest, and where gears bring them back. */
export function isDirected(motion: Motion): boolean {
  return motion.kind === 'fixed' || (motion.kind === 'planetary' && motion.gearRatio !== undefined);
}
