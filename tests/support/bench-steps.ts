import type { Page } from 'playwright';

/** Goes to a station by its place on the rail. */
export async function goTo(page: Page, station: string): Promise<void> {
  await page
    .locator('app-journey-rail')
    .getByRole('link', { name: new RegExp(`^${station}`) })
    .click();
  await page.locator('main h1', { hasText: station }).waitFor();
}

/** Types a quantity into its field and settles it with Enter. */
export async function setQuantity(page: Page, label: string, typed: string): Promise<void> {
  const field = page.locator('main').getByRole('spinbutton', { name: label, exact: true });
  await field.fill(typed);
  await field.press('Enter');
}

/** Types into a field of text. */
export async function rename(page: Page, label: string, text: string): Promise<void> {
  await page.locator('main').getByRole('textbox', { name: label, exact: true }).fill(text);
}

/** What the strip along the lower edge says of a figure whose name starts so. */
export async function figure(page: Page, name: string): Promise<string> {
  const found = page
    .locator('cw-ripple-strip .figure')
    .filter({ has: page.locator('dt', { hasText: new RegExp(`^${name}`) }) });
  return (await found.first().locator('b').innerText()).trim();
}

/** All that stands in an element, shadows included, as one line. Reading innerText would stop at the first shadow. */
export async function said(page: Page, selector: string): Promise<string> {
  return page
    .locator(selector)
    .first()
    .evaluate((element) => {
      const read = (node: Node): string => {
        if (node instanceof Text) return node.data;
        if (node instanceof HTMLStyleElement) return '';
        const inside =
          node instanceof Element && node.shadowRoot !== null
            ? [node.shadowRoot, ...node.childNodes]
            : node.childNodes;
        return Array.from(inside, read).join(' ');
      };
      return read(element).replace(/\s+/g, ' ').trim();
    });
}
