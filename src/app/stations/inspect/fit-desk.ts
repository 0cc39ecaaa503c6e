import type { Bench } from '../../bench.ts';
import { startWorker } from '../../compute-workers.ts';
import { TaskRun } from '../../task-run.ts';
import type { FitWishes } from './fit-request.ts';

/** What the task "fit" answers with `compare`. A factor belongs to a material or to a layer, as was asked. */
export interface FitAnswer {
  readonly factors: readonly FittedFactor[];
  readonly residualRmsPercent: number;
  readonly identifiable: boolean;
  readonly layers: readonly { readonly thicknessNm: number }[];
  readonly fitted: readonly string[];
  readonly correlation: readonly (readonly number[])[];
  readonly residual: Float64Array;
  readonly verdict: string;
  readonly decided: boolean;
  readonly explanations: readonly {
    readonly sentence: string;
    readonly probability: number;
    readonly residualRmsPercent: number;
  }[];
  readonly warnings: readonly string[];
}

export interface FittedFactor {
  readonly thicknessFactor: number;
  readonly sigma: number;
  readonly indexFactor?: number;
  readonly indexSigma?: number;
}

/** The Inspect station's questions to its worker; they outlive the view. */
export class FitDesk {
  readonly #listeners = new Set<() => void>();
  readonly fit = new TaskRun<FitAnswer>('fit', startWorker, () => this.changed());
  /** Batch, run and spectrum that question and answer are about. */
  about = '';
  wishes: FitWishes = { free: 'materials', indexScale: false };

  changed(): void {
    for (const listener of this.#listeners) listener();
  }

  subscribe(listener: () => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }
}

const desks = new WeakMap<Bench, FitDesk>();

/** The desk that belongs to a bench. */
export function fitDeskOf(bench: Bench): FitDesk {
  const desk = desks.get(bench) ?? new FitDesk();
  desks.set(bench, desk);
  return desk;
}
