import { requireWithin } from '../base/errors.ts';

/** A tooling factor (thickness on the sensor over thickness on the lens) with one standard deviation. */
export interface ToolingFactor {
  readonly tooling: number;
  readonly sigma: number;
}

/**
 * The tooling that the next run should use after the lens turned out `thicknessFactor` times as thick as planned
 * although the sensor was stopped where the tooling said. The sensor's thickness was right by itself, so the lens
 * got more by that factor: tooling / thicknessFactor.
 */
export function correctedTooling(
  tooling: number,
  thicknessFactor: number,
  sigmaOfFactor: number,
): ToolingFactor {
  requireWithin('tooling', tooling, '', { above: 0 });
  requireWithin('thicknessFactor', thicknessFactor, '', { above: 0 });
  requireWithin('sigmaOfFactor', sigmaOfFactor, '', { min: 0 });
  const corrected = tooling / thicknessFactor;
  return { tooling: corrected, sigma: (corrected * sigmaOfFactor) / thicknessFactor };
}

/**
 * The tooling that a history of runs supports: the mean of the runs' own values weighted by 1/σ², and its standard
 * deviation, enlarged where the runs scatter more than their σ explain (R. T. Birge, Phys. Rev. 40, 207, 1932).
 */
export function pooledTooling(history: readonly ToolingFactor[]): ToolingFactor | undefined {
  if (history.length === 0) return undefined;
  for (const [i, { tooling, sigma }] of history.entries()) {
    requireWithin(`[${i}].tooling`, tooling, '', { above: 0 });
    requireWithin(`[${i}].sigma`, sigma, '', { above: 0 });
  }
  const weight = history.reduce((sum, { sigma }) => sum + 1 / sigma ** 2, 0);
  const tooling = history.reduce((sum, run) => sum + run.tooling / run.sigma ** 2, 0) / weight;
  const chi = history.reduce((sum, run) => sum + ((run.tooling - tooling) / run.sigma) ** 2, 0);
  const scatter = history.length < 2 ? 1 : Math.max(1, Math.sqrt(chi / (history.length - 1)));
  return { tooling, sigma: scatter / Math.sqrt(weight) };
}
