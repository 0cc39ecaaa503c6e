import { afterEach, describe, expect, it, vi } from 'vitest';
import { layerTables } from '../../../src/optics/layer-tables.ts';
import { type KernelMemory, loadKernels } from '../../../src/optics/simd/kernel-memory.ts';
import { SimdKernels } from '../../../src/optics/simd/simd-kernels.ts';
import { plainStack, span } from '../support/stacks.ts';

const tablesOf = (wavelengths: number, layers: Parameters<typeof plainStack>[2]) =>
  layerTables(plainStack(span(400, 700, wavelengths), 1, layers, 1.52), 0, 's');

describe('the compiled kernels’ memory', () => {
  const memory = loadKernels() as KernelMemory;

  it('gives room in wholes of 16 bytes, one after the other, until it is full; then from the beginning', () => {
    const generation = memory.generation;
    const first = memory.take(40);
    expect(first % 16).toBe(0);
    expect(memory.take(48)).toBe(first + 48);
    expect(memory.take(1)).toBe(first + 96);
    expect(memory.generation).toBe(generation);
    expect(memory.take(memory.tableBytes)).toBe(first);
    expect(memory.generation).toBe(generation + 1);
    expect(memory.take(16)).toBe(first);
    expect(memory.generation).toBe(generation + 2);
  });

  it('has its tables below the place to work, which reaches to its end', () => {
    const first = memory.take(memory.tableBytes);
    expect(first + memory.tableBytes).toBe(memory.work);
    expect(memory.work + memory.workBytes).toBe(memory.doubles.length * 8);
    expect(memory.integers).toHaveLength(2 * memory.doubles.length);
  });

  it.each([
    // Rows for two wavelengths each, of pairs of doubles: 4 and 3 a boundary without loss, 5 and 6 with it; then four
    // places of boundaries in 16 bytes. To work with: thicknesses, R, T, 144 bytes a layer, dR, dT, dr.
    ['one lossless layer', tablesOf(5, [2.3]), 3 * 16 * (4 + 3) + 16, 16 + 48 + 48 + 144 + 48 + 48 + 96],
    ['one absorbing layer', tablesOf(5, [[2.3, 0.1]]), 3 * 16 * (5 + 6) + 16, 448],
    [
      'five layers that make five boundaries',
      tablesOf(4, [2.3, 1.46, 1.38, 2.1, 1.9]),
      2 * 16 * (4 + 5 * 3) + 32,
      48 + 48 + 48 + 5 * 144 + 208 + 208 + 400,
    ],
  ] as const)(
    'holds %s where it has room for its rows and results to the byte',
    (_, tables, tableBytes, workBytes) => {
      const fits = (less: number, lessWork: number) =>
        SimdKernels.fits(tables, {
          tableBytes: tableBytes - less,
          workBytes: workBytes - lessWork,
        } as KernelMemory);
      expect([fits(0, 0), fits(1, 0), fits(0, 1)]).toEqual([true, false, false]);
    },
  );
});

describe('the use of the compiled kernels', () => {
  afterEach(() => {
    vi.unstubAllGlobals();
  });
  const fresh = async () => {
    vi.resetModules();
    const [{ useCompiledKernels }, { offeredKernels }] = await Promise.all([
      import('../../../src/optics/simd/compiled-kernels.ts'),
      import('../../../src/optics/spectrum-kernels.ts'),
    ]);
    return { useCompiledKernels, offeredKernels };
  };

  it('begins at four wavelengths', async () => {
    const { useCompiledKernels, offeredKernels } = await fresh();
    expect([useCompiledKernels(), useCompiledKernels()]).toEqual([true, true]);
    expect(offeredKernels(tablesOf(3, [2.3]))).toBeUndefined();
    expect(offeredKernels(tablesOf(4, [2.3]))).toBeDefined();
    // A million layers find no room.
    expect(offeredKernels({ ...tablesOf(4, [2.3]), layerCount: 1e6 })).toBeUndefined();
  });

  it('is left where the page allows no WebAssembly: all stays as it was', async () => {
    vi.stubGlobal('WebAssembly', undefined);
    expect(loadKernels()).toBeUndefined();
    const { useCompiledKernels, offeredKernels } = await fresh();
    expect([useCompiledKernels(), useCompiledKernels()]).toEqual([false, false]);
    expect(offeredKernels(tablesOf(8, [2.3]))).toBeUndefined();
  });
});
