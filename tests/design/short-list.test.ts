import { describe, expect, it } from 'vitest';
import type { FoundStack } from '../../src/design/found-stack.ts';
import { plainestOfEquals, shortList } from '../../src/design/short-list.ts';

/** Places 0, 1 and 2 of a palette with these indices, on glass of 1.52; all invented. */
const problem = { paletteIndex: [1.38, 2.1, 2.15], substrateIndex: 1.52 };

/** A stack of [place, thickness in nm] pairs, of one requirement with this margin in percent. */
function stack(layers: readonly (readonly [number, number])[], merit: number, margin = 0.1): FoundStack {
  return {
    layers: layers.map(([place, thicknessNm]) => ({ place, material: `film ${place}`, thicknessNm })),
    merit,
    achieved: [
      {
        value: 0.4 - margin,
        limit: 0.4,
        margin,
        met: margin >= 0,
        worstWavelengthNm: 550,
        worstIncidenceDeg: 0,
      },
    ],
  };
}

const six = (nm: number, high = 1) =>
  [
    [high, 15],
    [0, 30],
    [1, 60],
    [2, nm],
    [1, 20],
    [0, 98],
  ] as const;

describe('the short list', () => {
  it('has one stack of a kind, whatever of nearly the same index it is made of', () => {
    const [best, twin, variant] = [stack(six(30), 0.1), stack(six(32), 0.11), stack(six(31, 2), 0.12)];
    const other = stack(
      [
        [1, 70],
        [0, 200],
        [1, 50],
        [2, 80],
        [1, 30],
        [0, 90],
      ],
      0.13,
    );
    expect(shortList([best, twin, variant, other], 6, problem)).toEqual([best, other]);
  });

  it('keeps a stack that is like a better one but takes a material less', () => {
    const plainer = stack(
      six(30).map(([place, nm]) => [Math.min(place, 1), nm]),
      0.2,
    );
    const best = stack(six(30), 0.1);
    expect(shortList([best, plainer], 6, problem)).toEqual([best, plainer]);
  });

  it('ends with the stacks of the fewest layers that meet everything, though better ones would fill it', () => {
    const kinds = [60, 90, 120, 150, 180, 210].map((nm, place) => stack(six(nm), 0.1 + place / 100));
    const four = stack(
      [
        [1, 15],
        [0, 30],
        [1, 125],
        [0, 94],
      ],
      0.3,
    );
    const two = stack(
      [
        [1, 19],
        [0, 121],
      ],
      0.5,
    );
    const missing = stack([[0, 96]], 9, -1);
    const chosen = shortList([...kinds, four, two, missing], 6, problem);
    expect(chosen).toHaveLength(6);
    expect(chosen[0]).toBe(kinds[0]);
    expect(chosen.slice(-2)).toEqual([four, two]);
    expect(chosen).not.toContain(missing);
  });
});

describe('among stacks that no instrument tells apart', () => {
  it('the one of fewer layers comes first, the others in their order', () => {
    const many = stack(six(30), 0.1, 0.399_999);
    const few = stack(
      [
        [1, 19],
        [0, 121],
      ],
      0.101,
      0.399_95,
    );
    const worse = stack([[0, 96]], 0.2, 0.39);
    expect(plainestOfEquals([many, few, worse])).toEqual([few, many, worse]);
    expect(plainestOfEquals([])).toEqual([]);
  });
});
