import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Browser } from 'playwright';

/** Where the app's icons lie. */
export const ICON_FOLDER = fileURLToPath(new URL('../../src/app/public/', import.meta.url));

/** The icons that are drawn from `icon.svg`, with their sizes in pixels. */
export const ICONS = [
  { name: 'icon-192.png', size: 192, isMaskable: false },
  { name: 'icon-512.png', size: 512, isMaskable: false },
  { name: 'icon-maskable-512.png', size: 512, isMaskable: true },
] as const;

/**
 * Draws an icon as PNG. A maskable one fills its square and keeps the drawing within the middle circle of four fifths of
 * the width, which is always shown (W3C, Web Application Manifest, "Icon masks and safe zone").
 */
export async function drawIcon(
  browser: Browser,
  { size, isMaskable }: (typeof ICONS)[number],
): Promise<Buffer> {
  const drawing = readFileSync(`${ICON_FOLDER}icon.svg`, 'utf8');
  const svg = isMaskable
    ? drawing.replace('viewBox="0 0 32 32"', 'viewBox="-4 -4 40 40"').replace('rx="3"', 'rx="0"')
    : drawing;
  const page = await browser.newPage({ viewport: { width: size, height: size } });
  await page.setContent(
    `<style>html { background: ${isMaskable ? '#17212b' : 'transparent'} } body { margin: 0 } svg { display: block; width: ${size}px; height: ${size}px }</style>${svg}`,
  );
  const png = await page.screenshot({ omitBackground: true });
  await page.close();
  return png;
}
