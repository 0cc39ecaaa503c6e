/** A piece of markup that is safe to insert as it is: everything that came from outside was escaped. */
export class Markup {
  readonly source: string;

  constructor(source: string) {
    this.source = source;
  }

  toString(): string {
    return this.source;
  }
}

type Value = Markup | string | number | undefined | false | readonly Value[];

/**
 * A template tag for HTML and SVG texts. Every value is escaped, but for other `Markup` and lists of it;
 * `undefined` and `false` leave nothing.
 */
export function markup(strings: TemplateStringsArray, ...values: readonly Value[]): Markup {
  let source = strings[0] ?? '';
  for (const [index, value] of values.entries()) source += render(value) + (strings[index + 1] ?? '');
  return new Markup(source);
}

function render(value: Value): string {
  if (value === undefined || value === false) return '';
  if (value instanceof Markup) return value.source;
  if (typeof value === 'object') return value.map(render).join('');
  return escapeMarkup(String(value));
}

const ESCAPES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** The text with the five characters that mean something in markup replaced. */
export function escapeMarkup(text: string): string {
  return text.replace(/[&<>"']/g, (character) => ESCAPES[character] ?? character);
}
