import { readFileSync, writeFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { type AppUnderTest, startApp } from '../support/app-under-test.ts';
import { drawIcon, ICON_FOLDER, ICONS } from '../support/draw-icons.ts';

let app: AppUnderTest;
beforeAll(async () => {
  app = await startApp();
});

/** `DRAW_ICONS=1 npx vitest run --project journeys tests/journeys/icons.test.ts` draws the kept ones anew. */
describe('the icons', () => {
  it.each(ICONS)('$name is what icon.svg draws', async (icon) => {
    const page = await app.browser.newPage();
    const drawn = await drawIcon(app.browser, icon);
    if (process.env.DRAW_ICONS !== undefined) writeFileSync(ICON_FOLDER + icon.name, drawn);
    const kept = readFileSync(ICON_FOLDER + icon.name);
    const difference = await page.evaluate(
      async ([one, two]) => {
        const pixels = async (base64: string) => {
          const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
          const image = await createImageBitmap(new Blob([bytes], { type: 'image/png' }));
          const pen = new OffscreenCanvas(image.width, image.height).getContext('2d')!;
          pen.drawImage(image, 0, 0);
          return { width: image.width, data: pen.getImageData(0, 0, image.width, image.height).data };
        };
        const [first, second] = [await pixels(one!), await pixels(two!)];
        if (first.width !== second.width) return Number.POSITIVE_INFINITY;
        return (
          first.data.reduce((sum, value, place) => sum + Math.abs(value - second.data[place]!), 0) /
          first.data.length
        );
      },
      [drawn.toString('base64'), kept.toString('base64')],
    );
    await page.close();
    // Rasterizers may smooth edges differently; a mean of one step of 255 is far less than any change of the drawing.
    expect(difference).toBeLessThan(1);
    expect(kept.readUInt32BE(16)).toBe(icon.size); // width, in PNG's IHDR (W3C PNG, 11.2.1)
  });
});
