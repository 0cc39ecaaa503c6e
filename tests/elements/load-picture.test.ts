import { beforeEach, describe, expect, it } from 'vitest';
import '../../src/elements/load-picture/cw-load-picture.ts';
import type { LoadPictureElement } from '../../src/elements/load-picture/load-picture-element.ts';
import {
  type LoadScene,
  neighbour,
  placedParts,
  scaleColour,
  scaleShare,
  sceneReachMm,
} from '../../src/elements/load-picture/load-scene.ts';
import { drawn, expectAccessible, press, stage, within } from './support/stage.ts';

const part = (id: string, xMm: number, yMm: number) => ({
  id,
  label: `place ${id}`,
  xMm,
  yMm,
  diameterMm: 20,
});
const scene: LoadScene = {
  chamberDiameterMm: 600,
  carrierRadiusMm: 150,
  racks: [
    {
      id: 'a',
      label: 'Rack 1',
      xMm: 150,
      yMm: 0,
      diameterMm: 120,
      rimMm: 5,
      parts: [
        { ...part('1', 0, 0), value: 100, verdict: 'met' },
        { ...part('2', 30, 0), value: 97, verdict: 'missed' },
        { ...part('3', 0, 30), role: 'witness' },
      ],
      keepOuts: [{ xMm: -30, yMm: 0, diameterMm: 15 }],
    },
    {
      id: 'b',
      label: 'Rack 2',
      xMm: -150,
      yMm: 0,
      diameterMm: 120,
      parts: [{ id: '4', label: 'place 4', xMm: 0, yMm: 0, widthMm: 30, heightMm: 20, angleDeg: 90 }],
    },
  ],
  fixed: [
    { id: 's', label: 'Source', kind: 'source', xMm: 100, yMm: -100, diameterMm: 40 },
    { id: 'q', label: 'Crystal', kind: 'crystal', xMm: 0, yMm: 0, diameterMm: 15 },
  ],
};

describe('a load scene', () => {
  it('places parts in the chamber and fits its square round them', () => {
    expect(placedParts(scene).map(({ xMm, yMm }) => [xMm, yMm])).toEqual([
      [150, 0],
      [180, 0],
      [150, 30],
      [-150, 0],
    ]);
    expect(sceneReachMm(scene)).toBe(300);
    expect(sceneReachMm({ racks: scene.racks })).toBe(210);
    expect(sceneReachMm({ racks: [] })).toBe(1);
  });

  it('finds the nearest place in a direction, or stays', () => {
    const parts = placedParts(scene);
    expect(neighbour(parts, 0, 1, 0)).toBe(1);
    expect(neighbour(parts, 0, 0, 1)).toBe(2);
    expect(neighbour(parts, 0, -1, 0)).toBe(3);
    expect(neighbour(parts, 0, 0, -1)).toBe(0);
    expect(neighbour([], -1, 1, 0)).toBe(-1);
  });

  it('colours values from too little to too much about the wanted one', () => {
    const scale = { label: 'Thickness', unit: '%', middle: 100, reach: 2 };
    expect([97, 99, 100, 101, 105].map((value) => scaleShare(value, scale))).toEqual([-1, -0.5, 0, 0.5, 1]);
    expect(scaleShare(3, { ...scale, reach: 0 })).toBe(0);
    expect(scaleColour(99, scale)).toBe('color-mix(in oklab, var(--cw-ramp-low) 50%, var(--cw-ramp-mid))');
  });
});

describe('cw-load-picture', () => {
  let picture: LoadPictureElement;
  const svg = () => within<SVGElement>(picture, 'svg');
  const readout = () => within(picture, '.readout').textContent;

  beforeEach(async () => {
    picture = await stage('cw-load-picture', { scene });
  });

  it('is accessible in every theme, by verdict and by value', async () => {
    await expectAccessible(picture);
    picture.scale = { label: 'Thickness', unit: '% of the aim', middle: 100, reach: 3 };
    await expectAccessible(picture);
  });

  it('draws every part, rack, keep-out and fixed thing to one scale, y upwards', () => {
    const all = (selector: string) => picture.shadowRoot!.querySelectorAll(selector).length;
    expect([all('.part'), all('.rack'), all('circle.keep-out'), all('.fixed')]).toEqual([4, 2, 1, 2]);
    const box = (selector: string) => within<SVGElement>(picture, selector).getBoundingClientRect();
    expect(box('.rack').width / box('.chamber').width).toBeCloseTo(120 / 600, 2);
    expect(box('#part-2').top).toBeLessThan(box('#part-0').top);
    expect(box('#part-3').height).toBeGreaterThan(box('#part-3').width);
  });

  it('counts parts, and reads a place out by pointer and by keyboard', async () => {
    expect(readout()).toBe('3 parts on 2 racks');
    within<SVGElement>(picture, '#part-1').dispatchEvent(new PointerEvent('pointerenter'));
    await drawn(picture);
    expect(readout()).toBe("Rack 1, place 2, missed; x 30.0 mm, y 0.0 mm, 30.0 mm from the rack's centre");
    press(svg(), 'Escape');
    press(svg(), 'ArrowDown');
    press(svg(), 'ArrowUp');
    await drawn(picture);
    expect(readout()).toContain('place 3 (witness)');
    expect(svg().getAttribute('aria-activedescendant')).toBe('part-2');
  });

  it('fires when a place is picked', async () => {
    const heard: string[] = [];
    picture.addEventListener('cw-part-select', (event) => heard.push(`${event.rackId} ${event.partId}`));
    within<SVGElement>(picture, '#part-1').dispatchEvent(new MouseEvent('click', { bubbles: true }));
    press(svg(), 'ArrowLeft');
    press(svg(), 'Enter');
    await drawn(picture);
    expect(heard).toEqual(['a 2', 'a 1']);
    expect(within(picture, '#part-0').getAttribute('aria-selected')).toBe('true');
  });

  it('says by sign which places miss, whatever colours them', async () => {
    expect(picture.shadowRoot!.querySelectorAll('.cross').length).toBe(1);
    expect(within(picture, '.verdicts').textContent).toMatch(/✓ 1 met\s*✕ 1 missed/);
    picture.scale = { label: 'Thickness', unit: '%', middle: 100, reach: 3 };
    await drawn(picture);
    expect(within<SVGElement>(picture, '#part-1').style.fill).toContain('color-mix');
    expect(within(picture, '.legend').textContent).toMatch(/97\s*100\s*103/);
  });

  it('turns carrier and planets at the gears’ ratio', async () => {
    picture.gearRatio = 4;
    picture.turning = true;
    await drawn(picture);
    const carrier = getComputedStyle(within<SVGElement>(picture, '.carrier'));
    const planet = getComputedStyle(within<SVGElement>(picture, '.planet'));
    expect([carrier.animationDuration, planet.animationDuration]).toEqual(['24s', '6s']);
    const motion = matchMedia('(prefers-reduced-motion: reduce)').matches ? 'none' : 'turn';
    expect([carrier.animationName, planet.animationName]).toEqual([motion, motion]);
  });

  it('shows one rack alone and an empty load', async () => {
    picture.scene = { racks: [{ ...scene.racks[0]!, xMm: 0, yMm: 0 }] };
    await drawn(picture);
    expect(picture.shadowRoot!.querySelector('.chamber')).toBeNull();
    picture.scene = { racks: [] };
    await drawn(picture);
    expect(readout()).toBe('0 parts on 0 racks');
    press(svg(), 'ArrowDown');
    press(svg(), 'Enter');
  });

  it('lets sources and shields be dragged where they are movable, and only there', async () => {
    const heard: unknown[] = [];
    picture.addEventListener('cw-load-move', (event) => heard.push(event.move));
    picture.scene = {
      ...scene,
      shields: [
        {
          id: 'sheet',
          label: 'Shield',
          azimuthDeg: 90,
          outline: [
            { xMm: 60, yMm: 20 },
            { xMm: 140, yMm: 20 },
            { xMm: 140, yMm: -20 },
            { xMm: 60, yMm: -20 },
          ],
        },
      ],
    };
    await drawn(picture);
    expect(picture.shadowRoot!.querySelectorAll('.grip').length).toBe(0);
    picture.movable = true;
    await drawn(picture);
    const svg = picture.shadowRoot!.querySelector('svg')!;
    const box = svg.getBoundingClientRect();
    const mmPerPx = svg.viewBox.baseVal.width / box.width;
    const at = (type: string, xMm: number, yMm: number) =>
      new PointerEvent(type, {
        clientX: box.left + box.width / 2 + xMm / mmPerPx,
        clientY: box.top + box.height / 2 - yMm / mmPerPx,
        pointerId: 5,
        button: 0,
      });
    const drag = (index: number, from: [number, number], to: [number, number]) => {
      const grip = () => picture.shadowRoot!.querySelectorAll('.grip')[index]!;
      grip().dispatchEvent(at('pointerdown', ...from));
      grip().dispatchEvent(at('pointermove', ...to));
      grip().dispatchEvent(at('pointerup', ...to));
    };
    drag(0, [0, 100], [100, 0]);
    await drawn(picture);
    drag(1, [100, -100], [40, -20]);
    expect(heard).toEqual([
      { what: 'shield', id: 'sheet', azimuthDeg: 0 },
      { what: 'source', id: 's', xMm: 40, yMm: -20 },
    ]);
  });
});
