import { beforeEach, describe, expect, it } from 'vitest';
import '../../src/elements/chamber-side/cw-chamber-side.ts';
import type { ChamberSideElement } from '../../src/elements/chamber-side/chamber-side-element.ts';
import { movedScene, sideHandles } from '../../src/elements/chamber-side/moved-scene.ts';
import { domeArc, lobe, rackEnds, type SideScene } from '../../src/elements/chamber-side/side-scene.ts';
import { drawn, expectAccessible, press, stage } from './support/stage.ts';

const surface = {
  kind: 'planetary',
  carrierRadiusMm: 300,
  heightMm: 600,
  tiltDeg: 30,
  rackDiameterMm: 200,
} as const;
const scene: SideScene = {
  widthMm: 1000,
  heightMm: 900,
  floorMm: 100,
  sources: [{ id: 'e', label: 'Source', offsetMm: 150, exponent: 2 }],
  surface,
  masks: [{ id: 'm', label: 'Mask', offsetMm: 250, heightMm: 400, lengthMm: 80 }],
  fixed: [{ id: 'q', label: 'Crystal', kind: 'crystal', offsetMm: 0, heightMm: 700 }],
};

describe('the side view', () => {
  it('tilts the coated face towards the axis: the inner end rises, on both sides alike', () => {
    const [inner, outer] = rackEnds(surface, 1);
    expect(inner[1] - outer[1]).toBeCloseTo(100, 9);
    expect(Math.hypot(inner[0] - outer[0], inner[1] - outer[1])).toBeCloseTo(200, 9);
    const [left] = rackEnds(surface, -1);
    expect(left[0]).toBeCloseTo(-inner[0], 9);
  });

  it('draws lobes as cos^n φ from the source', () => {
    const points = lobe(scene.sources[0]!, 400);
    const [right, up] = points[24]!;
    expect([right, up]).toEqual([150, 400]);
    const [x, y] = points[36]!; // 45°
    expect(Math.hypot(x - 150, y)).toBeCloseTo(400 * 0.5, 9);
  });

  it('draws a dome as part of its circle', () => {
    const arc = domeArc({ kind: 'dome', radiusMm: 500, centreHeightMm: 200, diameterMm: 800 });
    for (const [right, up] of arc) expect(Math.hypot(right, up - 200)).toBeCloseTo(500, 9);
    expect(arc.at(-1)![0]).toBeCloseTo(400, 9);
  });

  it('moves only what is moved', () => {
    expect(movedScene(scene, { what: 'source', id: 'e', value: 90 }).sources[0]!.offsetMm).toBe(90);
    expect(movedScene(scene, { what: 'mask', id: 'm', value: 90 }).masks![0]!.heightMm).toBe(90);
    expect(movedScene(scene, { what: 'tilt', id: '', value: 5 }).surface).toEqual({ ...surface, tiltDeg: 5 });
    const dome: SideScene = {
      ...scene,
      surface: { kind: 'dome', radiusMm: 500, centreHeightMm: 200, diameterMm: 800 },
    };
    expect(sideHandles(dome).map((handle) => handle.what)).toEqual(['source', 'mask', 'height']);
    expect(sideHandles(dome).at(-1)).toMatchObject({ at: [0, 700], value: 700 });
    const moved = movedScene(dome, { what: 'height', id: '', value: 650 });
    expect(moved.surface).toMatchObject({ kind: 'dome', radiusMm: 500, centreHeightMm: 150 });
  });
});

describe('cw-chamber-side', () => {
  let side: ChamberSideElement;
  let heard: string[];
  const handle = (what: string) => side.shadowRoot!.querySelector<HTMLElement>(`.handle.${what}`)!;
  const pointer = (target: Element, type: string, clientX: number, clientY: number) =>
    target.dispatchEvent(new PointerEvent(type, { clientX, clientY, pointerId: 3, button: 0 }));

  beforeEach(async () => {
    side = await stage('cw-chamber-side', { scene });
    heard = [];
    side.addEventListener('cw-chamber-move-input', ({ move }) =>
      heard.push(`input ${move.what} ${move.value}`),
    );
    side.addEventListener('cw-chamber-move', ({ move }) => heard.push(`move ${move.what} ${move.value}`));
  });

  it('is accessible in every theme', async () => {
    await expectAccessible(side);
  });

  it('moves a source under the pointer, to scale', async () => {
    const pxPerMm = side.shadowRoot!.querySelector('svg')!.clientWidth / 1060;
    pointer(handle('source'), 'pointerdown', 300, 300);
    pointer(handle('source'), 'pointermove', 300 + 50 * pxPerMm, 280);
    pointer(handle('source'), 'pointerup', 300 + 50 * pxPerMm, 280);
    await drawn(side);
    expect(heard).toEqual(['input source 200', 'move source 200']);
    expect(side.scene.sources[0]!.offsetMm).toBe(200);
    expect(scene.sources[0]!.offsetMm).toBe(150);
  });

  it('lowers the outer edge for more tilt and takes a drag back on Escape', () => {
    pointer(handle('tilt'), 'pointerdown', 100, 100);
    pointer(handle('tilt'), 'pointermove', 100, 110);
    expect(Number(heard[0]!.split(' ')[2])).toBeGreaterThan(30);
    press(handle('tilt'), 'Escape');
    pointer(handle('tilt'), 'pointerup', 100, 110);
    expect(heard.at(-1)).toBe('input tilt 30');
    expect(side.scene).toBe(scene);
  });

  it('moves by keyboard within its limits', async () => {
    press(handle('height'), 'ArrowUp');
    await drawn(side);
    press(handle('mask'), 'ArrowLeft', { shiftKey: true });
    await drawn(side);
    for (let i = 0; i < 30; i += 1) {
      press(handle('height'), 'PageUp');
      await side.updateComplete;
    }
    expect(heard.slice(0, 2)).toEqual(['move height 601', 'move mask 399.9']);
    expect(heard.at(-1)).toBe('move height 800');
  });

  it('lets nothing be moved when fixed', async () => {
    side.fixed = true;
    await drawn(side);
    expect(side.shadowRoot!.querySelectorAll('.handle').length).toBe(0);
  });
});
