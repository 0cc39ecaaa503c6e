import * as v from 'valibot';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../src/base/errors.ts';
import { choice, count, hasKey, list, parse, quantity, text, word } from '../../src/base/schema.ts';

const layer = v.strictObject({ material: text(), thicknessNm: quantity('nm', { min: 0, max: 1e7 }) });
const request = v.strictObject({
  layers: v.optional(list(layer), []),
  trials: v.optional(count({ min: 1 }), 100),
  sense: v.exactOptional(word(['below', 'above'])),
  index: v.exactOptional(
    choice([v.number(), v.strictObject({ n: v.number() })] as v.GenericSchema[], (input) =>
      hasKey(input, 'n') ? v.strictObject({ n: v.number() }) : v.number('not a number'),
    ),
  ),
});

function fault(input: unknown): string {
  try {
    parse(request, input);
  } catch (error) {
    if (error instanceof InputError) return error.message;
    throw error;
  }
  return 'no fault';
}

describe('a request read through a schema', () => {
  it('is returned with its defaults filled in', () => {
    expect(parse(request, {})).toEqual({ layers: [], trials: 100 });
  });

  it.each([
    [{ layers: [{ material: 'a', thicknessNm: -3 }] }, 'layers[0].thicknessNm: -3 nm is below 0 nm'],
    [{ layers: [{ material: 'a', thicknessNm: '3' }] }, 'layers[0].thicknessNm: "3" is not a number'],
    [{ layers: [{ material: 'a', thicknessNm: Number.NaN }] }, 'layers[0].thicknessNm: NaN is not a number'],
    [
      { layers: [{ material: 'a', thicknessNm: Number.POSITIVE_INFINITY }] },
      'layers[0].thicknessNm: Infinity is not a finite number',
    ],
    [{ layers: [{ material: 'a' }] }, 'layers[0].thicknessNm: is missing'],
    [{ layers: 3 }, 'layers: 3 is not a list'],
    [{ trial: 3 }, 'trial: unknown field "trial"'],
    [{ 'tri\nal': 3 }, '"tri\\nal": unknown field "tri\\nal"'],
    [{ ['x'.repeat(99)]: 3 }, `"${'x'.repeat(56)}...: unknown field "${'x'.repeat(56)}...`],
    [{ trials: 1.5 }, 'trials: 1.5 is not a whole number'],
    [{ trials: 0 }, 'trials: 0 is below 1'],
    [{ sense: 'under' }, 'sense: "under" is not one of "below", "above"'],
    [{ index: 'x' }, 'index: not a number'],
    [[1], '[1] is not an object'],
    [null, 'null is not an object'],
  ])('%j is refused with one sentence', (input, sentence) => {
    expect(fault(input)).toBe(sentence);
  });
});
