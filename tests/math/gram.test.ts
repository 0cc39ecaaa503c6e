import { describe, expect, it } from 'vitest';
import { addGram } from '../../src/math/gram.ts';
import { Random } from '../../src/math/random.ts';

describe('addGram', () => {
  it('adds every product of two columns once, for even and odd counts, and leaves the upper triangle alone', () => {
    const random = new Random(4);
    for (const count of [1, 2, 3, 6, 7]) {
      const [stride, length] = [9, 5];
      const columns = Float64Array.from({ length: stride * count }, () => random.normal());
      const matrix = new Float64Array(count * count).fill(0.5);
      addGram(columns, stride, length, count, matrix);
      for (let i = 0; i < count; i++)
        for (let j = 0; j < count; j++) {
          let product = 0;
          for (let k = 0; k < length; k++) product += columns[i * stride + k]! * columns[j * stride + k]!;
          expect(matrix[i * count + j]).toBeCloseTo(0.5 + (j <= i ? product : 0), 12);
        }
    }
  });
});
