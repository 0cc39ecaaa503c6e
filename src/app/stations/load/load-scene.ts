import type { Batch } from '../../../batch/document.ts';
import type { LoadPlan } from '../../../batch/plan/plan-types.ts';
import type { LoadFixed, LoadPart, LoadRack, LoadScene } from '../../../elements/load-picture/load-scene.ts';

/** The whole load in the chamber as the picture draws it. */
export function chamberScene(batch: Batch, load: LoadPlan): LoadScene {
  const { chamber, fixture } = batch;
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
    carrierRadiusMm: fixture.carrierRadiusMm,
    racks: load.racksAt.map(({ xMm, yMm }, index) => rackOf(batch, load, index, xMm, yMm)),
    fixed: sources,
  };
}

/** One rack by itself, large. */
export function rackScene(batch: Batch, load: LoadPlan): LoadScene {
  return { racks: [rackOf(batch, load, 0, 0, 0)] };
}

function rackOf(
  { fixture, order }: Batch,
  load: LoadPlan,
  index: number,
  xMm: number,
  yMm: number,
): LoadRack {
  return {
    id: `rack-${index + 1}`,
    label: `rack ${index + 1}`,
    xMm,
    yMm,
    diameterMm: load.rackDiameterMm,
    rimMm: fixture.rimMm,
    parts: load.places.map(
      (place, number): LoadPart => ({
        id: `${index + 1}-${number + 1}`,
        label: `${place.use === 'witness' ? 'witness' : 'lens'} at place ${number + 1}`,
        xMm: place.xMm,
        yMm: place.yMm,
        diameterMm: place.use === 'witness' ? load.holderDiameterMm : order.lens.diameterMm,
        role: place.use === 'witness' ? 'witness' : 'part',
      }),
    ),
    keepOuts: fixture.keepOut,
  };
}

/** The places of a rack as comma-separated text, for drilling or for a label printer; mm from the rack's axis. */
export function placesCsv({ places, holderDiameterMm }: LoadPlan): string {
  const rows = places.map(
    ({ xMm, yMm, use }, index) =>
      `${index + 1},${use},${xMm.toFixed(3)},${yMm.toFixed(3)},${holderDiameterMm.toFixed(3)}`,
  );
  return `${['place,use,xMm,yMm,holderDiameterMm', ...rows].join('\n')}\n`;
}
