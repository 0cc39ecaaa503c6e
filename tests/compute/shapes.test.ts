import * as v from 'valibot';
import { describe, expect, it } from 'vitest';
import { parse } from '../../src/base/schema.ts';
import { resolveStack, stackFields } from '../../src/compute/shapes.ts';

const request = v.strictObject({ ...stackFields });
const wavelengthNm = Float64Array.of(500, 600);
const resolve = (input: unknown) => resolveStack(parse(request, input), wavelengthNm);

describe('a stack of a request', () => {
  it('lies in air and has no layers where nothing else is said', () => {
    const { stack, thicknessNm, plate, warnings } = resolve({ substrate: 1.52 });
    expect(Array.from(stack.incident.n)).toEqual([1, 1]);
    expect(Array.from(stack.substrate.n)).toEqual([1.52, 1.52]);
    expect([stack.layers.length, thicknessNm.length, plate, warnings.length]).toEqual([0, 0, undefined, 0]);
  });

  it('shares one medium among layers of the same material', () => {
    const { stack, thicknessNm } = resolve({
      substrate: 1.52,
      layers: [
        { material: { n: 1.38 }, thicknessNm: 90 },
        { material: 2.1, thicknessNm: 10 },
        { material: { n: 1.38 }, thicknessNm: 20 },
      ],
    });
    expect(stack.layers[0]).toBe(stack.layers[2]);
    expect(stack.layers[0]).not.toBe(stack.layers[1]);
    expect(Array.from(thicknessNm)).toEqual([90, 10, 20]);
  });

  it("leaves a plate into the incident medium where the plate's exit is not named", () => {
    const { stack, plate } = resolve({ incident: 1.33, substrate: 1.52, plate: { thicknessMm: 2 } });
    expect(plate?.exit).toBe(stack.incident);
    expect(resolve({ substrate: 1.52, plate: { thicknessMm: 2, exit: 1.5 } }).plate?.exit.n[0]).toBe(1.5);
  });

  it.each([
    [{}, 'substrate: is missing'],
    [{ substrate: 'nosuch' }, 'substrate: "nosuch" is not a known material'],
    [
      { substrate: 1.5, layers: [{ material: 'nosuch', thicknessNm: 1 }] },
      'layers[0].material: "nosuch" is not a known material',
    ],
    [
      { substrate: 1.5, layers: [{ material: 1.4, thicknessNm: -3 }] },
      'layers[0].thicknessNm: -3 nm is below 0 nm',
    ],
    [{ substrate: 1.5, plate: {} }, 'plate.thicknessMm: is missing'],
    [
      { substrate: 1.5, incident: { n: 1.5, k: 0.1 } },
      'incident: the medium absorbs (k = 0.1 at 500 nm); the incident medium must have k = 0',
    ],
  ])('%j is refused with one sentence', (input, sentence) => {
    expect(() => resolve(input)).toThrow(sentence);
  });
});
