import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { AxeResults, RunOptions } from 'axe-core';
import type { Page } from 'playwright';
import { RULES_BESIDES, RULES_OF_COLOUR } from './axe-rules.ts';

const SOURCE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** What WCAG 2.2 asks at the levels A and AA, and what axe-core holds for good practice: order of headings, landmarks. */
const WCAG_22_AA = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];

/**
 * What axe-core complains about on a page with its frames, a line for each element: rule, element, and what is wrong.
 *
 * It runs on the page itself and keeps no more than the violations: the usual way over a second page, which carries every
 * node that passed out and in, took about fifteen times as long.
 * @param which all rules, or those alone that a change of theme could break.
 */
export async function axeFinds(page: Page, which: 'all' | 'colours' = 'all'): Promise<string[]> {
  const rules: RunOptions =
    which === 'all'
      ? { runOnly: { type: 'tag', values: WCAG_22_AA }, rules: RULES_BESIDES }
      : { runOnly: RULES_OF_COLOUR };
  for (const frame of page.frames())
    if (!(await frame.evaluate(() => 'axe' in globalThis))) await frame.evaluate(SOURCE);
  const { violations } = await page.evaluate(
    (options) => (globalThis as unknown as { axe: typeof import('axe-core') }).axe.run(document, options),
    { ...rules, resultTypes: ['violations'] } satisfies RunOptions,
  );
  return linesOf(violations);
}

function linesOf(violations: AxeResults['violations']): string[] {
  return violations.flatMap(({ id, nodes }) =>
    nodes.map(({ target, failureSummary }) => `${id}: ${target.join(' ')} ${failureSummary}`),
  );
}
