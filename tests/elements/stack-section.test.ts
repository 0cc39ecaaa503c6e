import { beforeEach, describe, expect, it } from 'vitest';
import '../../src/elements/stack-section/cw-stack-section.ts';
import {
  filmShade,
  LABEL_PX,
  rulerStepNm,
  sectionLayout,
} from '../../src/elements/stack-section/section-layout.ts';
import type { StackSectionElement } from '../../src/elements/stack-section/stack-section-element.ts';
import { spread } from '../../src/elements/support/spread.ts';
import { drawn, expectAccessible, press, stage } from './support/stage.ts';

const layers = [
  { material: 'Al₂O₃', thicknessNm: 78.4, index: 1.63, sensitivity: 0.4 },
  { material: 'Ta₂O₅', thicknessNm: 118.2, index: 2.1, sensitivity: 1 },
  { material: 'SiO₂', thicknessNm: 3.1, index: 1.46, locked: true, sensitivity: 0.1 },
  { material: 'MgF₂', thicknessNm: 93.6, index: 1.38, sensitivity: 0.8 },
];

let section: StackSectionElement;
let heard: string[];
const grips = () => [...section.shadowRoot!.querySelectorAll<HTMLElement>('.grip')];
const reaches = () => [...section.shadowRoot!.querySelectorAll<SVGElement>('.reach')];

beforeEach(async () => {
  section = await stage('cw-stack-section', { layers, substrate: '517642' });
  await drawn(section);
  heard = [];
  section.addEventListener('cw-layer-thickness-input', (event) =>
    heard.push(`input ${event.layer} ${event.thicknessNm}`),
  );
  section.addEventListener('cw-layer-thickness-change', (event) =>
    heard.push(`change ${event.layer} ${event.thicknessNm}`),
  );
  section.addEventListener('cw-layer-select', (event) => heard.push(`select ${event.layer}`));
});

function pointer(target: Element, type: string, clientY: number): void {
  target.dispatchEvent(new PointerEvent(type, { clientY, pointerId: 7, button: 0, bubbles: true }));
}

describe('labels', () => {
  it('stay where they are wanted while there is room', () => {
    expect(spread([10, 50, 90], 20, 0, 200)).toEqual([10, 50, 90]);
  });

  it('move apart about their common middle where they collide', () => {
    expect(spread([50, 50, 50], 20, 0, 200)).toEqual([30, 50, 70]);
  });

  it('stay within the picture', () => {
    expect(spread([0, 0, 199], 20, 10, 190)).toEqual([10, 30, 190]);
  });
});

describe('the layout of a cross-section', () => {
  const layout = sectionLayout(layers, 340);

  it('is to scale, from the glass up, without gaps', () => {
    expect(layout.layers[0]!.bottomPx).toBe(layout.surfacePx);
    layout.layers.forEach((place, i) => {
      expect((place.bottomPx - place.topPx) / layers[i]!.thicknessNm).toBeCloseTo(layout.pxPerNm, 9);
      if (i > 0) expect(place.bottomPx).toBe(layout.layers[i - 1]!.topPx);
    });
  });

  it('keeps labels a finger apart and grows for many layers', () => {
    const many = sectionLayout(
      Array.from({ length: 40 }, () => ({ thicknessNm: 60 })),
      340,
    );
    expect(many.heightPx).toBeGreaterThan(40 * LABEL_PX);
    const labels = many.layers.map((place) => place.labelPx);
    for (let i = 1; i < labels.length; i += 1)
      expect(labels[i - 1]! - labels[i]!).toBeGreaterThan(LABEL_PX - 1e-6);
    expect(Math.min(...labels)).toBeGreaterThan(0);
    expect(Math.max(...labels)).toBeLessThan(many.heightPx);
  });

  it('has finite places without layers and with layers of no thickness', () => {
    expect(sectionLayout([], 340).pxPerNm).toBe(0);
    const none = sectionLayout([{ thicknessNm: 0 }], 340);
    expect(Object.values(none.layers[0]!).every(Number.isFinite)).toBe(true);
  });

  it('has round ruler steps and shades that follow the index', () => {
    expect([293, 60, 1200, 5000].map(rulerStepNm)).toEqual([50, 10, 200, 1000]);
    expect(filmShade(1.38)).toBeLessThan(filmShade(2.1));
    expect(filmShade(4)).toBe(1);
  });
});

describe('cw-stack-section', () => {
  it('is accessible in every theme', async () => {
    await expectAccessible(section);
  });

  it('names each boundary with its layer, thickness, sensitivity and lock', () => {
    expect(grips().map((grip) => grip.getAttribute('aria-valuetext'))).toEqual([
      '78.4 nm, sensitivity 40 %',
      '118.2 nm, sensitivity 100 %',
      '3.1 nm, sensitivity 10 %, locked',
      '93.6 nm, sensitivity 80 %',
    ]);
    expect(grips()[3]!.getAttribute('aria-label')).toBe('Layer 4 of 4, MgF₂, thickness');
  });

  it('follows a dragged boundary at the scale in which the drag began', async () => {
    const { pxPerNm } = sectionLayout(layers, 340);
    const reach = reaches()[1]!;
    pointer(reach, 'pointerdown', 100);
    pointer(reach, 'pointermove', 100 - 10 * pxPerNm);
    await drawn(section);
    pointer(reach, 'pointermove', 100 - 20 * pxPerNm);
    pointer(reach, 'pointerup', 100 - 20 * pxPerNm);
    expect(heard).toEqual(['select 1', 'input 1 128.2', 'input 1 138.2', 'change 1 138.2']);
    expect(section.layers[1]!.thicknessNm).toBe(138.2);
    expect(layers[1]!.thicknessNm).toBe(118.2);
  });

  it('never drags a layer thinner than allowed', async () => {
    section.minNm = 5;
    pointer(grips()[0]!, 'pointerdown', 100);
    pointer(grips()[0]!, 'pointermove', 900);
    pointer(grips()[0]!, 'pointerup', 900);
    expect(heard.at(-1)).toBe('change 0 5');
  });

  it('takes a drag back on Escape', () => {
    const grip = grips()[0]!;
    pointer(grip, 'pointerdown', 100);
    pointer(grip, 'pointermove', 60);
    press(grip, 'Escape');
    pointer(grip, 'pointerup', 60);
    expect(heard.at(-1)).toBe('input 0 78.4');
    expect(section.layers[0]!.thicknessNm).toBe(78.4);
  });

  it('takes a drag back on Escape wherever the focus is', () => {
    pointer(reaches()[1]!, 'pointerdown', 100);
    pointer(reaches()[1]!, 'pointermove', 60);
    document.body.dispatchEvent(new KeyboardEvent('keydown', { key: 'Escape', bubbles: true }));
    pointer(reaches()[1]!, 'pointerup', 60);
    expect(heard.at(-1)).toBe('input 1 118.2');
    expect(section.layers[1]!.thicknessNm).toBe(118.2);
  });

  it('keeps a finger on a boundary from scrolling the page', () => {
    const touch = new Event('touchstart', { bubbles: true, cancelable: true });
    reaches()[0]!.dispatchEvent(touch);
    expect(touch.defaultPrevented).toBe(true);
  });

  it('moves boundaries by keyboard', () => {
    press(grips()[3]!, 'ArrowUp');
    press(grips()[3]!, 'ArrowDown', { shiftKey: true });
    press(grips()[3]!, 'PageUp');
    press(grips()[3]!, 'Home');
    expect(heard).toEqual(['change 3 94.6', 'change 3 94.5', 'change 3 104.5', 'change 3 0']);
  });

  it('leaves locked layers alone, and all when fixed', async () => {
    press(grips()[2]!, 'ArrowUp');
    expect(reaches().length).toBe(3);
    section.fixed = true;
    await drawn(section);
    press(grips()[0]!, 'ArrowUp');
    expect(reaches().length).toBe(0);
    expect(heard).toEqual([]);
  });

  it('picks a layer on focus and on a click', async () => {
    grips()[1]!.focus();
    await drawn(section);
    expect(section.shadowRoot!.querySelectorAll('.selected').length).toBe(1);
    section
      .shadowRoot!.querySelectorAll('.film')[3]!
      .dispatchEvent(new MouseEvent('click', { bubbles: true }));
    expect(heard).toEqual(['select 1', 'select 3']);
  });

  it('draws the boundaries of before as dotted lines and stands without layers', async () => {
    section.previousNm = [80, 110, 3, 93];
    await drawn(section);
    expect(section.shadowRoot!.querySelectorAll('.before').length).toBe(4);
    section.layers = [];
    section.previousNm = [];
    await drawn(section);
    expect(section.shadowRoot!.querySelector('.bare')?.textContent).toBe('Bare surface: no layer yet.');
  });
});

describe('a graded layer', () => {
  it('is shaded from one index to the other and tells its change', async () => {
    section.layers = layers.map((layer, i) => (i === 1 ? { ...layer, indexChange: -0.07 } : layer));
    await drawn(section);
    const films = [...section.shadowRoot!.querySelectorAll<SVGRectElement>('.film')];
    expect(films[1]!.style.fill).toContain('url("#graded1")');
    expect(films[0]!.style.fill).not.toContain('url');
    const stops = [...section.shadowRoot!.querySelectorAll<SVGStopElement>('#graded1 stop')];
    const colours = stops.map((stop) => getComputedStyle(stop).stopColor);
    expect(new Set(colours).size).toBe(2);
    expect(grips()[1]!.getAttribute('aria-valuetext')).toContain('index −7 % outwards');
    expect(grips()[1]!.textContent).toContain('↘');
    await expectAccessible(section);
  });
});
