import { beforeAll, describe, expect, it } from 'vitest';
import { indexCurves } from '../../src/materials/dispersion.ts';
import { compileExpression, prepareExpressions } from '../../src/materials/forms/expression.ts';

beforeAll(prepareExpressions);

const value = (expression: string, um = 0.5) => compileExpression(expression, 'n')(um);

describe('an expression in the wavelength', () => {
  it.each([
    ['1.37 + 0.003/um^2', 1.37 + 0.003 / 0.25],
    ['sqrt(1 + 1.1*um^2/(um^2 - 0.0092))', Math.sqrt(1 + (1.1 * 0.25) / (0.25 - 0.0092))],
    ['-nm', -500],
    ['um > 0.4 ? 1.5 : 1.4', 1.5],
    ['2 um', 1],
    ['min(1, 2, um) + max(3, um) + abs(-1)', 4.5],
    ['exp(0) + log(e) + log10(100) + sin(0) + cos(0) + pi', 5 + Math.PI],
  ])('%s', (expression, expected) => {
    expect(value(expression)).toBeCloseTo(expected, 12);
  });

  it.each([
    ['import("fs")', 'calls "import"'],
    ['createUnit("foo")', 'calls "createUnit"'],
    ['evaluate("1")', 'calls "evaluate"'],
    ['parse("1")', 'calls "parse"'],
    ['simplify("1")', 'calls "simplify"'],
    ['derivative("um", "um")', 'calls "derivative"'],
    ['um.constructor', 'contains something other than arithmetic (Accessor)'],
    ['cos.constructor("return process")', 'calls "something"'],
    ['[1][1].constructor', 'contains something other than arithmetic (Accessor)'],
    ['{a: 1}.a', 'contains something other than arithmetic (Accessor)'],
    ['a = 3', 'contains something other than arithmetic (Assignment)'],
    ['f(x) = x', 'contains something other than arithmetic (FunctionAssignment)'],
    ['um; um', 'contains something other than arithmetic (Block)'],
    ['[1, 2]', 'contains something other than arithmetic (Array)'],
    ['1:1e9', 'contains something other than arithmetic (Range)'],
    ['"text"', 'contains "text", not a finite number'],
    ['1e999', 'not a finite number'],
    ['um!', 'uses the operator "!"'],
    ['um > 1', 'uses the operator ">"'],
    ['um and 1', 'uses the operator "and"'],
    ['um ? 1 : 2', 'chooses by something else than one comparison'],
    ['process', 'uses "process"; the names known are um, nm, pi, e'],
    ['__proto__', 'uses "__proto__"'],
    ['sqrt', 'uses "sqrt"'],
    ['sqrt(1, 2)', 'calls sqrt with 2 arguments'],
    ['max()', 'calls max with 0 arguments'],
    ['1 +', 'cannot be read'],
    ['', 'contains nothing, not a finite number'],
    ['('.repeat(250) + ')'.repeat(250), 'n: the expression'],
    [Array.from({ length: 120 }, () => 'um').join('+'), 'has more than 200 parts'],
  ])('%s is refused', (expression, sentence) => {
    expect(() => value(expression)).toThrow(sentence);
    expect(() => value(expression)).toThrow(/^n: the expression /);
  });

  it('is refused where it has no index, with the wavelength in the sentence', () => {
    const { n } = indexCurves({ form: 'expression', n: 'sqrt(um - 0.5)' });
    expect(n(750)).toBe(0.5);
    expect(() => n(400)).toThrow('the dispersion gives n = NaN at 400 nm; n must be finite and above 0');
    expect(() => n(500)).toThrow('n = 0 at 500 nm');
  });

  it('serves k as well, which may not fall below 0', () => {
    const { k } = indexCurves({ form: 'expression', n: '1.5' }, { form: 'expression', k: '0.5 - um' });
    expect(k(400)).toBeCloseTo(0.1, 14);
    expect(() => k(600)).toThrow(/k = -0\.0\d+ at 600 nm; k must be finite and not below 0/);
  });
});
