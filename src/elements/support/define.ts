import { installTokens } from '../tokens/install-tokens.ts';

/** Registers an element under its tag and gives the page the tokens; a second registration is left alone. */
export function define(tag: string, element: CustomElementConstructor): void {
  installTokens();
  if (customElements.get(tag) === undefined) customElements.define(tag, element);
}
