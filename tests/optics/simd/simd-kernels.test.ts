import { describe, expect, it, vi } from 'vitest';
import { Random } from '../../../src/math/random.ts';
import { layerTables } from '../../../src/optics/layer-tables.ts';
import { ScalarKernels } from '../../../src/optics/scalar-kernels.ts';
import { fingerprint } from '../../../src/optics/simd/build-kernels.mjs';
import { KERNEL_SOURCES } from '../../../src/optics/simd/kernel-bytes.ts';
import { type KernelMemory, loadKernels } from '../../../src/optics/simd/kernel-memory.ts';
import { SimdKernels } from '../../../src/optics/simd/simd-kernels.ts';
import type { SpectrumKernels } from '../../../src/optics/spectrum-kernels.ts';
import type { Polarization, StackOnGrid } from '../../../src/optics/stack-on-grid.ts';
import reference from '../../fixtures/optics/reference-spectra.json';
import { plainStack, span } from '../support/stacks.ts';

const memory = loadKernels() as KernelMemory;

/** R and T alone, then R, T, dR, dT and dr with derivatives. */
function answers(kernels: SpectrumKernels, nm: Float64Array, wavelengths: number): Float64Array[] {
  const size = wavelengths * nm.length;
  const array = (length: number) => new Float64Array(length).fill(Number.NaN);
  const [R, T] = [array(wavelengths), array(wavelengths)];
  kernels.spectrum(nm, R, T);
  const further = [wavelengths, wavelengths, size, size, 2 * size].map(array);
  kernels.withDerivatives(nm, further[0]!, further[1]!, further[2]!, further[3]!, further[4]);
  return [R, T, ...further];
}

/** How many of all numbers differ by anything at all between the two kinds of kernels, and how many were compared. */
function differences(
  stack: StackOnGrid,
  thicknessNm: readonly number[],
  incidenceRad: number,
  polarization: Polarization,
): { compared: number; different: number } {
  const tables = layerTables(stack, incidenceRad, polarization);
  const nm = Float64Array.from(thicknessNm);
  const wavelengths = stack.wavelengthNm.length;
  const plain = answers(new ScalarKernels(tables), nm, wavelengths);
  const compiled = answers(new SimdKernels(tables, memory), nm, wavelengths);
  let [compared, different] = [0, 0];
  plain.forEach((values, a) => {
    values.forEach((value, i) => {
      compared++;
      if (!(value === compiled[a]![i])) different++;
    });
  });
  return { compared, different };
}

describe('the compiled kernels', () => {
  it('are there under Node, as they are in any browser of today', () => {
    expect(memory).toBeDefined();
  });

  it.each([
    ['lossless', [2.3, 1.46, 2.1], 1.52],
    ['absorbing', [2.3, [1.46, 0.02], [0.3, 3]], [1.6, 0.1]],
    ['evanescent', [2.3, 0.9, 2.1], 1.52],
  ] as const)(
    'give a stack that is %s the plain kernels’ numbers to the last bit',
    (_, layers, substrate) => {
      const stack = plainStack(span(450, 600, 5), 1.2, layers, substrate);
      for (const polarization of ['s', 'p'] as const)
        expect(differences(stack, [60, 90, 40], 1, polarization)).toEqual({ compared: 80, different: 0 });
    },
  );

  it('give every reference stack the plain kernels’ numbers to the last bit, derivatives too', () => {
    let total = 0;
    for (const one of reference.cases)
      for (const polarization of ['s', 'p'] as const) {
        const stack = plainStack(
          [one.wavelengthNm],
          one.incident,
          one.layers as unknown as (readonly [number, number])[],
          one.substrate as unknown as readonly [number, number],
        );
        const { compared, different } = differences(stack, one.thicknessNm, one.incidenceRad, polarization);
        expect(different, `${one.name}, ${polarization}`).toBe(0);
        total += compared;
      }
    expect(total).toBeGreaterThan(5000);
  });

  it('agree to the last bit for 400 drawn stacks: dispersive, absorbing in part of the grid, evanescent, odd grids', () => {
    const random = new Random(20_261_125);
    const uniform = (from: number, to: number) => from + (to - from) * random.uniform();
    for (let round = 0; round < 400; round++) {
      const wavelengthNm = Float64Array.from(span(300, uniform(400, 2000), 2 + Math.floor(uniform(0, 40))));
      const medium = (n: number, k: number, edgeNm: number) => ({
        n: wavelengthNm.map((nm) => n + 5000 / nm ** 2),
        k: wavelengthNm.map((nm) => (nm < edgeNm ? k * (1 - nm / edgeNm) : 0)),
      });
      const palette = Array.from({ length: 4 }, () =>
        medium(uniform(1.05, 4), random.uniform() < 0.2 ? uniform(0, 5) : 0.01, uniform(0, 900)),
      );
      const layers = Array.from(
        { length: Math.floor(uniform(0, 20)) },
        () => palette[Math.floor(uniform(0, 4))]!,
      );
      const stack = {
        wavelengthNm,
        incident: medium(uniform(1, 1.8), 0, 0),
        layers,
        substrate: medium(uniform(1.2, 4), round % 3 === 0 ? 2 : 0, 3000),
      };
      const nm = layers.map(() => (random.uniform() < 0.1 ? 0 : uniform(0, 10) ** 3));
      const polarization = round % 2 === 0 ? 's' : 'p';
      const { different } = differences(stack, nm, uniform(0, 1.55), polarization);
      expect(different, `round ${round}`).toBe(0);
    }
  });

  it('agree to the last bit where the field is rescaled, and for a millimetre of metal', () => {
    const grid = span(400, 700, 7);
    const pair = (count: number, high: number | readonly [number, number]) =>
      Array.from({ length: count }, (_, j) => (j % 2 === 0 ? high : 1.45));
    for (const count of [127, 128, 129, 256, 300])
      for (const high of [2.35, [2.35, 1e-3] as const]) {
        const stack = plainStack(grid, 1, pair(count, high), 1.52);
        const nm = Array.from({ length: count }, (_, j) => 40 + (j % 7) * 9);
        expect(differences(stack, nm, 0.5, 'p').different, `${count} layers`).toBe(0);
      }
    expect(differences(plainStack(grid, 1, [[2, 3], 1.38], 1.52), [1e6, 90], 0, 's').different).toBe(0);
  });

  it('find their tables again after others have taken the room', () => {
    const nm = Float64Array.of(50, 90, 70);
    const many = [1.46, 1.7, 2.1, 2.3].map((n) => {
      const stack = plainStack(span(400, 800, 9), 1, [n, [1.38, 1e-3], n], 1.52);
      return new SimdKernels(layerTables(stack, 0, 's'), memory);
    });
    const round = () =>
      many.map((kernels) => {
        const [R, T] = [new Float64Array(9), new Float64Array(9)];
        kernels.spectrum(nm, R, T);
        return [...R, ...T];
      });
    const first = round();
    expect(round()).toEqual(first);
    expect(new Set(first.map(([R]) => R)).size).toBe(4);
    const before = memory.generation;
    const address = memory.take(memory.tableBytes);
    memory.doubles.fill(Number.NaN, address / 8, (address + memory.tableBytes) / 8);
    expect(memory.generation).toBe(before + 1);
    expect(round()).toEqual(first);
    expect(memory.generation).toBe(before + 2);
    expect(round()).toEqual(first);
    expect(memory.generation).toBe(before + 2);
  });

  it('write their tables once for each time that the memory has forgotten them, the first time too', () => {
    const own = loadKernels() as KernelMemory;
    for (const bytes of [own.tableBytes, 16]) own.take(bytes);
    expect(own.generation).toBe(1);
    const tables = layerTables(plainStack(span(400, 800, 9), 1, [2.3, 1.46], 1.52), 0, 's');
    const nm = Float64Array.of(50, 90);
    const kernels = new SimdKernels(tables, own);
    const plain = answers(new ScalarKernels(tables), nm, 9);
    expect(answers(kernels, nm, 9)).toEqual(plain);
    const next = own.take(16);
    expect(answers(kernels, nm, 9)).toEqual(plain);
    expect(own.take(16)).toBe(next + 16);
  });

  it('serve every solver made once they are in use, with the numbers that it gave before', async () => {
    // Other files of this worker may have them in use: modules of its own begin without.
    vi.resetModules();
    const [{ useCompiledKernels }, { SimdKernels }, { offeredKernels }, { solve }] = await Promise.all([
      import('../../../src/optics/simd/compiled-kernels.ts'),
      import('../../../src/optics/simd/simd-kernels.ts'),
      import('../../../src/optics/spectrum-kernels.ts'),
      import('../support/solve.ts'),
    ]);
    const stack = plainStack(span(400, 700, 31), 1, [2.3, 1.46, [2.1, 1e-3]], 1.52);
    const before = solve(stack, [60, 90, 40], 0.4, 'p');
    expect(offeredKernels(layerTables(stack, 0.4, 'p'))).toBeUndefined();
    expect(useCompiledKernels()).toBe(true);
    expect(offeredKernels(layerTables(stack, 0.4, 'p'))).toBeInstanceOf(SimdKernels);
    expect(solve(stack, [60, 90, 40], 0.4, 'p')).toEqual(before);
  });

  it('were compiled from the sources that stand beside them (npm run build compiles them anew)', () => {
    expect(KERNEL_SOURCES).toBe(fingerprint());
  });
});
