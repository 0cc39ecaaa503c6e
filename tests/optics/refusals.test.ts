import { describe, expect, it } from 'vitest';
import { COLOUR_WAVELENGTHS_NM, colourOf, spectrumForColour } from '../../src/optics/colour.ts';
import { GrowingLayer } from '../../src/optics/growing-layer.ts';
import type { Medium } from '../../src/optics/medium.ts';
import type { PlateOnGrid } from '../../src/optics/plate.ts';
import { computeAveragedSpectrum, computeSpectrum } from '../../src/optics/spectrum.ts';
import { SpectrumSolver } from '../../src/optics/spectrum-solver.ts';
import type { StackOnGrid } from '../../src/optics/stack-on-grid.ts';
import { changed, expectRefused, type Refusal } from '../support/refusals.ts';

const medium = (n: readonly number[], k: readonly number[] = n.map(() => 0)): Medium => ({
  n: Float64Array.from(n),
  k: Float64Array.from(k),
});
const air = medium([1, 1]);
const glass = medium([1.5, 1.5]);
const layer = medium([2.1, 2.1]);
const sound: StackOnGrid = {
  wavelengthNm: Float64Array.of(500, 600),
  incident: air,
  layers: [layer],
  substrate: glass,
};
const at = (stack: StackOnGrid, thicknessNm = [50], incidenceRad = 0) =>
  computeSpectrum(stack, Float64Array.from(thicknessNm), { incidenceRad: [incidenceRad] });
const two = new Float64Array(2);

const stacks: Refusal[] = [
  ...changed<StackOnGrid>(
    sound,
    (stack) => at(stack),
    [{ wavelengthNm: Float64Array.of(500, 0) }, 'wavelengthNm[1]: 0 nm is not above 0 nm'],
    [
      { wavelengthNm: Float64Array.of(500, Number.POSITIVE_INFINITY) },
      'wavelengthNm[1]: Infinity is not a finite',
    ],
    [
      { incident: medium([1, 1], [0, 0.1]) },
      'incident.k[1]: 0.1 is not 0; the incident medium must not absorb',
    ],
    [{ incident: medium([1]) }, 'incident: the medium has 1 values of n and 1 of k for 2 wavelengths'],
    [
      { incident: medium([1], [0, 0]) },
      'incident: the medium has 1 values of n and 2 of k for 2 wavelengths',
    ],
    [
      { substrate: medium([1, 1], [0]) },
      'substrate: the medium has 2 values of n and 1 of k for 2 wavelengths',
    ],
    [{ layers: [medium([2, -1])] }, 'layers[0].n[1]: -1 is below 0'],
    [{ layers: [medium([2, 2], [0, -1])] }, 'layers[0].k[1]: -1 is below 0'],
    [{ layers: [medium([2, 2], [Number.NaN, 0])] }, 'layers[0].k[0]: NaN is not a finite number'],
    [{ substrate: medium([1.5, 0]) }, 'substrate.n[1]: 0 is not above 0 (where k is 0 as well)'],
  ),
  [
    () => new SpectrumSolver({ ...sound, incident: medium([1.5, 1.5], [0.1, 0]) }, 0, 's', medium([1, -1])),
    'angleIn.n[1]: -1 is below 0',
  ],
  [() => at(sound, []), 'thicknessNm: 0 thicknesses are given for 1 layers'],
  [() => at(sound, [-1]), 'thicknessNm[0]: -1 nm is below 0 nm'],
  [() => at(sound, [Number.POSITIVE_INFINITY]), 'thicknessNm[0]: Infinity is not a finite number'],
  [() => at(sound, [50], 1.6), 'incidenceRad: 1.6 rad is not below 1.57'],
  [() => at(sound, [50], -0.1), 'incidenceRad: -0.1 rad is below 0 rad'],
  [
    () => computeSpectrum(sound, Float64Array.of(50), { incidenceRad: [] }),
    'incidenceRad: no angle of incidence',
  ],
];

const plate = { thicknessMm: 1, backLayers: [], backThicknessNm: new Float64Array(0), exit: air };
const plates = changed<PlateOnGrid>(
  plate,
  (some) => computeSpectrum(sound, Float64Array.of(50), { incidenceRad: [0], plate: some }),
  [{ thicknessMm: -1 }, 'plate.thicknessMm: -1 mm is below 0 mm'],
);

const averages = [
  [{ bandwidthNm: -1 }, 'averageOver.bandwidthNm: -1 nm is below 0 nm'],
  [{ coneHalfAngleRad: -1 }, 'averageOver.coneHalfAngleRad: -1 rad is below 0 rad'],
  [{ coneHalfAngleRad: 1.6 }, 'averageOver.coneHalfAngleRad: the cone reaches 1.6 rad from the normal'],
  [
    { bandwidthNm: 1000 },
    'averageOver.bandwidthNm: the band reaches 500 nm to either side of 500 nm, down to no light at all',
  ],
] as const;

const solver = () => new SpectrumSolver(sound, 0, 's');
const places = (path: string, has: number, needs: number) =>
  `${path}: the array has ${has} places where ${needs} are needed`;
const arrays: Refusal[] = [
  [() => solver().spectrum(Float64Array.of(50), new Float64Array(1), two), places('reflectance', 1, 2)],
  [() => solver().spectrum(Float64Array.of(50), two, new Float64Array(3)), places('transmittance', 3, 2)],
  [
    () => solver().frontField(Float64Array.of(50), new Float64Array(1)),
    'front: the array has 1 places where',
  ],
  [
    () => solver().withDerivatives(Float64Array.of(50), two, two, new Float64Array(1), two),
    places('reflectanceDerivative', 1, 2),
  ],
  [
    () => solver().withDerivatives(Float64Array.of(50), two, two, two, new Float64Array(1)),
    places('transmittanceDerivative', 1, 2),
  ],
  [
    () => solver().withDerivatives(Float64Array.of(50), two, two, two, two, two),
    places('amplitudeDerivative', 2, 4),
  ],
];

const growing: Refusal[] = [
  [
    () => new GrowingLayer(sound, new Float64Array(0)),
    'wavelengthNm: 2 wavelengths are given where 1 is needed',
  ],
  [
    () => {
      const one = medium([1.5]);
      const layers = [one, { ...one, profile: Float64Array.of(0.9, 1.1) }];
      const stack = { wavelengthNm: Float64Array.of(550), incident: one, layers, substrate: one };
      return new GrowingLayer(stack, Float64Array.of(50));
    },
    'layers[1].profile: a layer that is graded has no profile while it grows',
  ],
];

const flat = COLOUR_WAVELENGTHS_NM.map(() => 0.5);
const colours: Refusal[] = [
  [
    () => colourOf(flat.slice(1), 'D65'),
    'spectrum: the spectrum has 80 values where 81 are needed, 380 to 780 nm by 5 nm',
  ],
  [
    () => spectrumForColour(COLOUR_WAVELENGTHS_NM, flat.slice(1)),
    'R: there are 80 values for 81 wavelengths',
  ],
  [
    () => spectrumForColour(Float64Array.of(380, 380, 780), Float64Array.of(0, 0, 0)),
    'wavelengthNm[1]: 380 nm is not above 380 nm, the wavelength before it',
  ],
  [
    () => spectrumForColour(Float64Array.of(380, 779), Float64Array.of(0, 0)),
    'wavelengthNm: the spectrum reaches from 380 to 779 nm; colour needs 380 to 780 nm',
  ],
];

describe('an optics question at the edge of sense is answered', () => {
  it('for a metal that conducts without loss, n = 0: it turns back all light', () => {
    const [only] = at({ ...sound, layers: [], substrate: medium([0, 0], [2, 3]) }, []);
    for (const one of ['s', 'p'] as const) {
      expect([...only![one].R].map((value) => Number(value.toFixed(14)))).toEqual([1, 1]);
      expect([...only![one].T]).toEqual([0, 0]);
    }
  });

  it('for layers of no thickness: the bare surface', () => {
    const bare = at({ ...sound, layers: [] }, []);
    at(sound, [0])[0]!.s.R.forEach((value, w) => {
      expect(value).toBeCloseTo(bare[0]!.s.R[w]!, 14);
    });
  });
});

describe('an optics question that makes no sense is refused with its place', () => {
  expectRefused([
    ...[...stacks, ...plates, ...arrays, ...growing, ...colours],
    ...averages.map(
      ([averageOver, sentence]): Refusal => [
        () =>
          computeAveragedSpectrum(() => ({ stack: sound }), sound.wavelengthNm, Float64Array.of(50), {
            incidenceRad: [0],
            averageOver,
          }),
        sentence,
      ],
    ),
  ]);
});
