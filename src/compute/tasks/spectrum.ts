import * as v from 'valibot';
import { RAD_PER_DEG } from '../../base/constants.ts';
import { InputError, limitFault } from '../../base/errors.ts';
import { list, quantity, word, yesOrNo } from '../../base/schema.ts';
import { groupDelayFs } from '../../optics/group-delay.ts';
import { type IndexDerivatives, indexDerivatives } from '../../optics/index-derivatives.ts';
import {
  type AngleSpectra,
  computeAveragedSpectrum,
  computeSpectrum,
  type PolarizedSpectra,
  type Spectra,
} from '../../optics/spectrum.ts';
import { wavelengthGrid } from '../grid.ts';
import { resolveStack, shortest, stackFields } from '../shapes.ts';
import { defineTask } from '../task.ts';

const angle = quantity('deg', { min: 0, below: 90 });

const averageShape = v.strictObject({
  bandwidthNm: v.exactOptional(quantity('nm', { min: 0, max: 1e5 }, 'width of the band of light')),
  bandShape: v.exactOptional(
    word(['rectangular', 'gaussian'], 'rectangular (default), or gaussian with the width at half maximum'),
  ),
  coneHalfAngleDeg: v.exactOptional(
    quantity('deg', { min: 0, below: 90 }, 'half angle of a cone of rays, uniform in solid angle'),
  ),
});

/** CONTRACT task 2: spectra of a coated surface or plate. */
export default defineTask({
  name: 'spectrum',
  summary: 'Reflectance, transmittance, absorptance and phase of a coated surface or plate.',
  request: v.strictObject({
    ...stackFields,
    wavelengthNm: wavelengthGrid,
    incidenceDeg: v.optional(list(angle, { min: 1, max: 1000 }, 'angles in the incident medium'), [0]),
    averageOver: v.exactOptional(averageShape),
    derivative: v.optional(yesOrNo('add dR/dd and dT/dd of every layer'), false),
    indexDerivative: v.optional(
      yesOrNo('add dR/dn, dR/dk, dT/dn and dT/dk of every layer; of a front surface in unaveraged light'),
      false,
    ),
    groupDelay: v.optional(yesOrNo('add the group delay of the front surface in reflection, fs'), false),
  }),
  example: {
    layers: [{ material: 'mgf2', thicknessNm: 99.6 }],
    substrate: '517642',
    wavelengthNm: { from: 450, to: 650, step: 50 },
    incidenceDeg: [0, 30],
  },
  run({ wavelengthNm, incidenceDeg, averageOver, derivative, indexDerivative, groupDelay, ...request }) {
    const shortestNm = shortest(wavelengthNm);
    const resolve = (nm: Float64Array) => resolveStack(request, nm, shortestNm);
    const { stack, thicknessNm, plate, warnings } = resolve(wavelengthNm);
    if (indexDerivative && (plate !== undefined || averageOver !== undefined))
      throw new InputError(
        'indexDerivative',
        `is of a front surface in unaveraged light; leave out ${plate === undefined ? 'averageOver' : 'plate'}`,
      );
    const options = { incidenceRad: incidenceDeg.map((deg) => deg * RAD_PER_DEG), derivative };
    let angles: AngleSpectra[];
    let doubts: readonly string[] = [];
    if (averageOver === undefined) {
      angles = computeSpectrum(stack, thicknessNm, { ...options, ...(plate && { plate }) });
    } else {
      const { coneHalfAngleDeg = 0, ...band } = averageOver;
      requireCone(coneHalfAngleDeg, incidenceDeg);
      const averaged = computeAveragedSpectrum(resolve, wavelengthNm, thicknessNm, {
        ...options,
        averageOver: { ...band, coneHalfAngleRad: coneHalfAngleDeg * RAD_PER_DEG },
      });
      angles = averaged.angles;
      doubts = averaged.warnings;
    }
    const delays = (which: 's' | 'p') =>
      options.incidenceRad.map((angle) =>
        Array.from(groupDelayFs((nm) => resolve(nm).stack, wavelengthNm, thicknessNm, angle, which)),
      );
    const polarized = (which: 's' | 'p') => ({
      ...polarizedAnswer(angles.map((one) => one[which])),
      ...(groupDelay && { groupDelayFs: delays(which) }),
    });
    const slopes = (which: 's' | 'p') =>
      slopeAnswer(
        angles.map((one) => one[which]),
        request.layers.length,
      );
    const indexSlopes = (which: 's' | 'p') =>
      indexSlopeAnswer(
        options.incidenceRad.map((angle) => indexDerivatives(stack, thicknessNm, angle, which)),
        wavelengthNm.length,
        request.layers.length,
      );
    return {
      wavelengthNm: Array.from(wavelengthNm),
      incidenceDeg,
      s: polarized('s'),
      p: polarized('p'),
      mean: spectraAnswer(angles.map((one) => one.mean)),
      ...(derivative && { derivative: { s: slopes('s'), p: slopes('p') } }),
      ...(indexDerivative && { indexDerivative: { s: indexSlopes('s'), p: indexSlopes('p') } }),
      warnings: [...warnings, ...doubts],
    };
  },
});

function requireCone(coneHalfAngleDeg: number, incidenceDeg: readonly number[]): void {
  const widest = Math.max(...incidenceDeg);
  const fault = limitFault(coneHalfAngleDeg, 'deg', { below: 90 - widest });
  if (fault !== undefined)
    throw new InputError(
      'averageOver.coneHalfAngleDeg',
      `${fault} (90 deg less the incidence of ${widest} deg)`,
    );
}

function spectraAnswer(spectra: readonly Spectra[]) {
  const rows = (of: 'R' | 'T' | 'A') => spectra.map((one) => Array.from(one[of]));
  return { R: rows('R'), T: rows('T'), A: rows('A') };
}

function polarizedAnswer(spectra: readonly PolarizedSpectra[]) {
  const phaseRDeg = spectra.map(({ phaseRad }) => Array.from(phaseRad, (rad) => rad / RAD_PER_DEG));
  return { ...spectraAnswer(spectra), phaseRDeg };
}

/** [angle][wavelength][layer]. */
function slopeAnswer(spectra: readonly PolarizedSpectra[], layerCount: number) {
  const rows = (of: 'R' | 'T') =>
    spectra.map(({ derivative, R }) => byWavelength(derivative![of], R.length, layerCount));
  return { R: rows('R'), T: rows('T') };
}

/** [angle][wavelength][layer], for n and k each. */
function indexSlopeAnswer(slopes: readonly IndexDerivatives[], wavelengthCount: number, layerCount: number) {
  const rows = (of: 'R' | 'T', by: 'n' | 'k') =>
    slopes.map((one) => byWavelength(one[of][by], wavelengthCount, layerCount));
  return { R: { n: rows('R', 'n'), k: rows('R', 'k') }, T: { n: rows('T', 'n'), k: rows('T', 'k') } };
}

function byWavelength(flat: Float64Array, wavelengthCount: number, layerCount: number): number[][] {
  return Array.from({ length: wavelengthCount }, (_, w) =>
    Array.from(flat.subarray(w * layerCount, (w + 1) * layerCount)),
  );
}
