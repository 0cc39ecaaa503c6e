import type { Batch, Fixture } from '../../../batch/document.ts';
import { motionOf } from '../../../batch/plan/load-motion.ts';
import type { ChamberMove } from '../../../elements/chamber-side/chamber-move-events.ts';
import type { SideScene, SideSurface } from '../../../elements/chamber-side/side-scene.ts';
import type { BatchChange } from '../../bench.ts';
import { changeName } from '../../fields/change-name.ts';

/** The chamber from the side; a source that stands beyond the axis is drawn to the left of it. */
export function chamberSideScene({ chamber, fixture }: Batch): SideScene {
  const { crystals } = chamber;
  const floorMm = Math.max(0, Math.min(200, chamber.heightMm - fixture.heightMm - 100));
  return {
    widthMm: chamber.diameterMm,
    heightMm: Math.max(chamber.heightMm, fixture.heightMm + 100),
    floorMm,
    sources: chamber.sources.map(({ id, offsetMm, azimuthDeg, heightMm = 0, exponent }) => ({
      id,
      label: id,
      offsetMm: sideOf(azimuthDeg) * offsetMm,
      heightMm,
      exponent,
    })),
    surface: surfaceOf(fixture),
    masks: (chamber.shields ?? []).map(({ id, azimuthDeg, heightMm, outline }) => {
      const [inner, outer] = [outline[0]!.radiusMm, outline.at(-1)!.radiusMm];
      return {
        id,
        label: `shield ${id}`,
        offsetMm: (sideOf(azimuthDeg) * (inner + outer)) / 2,
        heightMm,
        lengthMm: outer - inner,
      };
    }),
    fixed: [
      {
        id: 'crystal',
        label: 'crystal',
        kind: 'crystal',
        offsetMm: crystals.offsetMm ?? 0,
        heightMm: crystals.heightMm ?? fixture.heightMm,
      },
    ],
  };
}

/** The load as it is seen from the side. */
function surfaceOf(fixture: Fixture): SideSurface {
  const motion = motionOf({ fixture });
  const { rackDiameterMm } = fixture;
  switch (motion.kind) {
    case 'planetary':
      return { ...motion, rackDiameterMm };
    case 'dome':
      return { ...motion, diameterMm: rackDiameterMm };
    default:
      return { kind: 'plane', heightMm: motion.heightMm, diameterMm: rackDiameterMm };
  }
}

function sideOf(azimuthDeg: number): 1 | -1 {
  return Math.cos((azimuthDeg * Math.PI) / 180) < -1e-9 ? -1 : 1;
}

/** The edit of the batch that a move in the side view stands for. */
export function moveChange({ what, id, value }: ChamberMove): BatchChange {
  switch (what) {
    case 'height':
      return {
        key: 'fixture.heightMm',
        name: (before) => changeName('Rack height', before.fixture.heightMm, value, 'mm'),
        recipe: (draft) => {
          draft.fixture.heightMm = value;
        },
      };
    case 'tilt':
      return {
        key: 'fixture.tiltDeg',
        name: (before) => changeName('Tilt of the racks', before.fixture.tiltDeg, value, '°'),
        recipe: (draft) => {
          draft.fixture.tiltDeg = value;
        },
      };
    case 'source':
      return {
        key: `moved ${id}`,
        name: (before) => {
          const source = before.chamber.sources.find((candidate) => candidate.id === id);
          return changeName(`${id}: distance from the axis`, source?.offsetMm, Math.abs(value), 'mm');
        },
        recipe: (draft) => {
          const source = draft.chamber.sources.find((candidate) => candidate.id === id);
          if (source === undefined) return;
          source.offsetMm = Math.abs(value);
          // Across the axis it comes out on the other side.
          if (value !== 0 && Math.sign(value) !== sideOf(source.azimuthDeg))
            source.azimuthDeg = source.azimuthDeg > 0 ? source.azimuthDeg - 180 : source.azimuthDeg + 180;
        },
      };
    case 'mask':
      return {
        key: `hung ${id}`,
        name: (before) => {
          const shield = before.chamber.shields?.find((candidate) => candidate.id === id);
          return changeName(`Height of shield ${id}`, shield?.heightMm, value, 'mm');
        },
        recipe: (draft) => {
          const shield = draft.chamber.shields?.find((candidate) => candidate.id === id);
          if (shield !== undefined) shield.heightMm = value;
        },
      };
  }
}
