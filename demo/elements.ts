import { installTokens } from '../src/elements/tokens/install-tokens.ts';

/** What the gallery shows of one element: `code` is run as it is shown. */
interface Exhibit {
  readonly tag: string;
  readonly says: string;
  readonly code: string;
  readonly listens: readonly string[];
}

const exhibits = Object.values(
  import.meta.glob<Exhibit>('./elements/*.ts', { eager: true, import: 'default' }),
);

installTokens();
const main = document.querySelector('main')!;

for (const exhibit of exhibits) {
  const section = main.appendChild(document.createElement('section'));
  section.id = exhibit.tag;
  const heading = section.appendChild(document.createElement('h2'));
  heading.textContent = `<${exhibit.tag}>`;
  section.appendChild(document.createElement('p')).textContent = exhibit.says;
  const element = section.appendChild(document.createElement(exhibit.tag));
  new Function('element', exhibit.code)(element);
  const heard = section.appendChild(document.createElement('output'));
  for (const type of exhibit.listens)
    element.addEventListener(type, (event) => {
      const { isTrusted: _, ...values } = event as Event & Record<string, unknown>;
      heard.textContent = `${type} ${JSON.stringify(values)}`;
    });
  const details = section.appendChild(document.createElement('details'));
  details.appendChild(document.createElement('summary')).textContent = 'Code';
  const code = details.appendChild(document.createElement('pre'));
  code.tabIndex = 0;
  code.textContent = `import 'coatwright/elements/${exhibit.tag.slice(3)}/${exhibit.tag}';\n\nconst element = document.createElement('${exhibit.tag}');\n${exhibit.code.trim()}`;
}

const theme = document.querySelector<HTMLSelectElement>('#theme')!;
theme.addEventListener('change', () => {
  if (theme.value === '') delete document.documentElement.dataset.theme;
  else document.documentElement.dataset.theme = theme.value;
});
