import type { Page } from 'playwright';

/** A text with a digit on the screen, and where a reader finds it. */
export interface ShownFigure {
  /** The figure's name: the row and the column of a table, after its label where two tables have such a place; the term that a value stands beside; or the kind of text. */
  readonly where: string;
  readonly text: string;
}

/**
 * Every text with a digit in an element, shadows included: cells, values beside terms, sentences. Left out are what is typed or
 * chosen (`fieldsShown` has it), buttons, drawings and charts (`chartsShown`).
 */
export function figuresShown(page: Page, selector: string): Promise<ShownFigure[]> {
  return page
    .locator(selector)
    .first()
    .evaluate((root) => {
      const LEFT_OUT =
        'style, script, select, datalist, label:not(.flag), legend, button, input, textarea, svg, canvas, .visually-hidden, cw-line-chart, cw-spectrum-chart, cw-quantity-field, cw-stack-section, cw-load-picture, cw-chamber-side, cw-run-timeline, cw-monitor-trace';
      const BLOCKS = 'td, th, dd, p, li, h1, h2, h3, caption, figcaption, footer, .figure:not(div)';
      const inside = (node: Node): Iterable<Node> =>
        node instanceof Element && node.shadowRoot !== null
          ? [...node.shadowRoot.childNodes, ...node.childNodes]
          : node instanceof HTMLSlotElement
            ? node.assignedNodes().length > 0
              ? []
              : node.childNodes
            : node.childNodes;
      const textOf = (node: Node | null | undefined): string => {
        const read = (one: Node): string => {
          if (one instanceof Text) return one.data;
          if (one instanceof Element && one.matches(LEFT_OUT)) return ' ';
          return Array.from(inside(one), read).join(' ');
        };
        return node == null
          ? ''
          : read(node)
              .replace(/\u00AD/g, '')
              .replace(/\s+/g, ' ')
              .replace(/ ([,.;:)])/g, '$1')
              .trim();
      };
      const headOf = (cell: HTMLTableCellElement): string => {
        const row = cell.parentElement as HTMLTableRowElement;
        const table = cell.closest('table')!;
        const column = [...row.cells].slice(0, cell.cellIndex).reduce((sum, { colSpan }) => sum + colSpan, 0);
        const heads = [...(table.tHead?.rows ?? [])].map((headRow) => {
          let at = 0;
          for (const head of headRow.cells) {
            at += head.colSpan;
            if (at > column) return textOf(head);
          }
          return '';
        });
        return `${textOf(row.querySelector('th[scope="row"]') ?? row.cells[0])} | ${heads.join(' ')}`;
      };
      const shown: { where: string; table: string; text: string }[] = [];
      const whereOf = (element: Element): string => {
        if (element instanceof HTMLTableCellElement) return headOf(element);
        if (element.localName === 'dd') return textOf(element.parentElement!.querySelector('dt'));
        return element.localName;
      };
      const tableOf = (element: Element): string =>
        (element instanceof HTMLTableCellElement && element.closest('[aria-label]')?.ariaLabel) || '';
      const walk = (node: Node): void => {
        if (node instanceof Element) {
          if (node.matches(LEFT_OUT) || node.localName === 'dt') return; // a term names the figure beside it
          if (node.matches(BLOCKS)) {
            const text = textOf(node);
            if (/\d/.test(text)) shown.push({ where: whereOf(node), table: tableOf(node), text });
            return;
          }
        }
        if (node instanceof Text) {
          const text = node.data.replace(/\s+/g, ' ').trim();
          if (/\d/.test(text)) shown.push({ where: 'text', table: '', text });
          return;
        }
        for (const child of inside(node)) walk(child);
      };
      walk(root);
      return shown.map(({ where, table, text }) => {
        const isAmbiguous = shown.some((other) => other.where === where && other.table !== table);
        return { where: isAmbiguous ? `${table} | ${where}` : where, text };
      });
    });
}
