import type {
  ConditionalNode,
  ConstantNode,
  FunctionNode,
  MathNode,
  OperatorNode,
  ParenthesisNode,
  SymbolNode,
} from 'mathjs';
import { shown } from '../../base/schema.ts';

/** The most parts that an expression may have. */
export const MOST_EXPRESSION_PARTS = 200;

const SYMBOLS: readonly string[] = ['um', 'nm', 'pi', 'e'];
const FUNCTIONS: readonly string[] = ['sqrt', 'exp', 'log', 'log10', 'abs', 'sin', 'cos', 'min', 'max'];
const ARITHMETIC: readonly string[] = [
  'add',
  'subtract',
  'multiply',
  'divide',
  'pow',
  'unaryMinus',
  'unaryPlus',
];
const COMPARISONS: readonly string[] = ['larger', 'largerEq', 'smaller', 'smallerEq'];

type Node =
  | ConstantNode
  | SymbolNode
  | ParenthesisNode
  | OperatorNode
  | ConditionalNode
  | FunctionNode
  | (MathNode & { type: 'other' });

/**
 * Walks the tree of an expression and lets through only what is on the lists above.
 * @returns what is wrong with it, as the end of a sentence, or `undefined` where nothing is.
 */
export function allowedTree(tree: MathNode): string | undefined {
  let parts = 0;
  const visit = (given: MathNode): string | undefined => {
    parts += 1;
    if (parts > MOST_EXPRESSION_PARTS) return `has more than ${MOST_EXPRESSION_PARTS} parts`;
    const node = given as Node;
    switch (node.type) {
      case 'ConstantNode':
        return Number.isFinite(node.value) ? undefined : `contains ${shown(node.value)}, not a finite number`;
      case 'SymbolNode':
        return SYMBOLS.includes(node.name)
          ? undefined
          : `uses ${shown(node.name)}; the names known are ${SYMBOLS.join(', ')}`;
      case 'ParenthesisNode':
        return visit(node.content);
      case 'ConditionalNode':
        return visitCondition(node.condition) ?? visit(node.trueExpr) ?? visit(node.falseExpr);
      case 'OperatorNode':
        return ARITHMETIC.includes(node.fn)
          ? visitAll(node.args)
          : `uses the operator ${shown(node.op)}, which is not allowed here`;
      case 'FunctionNode':
        return visitCall(node);
      default:
        return `contains something other than arithmetic (${given.type.replace(/Node$/, '')})`;
    }
  };
  const visitAll = (nodes: readonly MathNode[]) => {
    for (const node of nodes) {
      const fault = visit(node);
      if (fault !== undefined) return fault;
    }
    return undefined;
  };
  const visitCondition = (given: MathNode): string | undefined => {
    const node = given as Node;
    if (node.type === 'ParenthesisNode') return visitCondition(node.content);
    return node.type === 'OperatorNode' && COMPARISONS.includes(node.fn)
      ? visitAll(node.args)
      : 'chooses by something else than one comparison with <, <=, > or >=';
  };
  const visitCall = (node: FunctionNode): string | undefined => {
    const called = node.fn as unknown as Node;
    const name = called.type === 'SymbolNode' ? called.name : undefined;
    if (name === undefined || !FUNCTIONS.includes(name))
      return `calls ${shown(name ?? 'something')}; the functions known are ${FUNCTIONS.join(', ')}`;
    const many = name === 'min' || name === 'max';
    if (many ? node.args.length < 1 : node.args.length !== 1)
      return `calls ${name} with ${node.args.length} arguments`;
    return visitAll(node.args);
  };
  return visit(tree);
}
