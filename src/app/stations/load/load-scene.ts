import type { Batch, BatchShield } from '../../../batch/document.ts';
import { lotWords } from '../../../batch/lot-words.ts';
import type { PlaceVerdict } from '../../../batch/plan/places-plan.ts';
import type { LoadPlan, MaterialSpread } from '../../../batch/plan/plan-types.ts';
import type { FilledRack } from '../../../chamber/fill-load.ts';
import type { Motion } from '../../../chamber/motion.ts';
import { shieldOutline } from '../../../chamber/shield-drawing.ts';
import type { LoadMove } from '../../../elements/load-picture/load-events.ts';
import type {
  LoadFixed,
  LoadPart,
  LoadRack,
  LoadScene,
  LoadShield,
} from '../../../elements/load-picture/load-scene.ts';
import type { BatchChange } from '../../bench.ts';
import { changeName } from '../../fields/change-name.ts';

/** What colours the places: thickness of one material in percent of the aim, and the verdict where it is known. */
export interface PlaceColours {
  readonly spread?: MaterialSpread;
  readonly verdicts?: readonly PlaceVerdict[];
  /** The same of every further lot, in the order of the load's. */
  readonly otherVerdicts?: readonly (readonly PlaceVerdict[])[];
}

/** The whole load in the chamber as the picture draws it. @param racks what they hold; left out: all full of the own lot. */
export function chamberScene(
  batch: Batch,
  load: LoadPlan,
  colours: PlaceColours = {},
  racks: readonly FilledRack[] = [],
): LoadScene {
  const { chamber } = batch;
  const sources = chamber.sources.map(({ id, offsetMm, azimuthDeg }): LoadFixed => {
    const angle = (azimuthDeg * Math.PI) / 180;
    return {
      id,
      label: id,
      kind: 'source',
      xMm: offsetMm * Math.cos(angle),
      yMm: offsetMm * Math.sin(angle),
      diameterMm: 60,
    };
  });
  return {
    chamberDiameterMm: chamber.diameterMm,
    ...pathOf(load.motion),
    racks: load.racksAt.map(({ xMm, yMm }, index) =>
      rackOf(batch, load, colours, index, xMm, yMm, racks[index]),
    ),
    fixed: sources,
    shields: (chamber.shields ?? []).map(shieldOf),
  };
}

/** Where the racks' centres go round; a rack at rest goes nowhere. */
function pathOf(motion: Motion): Pick<LoadScene, 'carrierRadiusMm'> {
  if (motion.kind === 'fixed') return {};
  return { carrierRadiusMm: motion.kind === 'planetary' ? motion.carrierRadiusMm : 0 };
}

/** How often a rack turns about its own axis while the carrier goes round once, for the picture. */
export function turnsOf(motion: Motion): number {
  if (motion.kind !== 'planetary') return 0;
  return motion.gearRatio ?? SHOWN_FREE_RATIO;
}

/** Planets without gears never stand the same way twice: the golden ratio shows that best. */
const SHOWN_FREE_RATIO = (1 + Math.sqrt(5)) / 2;

/** A shield as it lies with its middle line along x. */
function shieldOf(shield: BatchShield): LoadShield {
  const { id, azimuthDeg } = shield;
  return { id, label: `shield ${id}`, azimuthDeg, outline: shieldOutline({ ...shield, azimuthDeg: 0 }) };
}

/** The edit of the batch that a move in the picture stands for. */
export function loadMoveChange(move: LoadMove): BatchChange {
  if (move.what === 'shield')
    return {
      key: `turned ${move.id}`,
      name: (before) => {
        const shield = before.chamber.shields?.find(({ id }) => id === move.id);
        return changeName(`Direction of shield ${move.id}`, shield?.azimuthDeg, move.azimuthDeg, '°');
      },
      recipe: (draft) => {
        const shield = draft.chamber.shields?.find(({ id }) => id === move.id);
        if (shield !== undefined) shield.azimuthDeg = move.azimuthDeg;
      },
    };
  const offsetMm = Number(Math.hypot(move.xMm, move.yMm).toFixed(1));
  const azimuthDeg = Number(((Math.atan2(move.yMm, move.xMm) * 180) / Math.PI).toFixed(1)) + 0;
  return {
    key: `moved ${move.id}`,
    name: `${move.id} to ${offsetMm} mm from the axis, at ${azimuthDeg}°`,
    recipe: (draft) => {
      const source = draft.chamber.sources.find(({ id }) => id === move.id);
      if (source !== undefined) Object.assign(source, { offsetMm, azimuthDeg });
    },
  };
}

/** One rack by itself, large. */
export function rackScene(batch: Batch, load: LoadPlan, colours: PlaceColours = {}): LoadScene {
  return { racks: [rackOf(batch, load, colours, 0, 0, 0)] };
}

/** One rack with what it holds: lenses first, in the order of the places, dummies on the rest. */
function rackOf(
  batch: Batch,
  load: LoadPlan,
  colours: PlaceColours,
  index: number,
  xMm: number,
  yMm: number,
  held?: FilledRack,
): LoadRack {
  const other = load.otherLots.findIndex(({ lot }) => lot === held?.lot);
  const lot = load.otherLots[other];
  const { spread } = colours;
  const verdicts = lot === undefined ? colours.verdicts : colours.otherVerdicts?.[other];
  const film = lot === undefined ? spread?.atPlaces : spread?.atOtherPlaces[other];
  const holderMm = lot?.holderDiameterMm ?? load.holderDiameterMm;
  const lensMm = lot?.diameterMm ?? load.lensDiameterMm;
  let lenses = held?.lenses ?? Number.POSITIVE_INFINITY;
  return {
    id: `rack-${index + 1}`,
    label: lot === undefined ? `rack ${index + 1}` : `rack ${index + 1}, ${lotWords(lot.lot)}`,
    xMm,
    yMm,
    diameterMm: load.rackDiameterMm,
    rimMm: batch.fixture.rimMm,
    parts: (lot ?? load).places.map((place, number): LoadPart => {
      const isWitness = place.use === 'witness' && lenses > 0;
      const isLens = place.use === 'lens' && lenses-- > 0;
      const verdict = isLens ? verdicts?.[number] : undefined;
      const what = isWitness ? 'witness' : isLens ? 'lens' : 'dummy';
      return {
        id: `${index + 1}-${number + 1}`,
        label: `${what} at place ${number + 1}${missedWhere(verdict)}`,
        xMm: place.xMm,
        yMm: place.yMm,
        diameterMm: isLens ? lensMm : holderMm,
        role: isWitness ? 'witness' : isLens ? 'part' : 'dummy',
        ...(film === undefined ? {} : { value: 100 * film[number]! }),
        ...(verdict === undefined ? {} : { verdict: verdictOf(verdict) }),
      };
    }),
    keepOuts: batch.fixture.keepOut,
  };
}

/** A lens is good where centre and edge are. */
function verdictOf({ centre, edge }: PlaceVerdict): 'met' | 'missed' {
  return centre && edge ? 'met' : 'missed';
}

/** Where on the lens the requirement is missed, for those who read the place out. */
function missedWhere(verdict: PlaceVerdict | undefined): string {
  if (verdict === undefined || (verdict.centre && verdict.edge)) return '';
  if (verdict.centre) return ', missed at the edge alone';
  return verdict.edge ? ', missed at the centre alone' : ', missed at centre and edge';
}
