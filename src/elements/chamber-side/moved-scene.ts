import type { ChamberMove } from './chamber-move-events.ts';
import type { SidePoint, SideScene } from './side-scene.ts';

/** One thing that can be taken hold of in the side view. */
export interface SideHandle {
  readonly what: ChamberMove['what'];
  readonly id: string;
  readonly label: string;
  readonly at: SidePoint;
  readonly value: number;
  readonly min: number;
  readonly max: number;
  readonly unit: string;
  /** Direction in which a drag raises the value: value per mm to the right and per mm up. */
  readonly perMm: SidePoint;
}

/** All handles of a scene with their limits. */
export function sideHandles(scene: SideScene): SideHandle[] {
  const half = scene.widthMm / 2;
  const top = scene.heightMm - (scene.floorMm ?? 0);
  const across = { min: -half, max: half, unit: 'mm', perMm: [1, 0] as const };
  const handles: SideHandle[] = scene.sources.map((source) => ({
    ...across,
    what: 'source',
    id: source.id,
    label: `${source.label}, distance from the axis`,
    at: [source.offsetMm, source.heightMm ?? 0],
    value: source.offsetMm,
  }));
  for (const mask of scene.masks ?? [])
    handles.push({
      what: 'mask',
      id: mask.id,
      label: `${mask.label}, height above the sources`,
      at: [mask.offsetMm, mask.heightMm],
      value: mask.heightMm,
      min: 1,
      max: top,
      unit: 'mm',
      perMm: [0, 1],
    });
  const { surface } = scene;
  const planetary = surface.kind === 'planetary';
  const heightMm = surface.kind === 'dome' ? surface.centreHeightMm + surface.radiusMm : surface.heightMm;
  handles.push({
    what: 'height',
    id: '',
    label:
      surface.kind === 'dome'
        ? 'Height of the dome above the sources'
        : 'Height of the load above the sources',
    at: [planetary ? surface.carrierRadiusMm : 0, heightMm],
    value: heightMm,
    min: 1,
    max: top,
    unit: 'mm',
    perMm: [0, 1],
  });
  if (planetary)
    handles.push({
      what: 'tilt',
      id: '',
      label: 'Tilt of the racks towards the axis',
      at: tiltHandleAt(surface.carrierRadiusMm, surface.heightMm, surface.rackDiameterMm, surface.tiltDeg),
      value: surface.tiltDeg,
      min: -80,
      max: 80,
      unit: '°',
      perMm: [0, -360 / (Math.PI * surface.rackDiameterMm)],
    });
  return handles;
}

function tiltHandleAt(radiusMm: number, heightMm: number, diameterMm: number, tiltDeg: number): SidePoint {
  const tilt = (tiltDeg * Math.PI) / 180;
  return [radiusMm + (diameterMm / 2) * Math.cos(tilt), heightMm - (diameterMm / 2) * Math.sin(tilt)];
}

/** The scene after a move. */
export function movedScene(scene: SideScene, { what, id, value }: ChamberMove): SideScene {
  const { surface } = scene;
  switch (what) {
    case 'source':
      return {
        ...scene,
        sources: scene.sources.map((item) => (item.id === id ? { ...item, offsetMm: value } : item)),
      };
    case 'mask':
      return {
        ...scene,
        masks: (scene.masks ?? []).map((item) => (item.id === id ? { ...item, heightMm: value } : item)),
      };
    case 'height':
      return {
        ...scene,
        surface:
          surface.kind === 'dome'
            ? { ...surface, centreHeightMm: value - surface.radiusMm }
            : { ...surface, heightMm: value },
      };
    case 'tilt':
      return surface.kind === 'planetary' ? { ...scene, surface: { ...surface, tiltDeg: value } } : scene;
  }
}
