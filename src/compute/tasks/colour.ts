import * as v from 'valibot';
import { RAD_PER_DEG } from '../../base/constants.ts';
import { atPath, InputError } from '../../base/errors.ts';
import { list, quantity, word } from '../../base/schema.ts';
import { COLOUR_WAVELENGTHS_NM, colourOf, spectrumForColour } from '../../optics/colour.ts';
import { computeSpectrum } from '../../optics/spectrum.ts';
import { resolveStack, stackFields } from '../shapes.ts';
import { defineTask } from '../task.ts';

const MOST_POINTS = 20_000;
const points = { min: 2, max: MOST_POINTS };
/** A measured mirror may come out a little above 1; percent given by mistake may not pass. */
const fraction = quantity('', { min: 0, max: 1.2 });

const givenSpectrum = v.strictObject({
  wavelengthNm: list(quantity('nm', { min: 1, max: 1e6 }), points, 'ascending, at least from 380 to 780 nm'),
  R: v.exactOptional(list(fraction, points, 'reflectance as fractions')),
  T: v.exactOptional(list(fraction, points, 'transmittance as fractions, in place of R')),
});

const { substrate, ...otherFields } = stackFields;

/** CONTRACT task 4: the colour of a coated surface, of a plate, or of a given spectrum. */
export default defineTask({
  name: 'colour',
  summary: 'Colour of the light that a stack or a given spectrum reflects or transmits.',
  request: v.strictObject({
    ...otherFields,
    substrate: v.exactOptional(substrate),
    spectrum: v.exactOptional(givenSpectrum),
    incidenceDeg: v.optional(quantity('deg', { min: 0, below: 90 }, 'angle of a stack, natural light'), 0),
    illuminant: v.optional(word(['D65', 'A', 'E'], 'the light (default D65)'), 'D65'),
    of: v.optional(word(['R', 'T'], 'reflected (default) or transmitted light'), 'R'),
  }),
  example: { layers: [{ material: 'mgf2', thicknessNm: 99.6 }], substrate: '517642', illuminant: 'D65' },
  run({ spectrum, substrate, illuminant, of, incidenceDeg, ...request }) {
    if ((spectrum === undefined) === (substrate === undefined))
      throw new InputError(
        spectrum === undefined ? 'substrate' : 'spectrum',
        spectrum === undefined
          ? 'is missing, and no spectrum is given'
          : 'is given together with a stack; give one of both',
      );
    const { values, warnings } =
      spectrum === undefined
        ? ofStack({ ...request, substrate: substrate! }, incidenceDeg, of)
        : { values: ofSpectrum(spectrum, of), warnings: [] };
    const { outOfGamut, ...colour } = colourOf(values, illuminant);
    return {
      ...colour,
      warnings: outOfGamut
        ? [...warnings, 'The colour lies outside what a screen can show; srgb is cut channel by channel.']
        : warnings,
    };
  },
});

type StackAsked = Parameters<typeof resolveStack>[0];

function ofStack(request: StackAsked, incidenceDeg: number, of: 'R' | 'T') {
  const { stack, thicknessNm, plate, warnings } = resolveStack(request, COLOUR_WAVELENGTHS_NM);
  const [only] = computeSpectrum(stack, thicknessNm, {
    incidenceRad: [incidenceDeg * RAD_PER_DEG],
    ...(plate && { plate }),
  });
  return { values: only!.mean[of], warnings };
}

function ofSpectrum(spectrum: v.InferOutput<typeof givenSpectrum>, of: 'R' | 'T'): Float64Array {
  const values = spectrum[of];
  if (values === undefined) throw new InputError(`spectrum.${of}`, 'is missing');
  if (values.length !== spectrum.wavelengthNm.length)
    throw new InputError(
      `spectrum.${of}`,
      `there are ${values.length} values for ${spectrum.wavelengthNm.length} wavelengths`,
    );
  try {
    return spectrumForColour(Float64Array.from(spectrum.wavelengthNm), Float64Array.from(values));
  } catch (error) {
    throw error instanceof InputError ? atPath('spectrum', error) : error;
  }
}
