import { afterEach, describe, expect, it } from 'vitest';
import { page } from 'vitest/browser';
import { drawn, expectAccessible } from './support/stage.ts';

interface Exhibit {
  readonly tag: string;
  readonly says: string;
  readonly code: string;
  readonly listens: readonly string[];
}

const exhibits = Object.values(
  import.meta.glob<Exhibit>('../../demo/elements/*.ts', { eager: true, import: 'default' }),
);

afterEach(async () => {
  await page.viewport(414, 896);
});

async function shown(exhibit: Exhibit): Promise<HTMLElement> {
  const element = document.createElement(exhibit.tag);
  document.body.append(element);
  new Function('element', exhibit.code)(element);
  await drawn(element);
  return element;
}

describe('the gallery', () => {
  it('shows every element that is registered', () => {
    const registered = Object.keys(import.meta.glob('../../src/elements/*/cw-*.ts'))
      .map((path) => path.match(/(cw-[\w-]+)\.ts$/)?.[1])
      .filter((tag) => tag !== 'cw-line-chart'); // the core of the two charts that are shown
    expect(exhibits.map((exhibit) => exhibit.tag).sort()).toEqual(registered.sort());
  });

  it.each(exhibits)(
    'runs the code it shows for $tag, which fits 390 px and is accessible',
    async (exhibit) => {
      await page.viewport(390, 800);
      const element = await shown(exhibit);
      expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(390);
      expect(element.getBoundingClientRect().height).toBeGreaterThan(0);
      await expectAccessible(element, ['dark']);
    },
  );
});
