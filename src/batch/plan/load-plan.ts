import { atPath, InputError } from '../../base/errors.ts';
import { remember } from '../../base/remember.ts';
import { planetsOnCarrier } from '../../chamber/fixture-capacity.ts';
import { nestCircles } from '../../chamber/nest.ts';
import { type OneRackRequest, requireOneRackFits } from '../../chamber/one-rack.ts';
import type { Place as NestedPlace } from '../../chamber/place.ts';
import type { Batch, OtherLot } from '../document.ts';
import { planHolder } from './holder-plan.ts';
import { lowestRackMm, motionOf, racksOf } from './load-motion.ts';
import type { LoadPlan, OtherLotPlan, Place } from './plan-types.ts';
import { within } from './within.ts';

/** Most edits leave the rack alone, and nesting is the slowest part of the plan. */
const nest = remember(nestCircles);

/** Room that moving racks keep from each other and from the wall (common practice, no source). */
const LEAST_GAP_MM = 5;

/** Room that a planet keeps from a source and its shutter (common practice, no source). */
const SOURCE_CLEARANCE_MM = 50;

/**
 * How the lenses stand: one rack's places, the racks on the carrier, lenses a load. Witness pieces take the
 * places nearest to the rack's axis, where the film is closest to the rack's mean.
 * @throws InputError where a lens in its holder is larger than the rack leaves room for.
 */
export function planLoad(document: Batch): LoadPlan {
  const { order, fixture } = document;
  const holder = planHolder(document);
  const holderDiameterMm = holder.outerMm;
  const room = fixture.rackDiameterMm - 2 * fixture.rimMm;
  if (holderDiameterMm > room)
    throw new InputError(
      'fixture.rackDiameterMm',
      `a lens of ${order.lens.diameterMm} mm in its holder of ${holderDiameterMm} mm does not go into the ${room} mm that the rack leaves inside its rim`,
    );
  const nested = within('fixture', () => nest(nestRequest(fixture, holderDiameterMm)));
  const motion = motionOf(document);
  const racksThatFit =
    motion.kind === 'planetary' ? planetsThatFit(document) : oneRackThatFits(document, motion);
  requireShieldsClear(document);
  const places = assignPlaces(nested.positions, fixture.witnessesPerRack);
  const lensesPerRack = places.filter(({ use }) => use === 'lens').length;
  const racks = racksOf(fixture);
  return {
    motion,
    rackDiameterMm: fixture.rackDiameterMm,
    lensDiameterMm: order.lens.diameterMm,
    holderDiameterMm,
    holder,
    pattern: nested.pattern,
    places,
    lensesPerRack,
    racks,
    lensesPerLoad: lensesPerRack * racks,
    witnessesPerLoad: (places.length - lensesPerRack) * racks,
    usedPercent: nested.usedPercent,
    racksThatFit,
    otherLots: (fixture.otherLots ?? []).map((other, index) => planOtherLot(fixture, other, index)),
    racksAt: Array.from({ length: racks }, (_, index) => {
      const angle = (2 * Math.PI * index) / racks;
      const radius = motion.kind === 'planetary' ? motion.carrierRadiusMm : 0;
      return { xMm: radius * Math.cos(angle), yMm: radius * Math.sin(angle) };
    }),
  };
}

/** A further lot's rack: the same rack, ring width, web and witnesses, its own diameter. */
function planOtherLot(
  fixture: Batch['fixture'],
  { lot, quantity, diameterMm }: OtherLot,
  index: number,
): OtherLotPlan {
  const path = `fixture.otherLots[${index}].diameterMm`;
  const holderDiameterMm = diameterMm + 2 * fixture.holderRingMm;
  const room = fixture.rackDiameterMm - 2 * fixture.rimMm;
  if (holderDiameterMm > room)
    throw new InputError(
      path,
      `a lens of ${diameterMm} mm in its holder of ${holderDiameterMm} mm does not go into the ${room} mm that the rack leaves inside its rim`,
    );
  const { positions, pattern } = within('fixture', () => nest(nestRequest(fixture, holderDiameterMm)));
  const places = assignPlaces(positions, fixture.witnessesPerRack);
  const lensesPerRack = places.filter(({ use }) => use === 'lens').length;
  if (lensesPerRack === 0)
    throw new InputError(
      path,
      `a rack holds ${places.length} lenses of ${diameterMm} mm, and the ${fixture.witnessesPerRack} witness pieces take all of these places`,
    );
  return { lot, quantity, diameterMm, holderDiameterMm, pattern, places, lensesPerRack };
}

function nestRequest(fixture: Batch['fixture'], partDiameterMm: number) {
  const { rackDiameterMm, rimMm, webMm, pattern, keepOut } = fixture;
  return { rackDiameterMm, rimMm, partDiameterMm, webMm, pattern, keepOut };
}

/** The carrier with its racks, `heightMm` above what is asked about. */
function carrierAt(
  chamber: Batch['chamber'],
  fixture: Batch['fixture'],
  heightMm: number,
): Parameters<typeof planetsOnCarrier>[0] {
  return {
    chamberDiameterMm: chamber.diameterMm,
    rackDiameterMm: fixture.rackDiameterMm,
    planetGapMm: LEAST_GAP_MM,
    wallGapMm: LEAST_GAP_MM,
    tiltDeg: fixture.tiltDeg,
    heightMm,
    carrierRadiusMm: fixture.carrierRadiusMm,
  };
}

/** The widest single rack that the chamber takes. */
export function widestRackMm({ chamber }: Pick<Batch, 'chamber'>): number {
  return chamber.diameterMm - 2 * LEAST_GAP_MM;
}

/** How many planets the carrier takes, clear of wall and sources. */
function planetsThatFit({ chamber, fixture }: Batch): number {
  const { planets } = within('fixture', () =>
    planetsOnCarrier(carrierAt(chamber, fixture, fixture.heightMm)),
  );
  requireSourcesClear(chamber, fixture);
  return planets;
}

/** The one rack on the axis, clear of wall and sources. */
function oneRackThatFits({ chamber, fixture }: Batch, motion: OneRackRequest['motion']): 1 {
  try {
    requireOneRackFits({
      motion,
      rackDiameterMm: fixture.rackDiameterMm,
      chamberDiameterMm: chamber.diameterMm,
      wallGapMm: LEAST_GAP_MM,
      sources: chamber.sources.map(({ offsetMm, heightMm = 0 }) => ({
        offsetMm,
        heightMm,
        clearanceMm: SOURCE_CLEARANCE_MM,
      })),
    });
    return 1;
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    if (error.path.startsWith('sources')) throw atPath('chamber', error);
    throw new InputError(
      error.path.startsWith('motion') ? 'fixture.domeRadiusMm' : `fixture.${error.path}`,
      error.reason,
    );
  }
}

/** A source that a planet would run into is named by its own place in the batch. */
function requireSourcesClear(chamber: Batch['chamber'], fixture: Batch['fixture']): void {
  for (const [index, { offsetMm, heightMm = 0 }] of chamber.sources.entries()) {
    const path = `chamber.sources[${index}]`;
    const above = fixture.heightMm - heightMm;
    if (above <= 0)
      throw new InputError(
        `${path}.heightMm`,
        `${heightMm} mm is not below the racks' height of ${fixture.heightMm} mm`,
      );
    try {
      planetsOnCarrier({
        ...carrierAt(chamber, fixture, above),
        sources: [{ offsetMm, clearanceMm: SOURCE_CLEARANCE_MM }],
      });
    } catch (error) {
      throw error instanceof InputError ? new InputError(path, error.reason) : error;
    }
  }
}

/** A shield hangs between sources and racks. */
function requireShieldsClear(document: Batch): void {
  const { shields = [], sources } = document.chamber;
  const lowest = lowestRackMm(document);
  for (const [index, { heightMm }] of shields.entries()) {
    const path = `chamber.shields[${index}].heightMm`;
    if (heightMm >= lowest)
      throw new InputError(
        path,
        `${heightMm} mm is not below ${Number(lowest.toFixed(1))} mm, to which the racks come down`,
      );
    const highest = Math.max(...sources.map((source) => source.heightMm ?? 0));
    if (heightMm <= highest)
      throw new InputError(path, `${heightMm} mm is not above the source at ${highest} mm`);
  }
}

function assignPlaces(positions: readonly NestedPlace[], witnesses: number): Place[] {
  const byDistance = [...positions.keys()].sort((first, second) => {
    const a = positions[first]!;
    const b = positions[second]!;
    return Math.hypot(a.xMm, a.yMm) - Math.hypot(b.xMm, b.yMm) || first - second;
  });
  const taken = new Set(byDistance.slice(0, witnesses));
  return positions.map((place, index) => ({ ...place, use: taken.has(index) ? 'witness' : 'lens' }));
}
