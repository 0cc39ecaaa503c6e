import { expect, it } from 'vitest';
import { markup } from '../../src/base/markup.ts';

it('text from outside never becomes markup, while pieces of markup are kept', () => {
  const rows = ['<b>', 'O\'Neil & "Co"'].map((name) => markup`<td>${name}</td>`);
  expect(String(markup`<tr>${rows}${undefined}${false}${3}</tr>`)).toBe(
    '<tr><td>&lt;b&gt;</td><td>O&#39;Neil &amp; &quot;Co&quot;</td>3</tr>',
  );
});
