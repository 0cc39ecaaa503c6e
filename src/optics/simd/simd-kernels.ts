import type { LayerTables, WavelengthRun } from '../layer-tables.ts';
import type { SpectrumKernels } from '../spectrum-kernels.ts';
import type { Kernel, KernelMemory } from './kernel-memory.ts';
import { rowBytes, rowCount, writeBoundaryPlaces, writeRows } from './kernel-rows.ts';

/** Bytes for each layer that the kernels of assembly/ keep on the way up, whichever needs more. */
const SCRATCH_BYTES = 144;
const DOUBLE_BYTES = 8;

/** One run's rows in the kernels' memory. */
interface Lodged {
  readonly kernel: Kernel;
  readonly from: number;
  readonly rows: number;
  readonly end: number;
  readonly rowBytes: number;
  readonly boundaryOf: number;
}

/** The compiled kernels over the tables of one stack: to the last bit what `ScalarKernels` gives. */
export class SimdKernels implements SpectrumKernels {
  readonly #tables: LayerTables;
  readonly #memory: KernelMemory;
  readonly #places: WorkPlaces;
  readonly #thicknessNm: Float64Array;
  readonly #reflectance: Float64Array;
  readonly #transmittance: Float64Array;
  #lodged: readonly Lodged[] = [];
  #generation = -1;

  /** @param tables no larger than `fits` allows. */
  constructor(tables: LayerTables, memory: KernelMemory) {
    this.#tables = tables;
    this.#memory = memory;
    this.#places = workPlaces(tables, memory.work);
    this.#thicknessNm = this.#view(this.#places.thicknessNm, tables.layerCount);
    this.#reflectance = this.#view(this.#places.reflectance, tables.wavelengthCount);
    this.#transmittance = this.#view(this.#places.transmittance, tables.wavelengthCount);
  }

  /** Whether a stack's tables and derivatives find room in the memory. */
  static fits(tables: LayerTables, memory: KernelMemory): boolean {
    const { runs } = tables;
    const bytes = runs.reduce((sum, run) => sum + bytesOf(tables, run), 0);
    return bytes <= memory.tableBytes && workPlaces(tables, 0).end <= memory.workBytes;
  }

  spectrum(thicknessNm: Float64Array, reflectance: Float64Array, transmittance: Float64Array): void {
    this.#lodge();
    this.#thicknessNm.set(thicknessNm);
    for (const run of this.#lodged) this.#run(run, 0, 0, 0);
    reflectance.set(this.#reflectance);
    transmittance.set(this.#transmittance);
  }

  withDerivatives(
    thicknessNm: Float64Array,
    reflectance: Float64Array,
    transmittance: Float64Array,
    reflectanceDerivative: Float64Array,
    transmittanceDerivative: Float64Array,
    amplitudeDerivative?: Float64Array,
  ): void {
    this.#lodge();
    this.#thicknessNm.set(thicknessNm);
    const places = this.#places;
    const line = this.#tables.layerCount * DOUBLE_BYTES;
    for (const run of this.#lodged)
      this.#run(
        run,
        places.reflectanceDerivative + run.from * line,
        places.transmittanceDerivative + run.from * line,
        amplitudeDerivative === undefined ? 0 : places.amplitudeDerivative + 2 * run.from * line,
      );
    reflectance.set(this.#reflectance);
    transmittance.set(this.#transmittance);
    const { length } = reflectanceDerivative;
    reflectanceDerivative.set(this.#view(places.reflectanceDerivative, length));
    transmittanceDerivative.set(this.#view(places.transmittanceDerivative, length));
    amplitudeDerivative?.set(this.#view(places.amplitudeDerivative, 2 * length));
  }

  #run(run: Lodged, byR: number, byT: number, byAmplitude: number): void {
    const { thicknessNm, reflectance, transmittance, scratch } = this.#places;
    run.kernel(
      run.rows,
      run.end,
      run.rowBytes,
      run.boundaryOf,
      this.#tables.layerCount,
      thicknessNm,
      reflectance + run.from * DOUBLE_BYTES,
      transmittance + run.from * DOUBLE_BYTES,
      byR,
      byT,
      byAmplitude,
      scratch,
    );
  }

  /** Writes the tables into the memory unless they are still there. */
  #lodge(): void {
    const memory = this.#memory;
    if (this.#generation === memory.generation) return;
    const tables = this.#tables;
    const total = tables.runs.reduce((sum, run) => sum + bytesOf(tables, run), 0);
    let address = memory.take(total);
    this.#generation = memory.generation;
    this.#lodged = tables.runs.map((run) => {
      const bytes = rowBytes(tables, run);
      const rows = address;
      const end = rows + bytes * rowCount(run);
      writeRows(tables, run, memory.doubles, rows / DOUBLE_BYTES);
      writeBoundaryPlaces(tables, run, memory.integers, end / 4);
      address += bytesOf(tables, run);
      const kernel = run.lossless ? memory.spectrumLossless : memory.spectrumAbsorbing;
      return { kernel, from: run.from, rows, end, rowBytes: bytes, boundaryOf: end };
    });
  }

  #view(address: number, length: number): Float64Array {
    const at = address / DOUBLE_BYTES;
    return this.#memory.doubles.subarray(at, at + length);
  }
}

/** Bytes of a run's rows with the places of its boundaries behind them. */
function bytesOf(tables: LayerTables, run: WavelengthRun): number {
  return rowBytes(tables, run) * rowCount(run) + Math.ceil(tables.layerCount / 4) * 16;
}

/** Addresses in the place to work. */
type WorkPlaces = ReturnType<typeof workPlaces>;

/** Spectra and derivatives have room for one wavelength more: the doubled one of an odd run. */
function workPlaces({ layerCount, wavelengthCount }: LayerTables, work: number) {
  let end = work;
  const take = (doubles: number) => {
    const address = end;
    end += Math.ceil(doubles / 2) * 2 * DOUBLE_BYTES;
    return address;
  };
  const thicknessNm = take(layerCount);
  const reflectance = take(wavelengthCount + 1);
  const transmittance = take(wavelengthCount + 1);
  const scratch = take((layerCount * SCRATCH_BYTES) / DOUBLE_BYTES);
  const size = (wavelengthCount + 1) * layerCount;
  const reflectanceDerivative = take(size);
  const transmittanceDerivative = take(size);
  const amplitudeDerivative = take(2 * size);
  return {
    thicknessNm,
    reflectance,
    transmittance,
    scratch,
    reflectanceDerivative,
    transmittanceDerivative,
    amplitudeDerivative,
    end,
  };
}
