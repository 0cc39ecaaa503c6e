import {
  absDependencies,
  addDependencies,
  cosDependencies,
  create,
  divideDependencies,
  eDependencies,
  expDependencies,
  type FactoryFunctionMap,
  largerDependencies,
  largerEqDependencies,
  log10Dependencies,
  logDependencies,
  maxDependencies,
  minDependencies,
  multiplyDependencies,
  parseDependencies,
  piDependencies,
  powDependencies,
  sinDependencies,
  smallerDependencies,
  smallerEqDependencies,
  sqrtDependencies,
  subtractDependencies,
  unaryMinusDependencies,
  unaryPlusDependencies,
} from 'mathjs/number';

/**
 * A mathjs of plain numbers that has the arithmetic of an index formula and nothing else: no units, no
 * matrices, no import, no evaluation of text. Loaded when the first expression is met.
 */
const ARITHMETIC = {
  absDependencies,
  addDependencies,
  cosDependencies,
  divideDependencies,
  eDependencies,
  expDependencies,
  largerDependencies,
  largerEqDependencies,
  log10Dependencies,
  logDependencies,
  maxDependencies,
  minDependencies,
  multiplyDependencies,
  parseDependencies,
  piDependencies,
  powDependencies,
  sinDependencies,
  smallerDependencies,
  smallerEqDependencies,
  sqrtDependencies,
  subtractDependencies,
  unaryMinusDependencies,
  unaryPlusDependencies,
} as FactoryFunctionMap;

const engine = create(ARITHMETIC);

/** Reads an expression into its tree. */
export const parseExpression = engine.parse;
