import axe from 'axe-core';
import { afterEach, beforeEach, expect } from 'vitest';
import type { ThemeName } from '../../../src/elements/tokens/theme-css.ts';
import { RULES_BESIDES, RULES_OF_COLOUR } from '../../support/axe-rules.ts';

beforeEach(() => {
  document.body.style.cssText = 'margin:0;background:var(--cw-paper)';
});

afterEach(() => {
  document.body.replaceChildren();
  document.documentElement.removeAttribute('data-theme');
});

/** Puts an element with these properties on an empty page and waits until it has drawn itself. */
export async function stage<Tag extends keyof HTMLElementTagNameMap>(
  tag: Tag,
  properties: Partial<HTMLElementTagNameMap[Tag]> = {},
): Promise<HTMLElementTagNameMap[Tag]> {
  const element = document.createElement(tag);
  Object.assign(element, properties);
  document.body.append(element);
  await drawn(element);
  return element;
}

/** Waits for an element's pending update and one frame, in which sizes are measured. */
export async function drawn(element: Element): Promise<void> {
  await (element as Element & { updateComplete?: Promise<unknown> }).updateComplete;
  await new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
  await (element as Element & { updateComplete?: Promise<unknown> }).updateComplete;
}

/** Fails where axe finds anything wrong with the element in one of the themes: by all rules in the first, by those of colour then. */
export async function expectAccessible(
  element: Element,
  themes: readonly ThemeName[] = ['light', 'dark', 'chamber'],
): Promise<void> {
  for (const [place, theme] of themes.entries()) {
    document.documentElement.dataset.theme = theme;
    await drawn(element);
    const { violations } = await axe.run(element, {
      resultTypes: ['violations'],
      ...(place === 0 ? { rules: RULES_BESIDES } : { runOnly: RULES_OF_COLOUR }),
    });
    const said = violations.map(
      (item) => `${theme}: ${item.id}: ${item.nodes.map((node) => `${node.html} ${node.failureSummary}`)}`,
    );
    expect(said).toEqual([]);
  }
}

/** The first element in an open shadow root that the selector finds; fails where there is none. */
export function within<E extends Element = HTMLElement>(host: Element, selector: string): E {
  const found = host.shadowRoot?.querySelector<E>(selector);
  if (!found) throw new Error(`nothing in ${host.localName} matches ${selector}`);
  return found;
}

/** Presses a key on an element as a reader would. */
export function press(target: Element, key: string, modifiers: KeyboardEventInit = {}): KeyboardEvent {
  const event = new KeyboardEvent('keydown', {
    key,
    bubbles: true,
    composed: true,
    cancelable: true,
    ...modifiers,
  });
  target.dispatchEvent(event);
  return event;
}
