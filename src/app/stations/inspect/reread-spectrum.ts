import { InputError } from '../../../base/errors.ts';
import { fixed } from '../../../base/format.ts';
import type { Batch, MeasuredSpectrum, SpectrumReading } from '../../../batch/document.ts';
import type { SpectrumBaseline } from '../../../batch/run-record.ts';
import { correctBaseline } from '../../../inspect/correct-baseline.ts';
import type { MeasuredSpectrum as ReadSpectrum } from '../../../inspect/measured-spectrum.ts';
import { readSpectrum } from '../../../inspect/read-spectrum.ts';
import { removeBackSide } from '../../../inspect/remove-back-side.ts';
import { smoothSpectrum } from '../../../inspect/smooth-spectrum.ts';
import { resolveIndex } from '../../../materials/index-spec.ts';

/** Up to this angle the reflectance of a bare back is taken as that at normal incidence. */
const NEARLY_NORMAL_DEG = 10;
/** A reflectance below this is no noise any more. */
const CLEARLY_NEGATIVE = -0.005;

/**
 * Reads a spectrum anew from its original by the reader's choices; first it is put on its baseline, then the bare back
 * is taken off, then it is smoothed.
 * @throws InputError where the original is not kept, the choices do not fit it, or a treatment does not apply.
 */
export function rereadSpectrum(
  batch: Batch,
  { original, incidenceDeg }: MeasuredSpectrum,
  { smoothPoints, bareBackRemoved, baseline, ...choices }: SpectrumReading,
): ReadSpectrum {
  if (original === undefined) throw new InputError('original', 'the original file is not kept with it');
  const file = readSpectrum(original, choices);
  const read = baseline === undefined ? file : { ...file, values: onBaseline(batch, file, baseline) };
  const front = bareBackRemoved ? withoutBack(batch, read, incidenceDeg) : read.values;
  const values = smoothPoints === undefined ? front : smoothSpectrum(read.wavelengthNm, front, smoothPoints);
  const lowest = Math.min(...values);
  const doubt =
    bareBackRemoved && lowest < CLEARLY_NEGATIVE
      ? [
          `Without the back the reflectance falls to ${fixed(100 * lowest, 2)} %: the back was hardly bare when this was measured.`,
        ]
      : [];
  return { ...read, values, warnings: [...read.warnings, ...doubt] };
}

function onBaseline(
  batch: Batch,
  { wavelengthNm, values, quantity }: ReadSpectrum,
  { zero, full, certificate, referencePercent, bareReference }: SpectrumBaseline,
): Float64Array {
  if (bareReference && quantity !== 'R')
    throw new InputError('baseline', 'a bare surface is the reference of a reflectance only');
  const bare = { name: 'the bare surface', wavelengthNm, values: bareReflectance(batch, wavelengthNm) };
  const given = certificate ?? (referencePercent === undefined ? undefined : referencePercent / 100);
  return correctBaseline(wavelengthNm, values, { zero, full, reference: bareReference ? bare : given });
}

/** One surface reflects ((n − 1)² + k²) / ((n + 1)² + k²): Fresnel's formula at normal incidence, glass against air. */
function bareReflectance({ order, materials }: Batch, wavelengthNm: Float64Array): Float64Array {
  const { n, k } = resolveIndex(order.lens.substrate, wavelengthNm, materials);
  return n.map((real, w) => ((real - 1) ** 2 + k[w]! ** 2) / ((real + 1) ** 2 + k[w]! ** 2));
}

function withoutBack(
  batch: Batch,
  { quantity, wavelengthNm, values }: ReadSpectrum,
  incidenceDeg: number,
): Float64Array {
  if (quantity !== 'R') throw new InputError('quantity', 'the bare back can only be taken off a reflectance');
  if (incidenceDeg > NEARLY_NORMAL_DEG)
    throw new InputError(
      'incidenceDeg',
      `the bare back can only be taken off up to ${NEARLY_NORMAL_DEG}°, and this was measured at ${incidenceDeg}°`,
    );
  return removeBackSide(values, bareReflectance(batch, wavelengthNm));
}
