import type { Page } from 'playwright';

/** Every field with a figure in an element: its label, what stands in it, and the unit beside it; of others what is written. */
export function fieldsShown(page: Page, selector: string): Promise<string[]> {
  return page
    .locator(selector)
    .first()
    .evaluate((root) => {
      const within = (node: Element): Element[] =>
        [...(node.shadowRoot?.children ?? []), ...node.children].flatMap((child) => [
          child,
          ...(child.localName === 'cw-quantity-field' ? [] : within(child)),
        ]);
      return within(root).flatMap((element) => {
        if (element.localName === 'cw-quantity-field') {
          const parts = ['label', 'input', '.unit'].map((part) => element.shadowRoot!.querySelector(part));
          const [label, input, unit] = parts as [Element, HTMLInputElement, Element | null];
          return [`${label.textContent.trim()}: ${input.value} ${unit?.textContent ?? ''}`.trim()];
        }
        const isText =
          element.localName === 'textarea' ||
          element.matches('input:is([type="text"], [type="date"], [type="time"], [type="datetime-local"])');
        const { value } = element as HTMLInputElement;
        return isText && /\d/.test(value) ? [value] : [];
      });
    });
}
