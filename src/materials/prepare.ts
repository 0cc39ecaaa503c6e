import { prepareExpressions } from './forms/expression.ts';
import { loadWholeLibrary } from './library.ts';

/**
 * Loads what a request or a document may need before it is computed: the library's further data sets, and
 * the reader of expressions where a material that it carries is one. After that, indices resolve at once.
 * @param input plain data, as JSON gave it; not checked yet.
 */
export async function prepareFor(input: unknown): Promise<void> {
  await loadWholeLibrary();
  if (carriesExpression(input)) await prepareExpressions();
}

function carriesExpression(input: unknown): boolean {
  return JSON.stringify(input)?.includes('"form":"expression"') ?? false;
}
