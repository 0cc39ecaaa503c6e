import type { Page } from 'playwright';

/** A chart's data as its reader finds them in its table. */
export interface ShownChart {
  readonly label: string;
  readonly headings: readonly string[];
  /** The place on the axis, then what each curve has there. */
  readonly rows: readonly (readonly string[])[];
}

/** Every chart of an element, its table opened, read and closed again. */
export function chartsShown(page: Page, selector: string): Promise<ShownChart[]> {
  return page
    .locator(selector)
    .first()
    .evaluate(async (root) => {
      const within = (node: Element): Element[] =>
        [...(node.shadowRoot?.children ?? []), ...node.children].flatMap((child) => [
          child,
          ...within(child),
        ]);
      const shown: ShownChart[] = [];
      for (const chart of within(root).filter(({ localName }) => localName === 'cw-line-chart')) {
        const { shadowRoot, updateComplete, label } = chart as Element & {
          label: string;
          updateComplete: Promise<unknown>;
        };
        const toggle = () => {
          shadowRoot!.querySelector<HTMLButtonElement>('button[aria-pressed]')!.click();
          return updateComplete;
        };
        await toggle();
        await new Promise((resolve) => setTimeout(resolve, 0));
        const table = shadowRoot!.querySelector('table')!;
        const texts = (row: HTMLTableRowElement) => Array.from(row.cells, (cell) => cell.textContent.trim());
        const [head, ...rows] = Array.from(table.rows, texts);
        shown.push({ label, headings: head!, rows });
        await toggle();
      }
      return shown;
    });
}
