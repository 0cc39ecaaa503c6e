import type { MathNode } from 'mathjs';
import * as v from 'valibot';
import { assert } from '../../base/assert.ts';
import { NM_PER_UM } from '../../base/constants.ts';
import { InputError } from '../../base/errors.ts';
import { shown, text } from '../../base/schema.ts';
import { allowedTree } from './expression-tree.ts';

const expressionText = text(500, 'in um or nm, the vacuum wavelength, e.g. "1.37 + 0.003/um^2"');

/** n as an expression in the wavelength `um` (µm) or `nm`. */
export const expressionForm = v.strictObject({ form: v.literal('expression'), n: expressionText });

/** k as an expression in the wavelength `um` (µm) or `nm`. */
export const extinctionExpression = v.strictObject({ form: v.literal('expression'), k: expressionText });

let parse: ((expression: string) => MathNode) | undefined;

/** Loads the reader of expressions; once it is there, expressions are computed at once. */
export async function prepareExpressions(): Promise<void> {
  parse ??= (await import('./expression-engine.ts')).parseExpression;
}

/**
 * Makes an expression a function of the wavelength in µm. Nothing but the wavelength, numbers, pi, e,
 * arithmetic, comparisons in a choice `a ? b : c` and a few functions is reachable from it, and it cannot
 * repeat anything, so its time is bounded by its length. The value may be any number, NaN too.
 * @param path the field that holds the expression, for errors.
 * @throws InputError where it cannot be read or uses anything else.
 */
export function compileExpression(expression: string, path: string): (wavelengthUm: number) => number {
  assert(parse !== undefined, 'expressions are prepared (prepareExpressions) before they are compiled');
  const code = readTree(parse, expression, path).compile();
  return (um) => {
    const value: unknown = code.evaluate(new Map(Object.entries({ um, nm: um * NM_PER_UM })));
    return typeof value === 'number' ? value : Number.NaN;
  };
}

function readTree(read: (expression: string) => MathNode, expression: string, path: string): MathNode {
  let tree: MathNode;
  try {
    tree = read(expression);
  } catch (error) {
    const why = error instanceof SyntaxError ? error.message : 'it is nested too deeply';
    throw new InputError(path, `the expression ${shown(expression)} cannot be read: ${why}`);
  }
  const fault = allowedTree(tree);
  if (fault !== undefined) throw new InputError(path, `the expression ${shown(expression)} ${fault}`);
  return tree;
}
