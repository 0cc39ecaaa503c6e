import { CIRCULAR, HYPERBOLIC, OCTAVE_HALVES, POWERS, ROUNDER } from '../circular-rational.ts';
import { KERNEL_BYTES } from './kernel-bytes.ts';

/** A kernel of assembly/lossless.ts or assembly/absorbing.ts; all but `layerCount` are addresses or lengths in bytes. */
export type Kernel = (
  rows: number,
  end: number,
  rowBytes: number,
  boundaryOf: number,
  layerCount: number,
  thicknessNm: number,
  reflectance: number,
  transmittance: number,
  reflectanceDerivative: number,
  transmittanceDerivative: number,
  amplitudeDerivative: number,
  scratch: number,
) => void;

/** The little that is used of WebAssembly, which the types of neither Node nor ECMAScript know. */
declare const WebAssembly: {
  readonly Module: new (bytes: Uint8Array) => object;
  readonly Instance: new (module: object) => { readonly exports: object };
};

interface KernelExports {
  readonly memory: { readonly buffer: ArrayBuffer };
  readonly spectrumLossless: Kernel;
  readonly spectrumAbsorbing: Kernel;
}

/** Where the tables of circular-rational.ts lie, in doubles; assembly/rational.ts knows it in bytes. */
const CONSTANTS = [
  [0, CIRCULAR],
  [7, ROUNDER],
  [8, HYPERBOLIC],
  [16, OCTAVE_HALVES],
  [144, POWERS],
] as const;
const CONSTANT_BYTES = 16_384;

/**
 * The compiled kernels and their memory: the constants at the bottom, then room for the tables of
 * many stacks, then a place to work that every call uses anew.
 *
 * Tables stay until their room is full; then all of them are forgotten, and who still needs his writes it again. So
 * nobody has to say that he is done with them.
 */
export class KernelMemory {
  readonly spectrumLossless: Kernel;
  readonly spectrumAbsorbing: Kernel;
  /** The memory as numbers; it never grows, so views of it stay good. */
  readonly doubles: Float64Array;
  readonly integers: Int32Array;
  /** Address and bytes of the place to work. */
  readonly work: number;
  readonly workBytes: number;
  /** Goes up when all tables are forgotten. */
  generation = 0;
  #free = CONSTANT_BYTES;

  constructor({ memory, spectrumLossless, spectrumAbsorbing }: KernelExports) {
    this.spectrumLossless = spectrumLossless;
    this.spectrumAbsorbing = spectrumAbsorbing;
    this.doubles = new Float64Array(memory.buffer);
    this.integers = new Int32Array(memory.buffer);
    this.work = memory.buffer.byteLength / 2;
    this.workBytes = memory.buffer.byteLength - this.work;
    for (const [at, values] of CONSTANTS) this.doubles.set(values, at);
  }

  /** Bytes that one stack's tables may take. */
  get tableBytes(): number {
    return this.work - CONSTANT_BYTES;
  }

  /** The address of so many bytes, at most `tableBytes`, for tables that are good for the generation then current. */
  take(bytes: number): number {
    if (this.#free + bytes > this.work) {
      this.#free = CONSTANT_BYTES;
      this.generation++;
    }
    const address = this.#free;
    this.#free += Math.ceil(bytes / 16) * 16;
    return address;
  }
}

/** Kernels with a memory of their own; undefined where WebAssembly with SIMD is missing or the page does not allow it. */
export function loadKernels(): KernelMemory | undefined {
  try {
    const bytes = Uint8Array.from(atob(KERNEL_BYTES), (letter) => letter.charCodeAt(0));
    const { exports } = new WebAssembly.Instance(new WebAssembly.Module(bytes));
    return new KernelMemory(exports as KernelExports);
  } catch {
    return undefined;
  }
}
