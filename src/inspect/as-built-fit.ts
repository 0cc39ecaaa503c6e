import { InputError } from '../base/errors.ts';
import { AsBuiltModel, type Deviation, type MeasuredCoating } from './as-built-model.ts';
import { type FittedDeviations, fitDeviations, isInformed } from './fit-deviations.ts';

/** What is left free in a fit. */
export interface FitOptions {
  /** One thickness factor a material, or one a layer. */
  readonly free: 'materials' | 'layers';
  /** Also one factor on the index of each material. */
  readonly indexScale: boolean;
}

/** A thickness factor, the ratio of what lies on the glass to what was planned. */
export interface FittedFactor {
  /** Numbers of the layers that share it, the first on the substrate being 0. */
  readonly layers: readonly number[];
  readonly thicknessFactor: number;
  /** One standard deviation. */
  readonly sigma: number;
  readonly indexFactor?: number;
  readonly indexSigma?: number;
}

/** The coating as it was most likely built. */
export interface AsBuilt {
  readonly factors: readonly FittedFactor[];
  readonly thicknessNm: Float64Array;
  readonly residualRms: number;
  /** Measured minus computed, one a wavelength. */
  readonly residual: Float64Array;
  /** False where the measurement cannot tell some factors apart, or says hardly anything on one. */
  readonly identifiable: boolean;
  /** Names of the fitted quantities, in the order of `correlation` (row-major). */
  readonly fitted: readonly string[];
  readonly correlation: Float64Array;
  readonly warnings: readonly string[];
}

/** Beyond this correlation two factors count as one. */
const CANNOT_TELL = 0.98;

/**
 * Fits thickness factors (and index factors) to a measurement.
 * @param groups the layers of each material, named for the sentences.
 * @throws InputError where there are no layers or fewer wavelengths than factors.
 */
export function fitAsBuilt(
  coating: MeasuredCoating,
  groups: readonly MaterialGroup[],
  { free, indexScale }: FitOptions,
): AsBuilt {
  if (coating.stack.layers.length === 0) throw new InputError('layers', 'there is no layer to fit');
  const thicknessGroups = free === 'materials' ? groups : eachLayer(groups);
  const thickness = thicknessGroups.map(({ layers }): Deviation => ({ kind: 'thickness', layers }));
  const index = indexScale ? groups.map(({ layers }): Deviation => ({ kind: 'index', layers })) : [];
  const deviations = [...thickness, ...index];
  const points = coating.stack.wavelengthNm.length;
  if (points < deviations.length)
    throw new InputError(
      'measured.wavelengthNm',
      `${points} wavelengths cannot settle ${deviations.length} factors; measure more or free fewer`,
    );

  const fit = fitDeviations(coating, deviations, coarserStarts(coating, groups, deviations, free));
  const fitted = [
    ...thicknessGroups.map(({ name }) => `thickness of ${name}`),
    ...(indexScale ? groups.map(({ name }) => `index of ${name}`) : []),
  ];
  const doubts = doubtsOf(deviations, fit, fitted);
  const model = new AsBuiltModel(coating, deviations);
  const light = new Float64Array(model.pointCount);
  model.values(fit.x, light);
  return {
    factors: thicknessGroups.map(({ layers }, i) => {
      const material = groups.findIndex((group) => group.layers.includes(layers[0]!));
      const at = thickness.length + material;
      return {
        layers,
        thicknessFactor: fit.x[i]!,
        sigma: fit.sigma[i]!,
        ...(indexScale ? { indexFactor: fit.x[at]!, indexSigma: fit.sigma[at]! } : {}),
      };
    }),
    thicknessNm: model.thicknessesNm(fit.x),
    residualRms: fit.residualRms,
    residual: coating.values.map((value, w) => value - light[w]!),
    identifiable: doubts.length === 0,
    fitted,
    correlation: fit.correlation,
    warnings: fit.converged ? doubts : [...doubts, 'The fit was ended before it settled.'],
  };
}

/** The layers of one material. */
export interface MaterialGroup {
  readonly name: string;
  readonly layers: readonly number[];
}

function eachLayer(groups: readonly MaterialGroup[]): MaterialGroup[] {
  return groups
    .flatMap(({ name, layers }) =>
      layers.map((layer) => ({ name: `layer ${layer + 1} (${name})`, layers: [layer] })),
    )
    .sort((a, b) => a.layers[0]! - b.layers[0]!);
}

/** A fit by layers starts also from where a fit by materials ends. */
function coarserStarts(
  coating: MeasuredCoating,
  groups: readonly MaterialGroup[],
  deviations: readonly Deviation[],
  free: FitOptions['free'],
): Float64Array[] {
  if (free === 'materials') return [];
  const coarse = fitDeviations(
    coating,
    groups.map(({ layers }) => ({ kind: 'thickness', layers })),
  );
  return [
    Float64Array.from(deviations, ({ kind, layers }) =>
      kind === 'thickness' ? coarse.x[groups.findIndex((group) => group.layers.includes(layers[0]!))]! : 1,
    ),
  ];
}

function doubtsOf(
  deviations: readonly Deviation[],
  { sigma, correlation }: FittedDeviations,
  names: readonly string[],
): string[] {
  const size = deviations.length;
  const doubts: string[] = [];
  for (let i = 0; i < size; i++)
    for (let j = 0; j < i; j++)
      if (Math.abs(correlation[i * size + j]!) > CANNOT_TELL)
        doubts.push(`The measurement cannot tell the ${names[j]} from the ${names[i]}.`);
  const vague = names.filter((_, p) => !isInformed(deviations[p]!, sigma[p]!));
  if (vague.length > 0) doubts.push(`The measurement says hardly anything on the ${vague.join(', the ')}.`);
  return doubts;
}
