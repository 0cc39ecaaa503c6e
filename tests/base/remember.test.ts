import { expect, it } from 'vitest';
import { remember } from '../../src/base/remember.ts';

it('an answer is computed once as long as it is among the last few', () => {
  const asked: number[] = [];
  const square = remember(({ x }: { x: number }) => {
    asked.push(x);
    return { result: x * x };
  }, 2);
  expect(square({ x: 3 })).toBe(square({ x: 3 }));
  square({ x: 4 });
  square({ x: 3 });
  square({ x: 5 });
  square({ x: 3 });
  square({ x: 4 });
  expect(asked).toEqual([3, 4, 5, 4]);
});
