import * as v from 'valibot';
import { ELEMENTARY_CHARGE_C, PLANCK_J_S, SPEED_OF_LIGHT_M_PER_S } from '../../base/constants.ts';
import { list, quantity } from '../../base/schema.ts';

/** A photon's energy in eV times its vacuum wavelength in µm: hc/e. */
export const EV_UM = ((PLANCK_J_S * SPEED_OF_LIGHT_M_PER_S) / ELEMENTARY_CHARGE_C) * 1e6;

const energy = (note: string) => quantity('eV', { above: 0, max: 1000 }, note);

const oscillator = v.pipe(
  v.strictObject({
    amplitudeEv: energy('A'),
    peakEv: energy('E0, the energy of the peak transition'),
    broadeningEv: energy('C'),
    gapEv: quantity('eV', { min: 0, max: 100 }, 'Eg, the gap'),
  }),
  v.check(
    ({ peakEv, broadeningEv }) => broadeningEv < 2 * peakEv,
    (issue) =>
      `a broadening of ${issue.input.broadeningEv} eV is not below ${2 * issue.input.peakEv} eV, twice the peak energy`,
  ),
);

/**
 * The Tauc–Lorentz model of an amorphous film: no absorption below the gap, a Lorentzian times Tauc's edge
 * above it, and the real part that belongs to it by Kramers and Kronig.
 * G. E. Jellison and F. A. Modine, Appl. Phys. Lett. 69, 371-373 (1996), erratum 69, 2137 (1996).
 */
export const taucLorentzForm = v.strictObject({
  form: v.literal('tauc-lorentz'),
  epsilonInfinity: quantity('', { min: 0.01, max: 100 }, 'ε at high energy'),
  oscillators: list(oscillator, { min: 1, max: 6 }),
});

/**
 * An exponential tail below the absorption edge: absorption coefficient α = α₀·exp((E − E₀)/Eu) for photons
 * of energy E below E₀, α₀ above; k = αλ/4π. F. Urbach, Phys. Rev. 92, 1324 (1953).
 */
export const urbachTail = v.strictObject({
  form: v.literal('urbach'),
  absorptionPerUm: quantity('1/µm', { min: 0, max: 1e4 }, 'α₀, the absorption coefficient at the edge'),
  edgeEv: energy('E₀, where the tail begins'),
  widthEv: energy('Eu, the energy in which the absorption falls by e'),
});

type TaucLorentz = v.InferOutput<typeof taucLorentzForm>;
type Oscillator = TaucLorentz['oscillators'][number];

/** Real and imaginary part of the permittivity at a wavelength in µm. */
export function taucLorentzPermittivity(
  { epsilonInfinity, oscillators }: TaucLorentz,
  wavelengthUm: number,
): { real: number; imaginary: number } {
  const photonEv = EV_UM / wavelengthUm;
  return oscillators.reduce(
    (sum, each) => ({
      real: sum.real + realPart(each, photonEv),
      imaginary: sum.imaginary + imaginaryPart(each, photonEv),
    }),
    { real: epsilonInfinity, imaginary: 0 },
  );
}

/** Jellison & Modine 1996, eq. 4. */
function imaginaryPart({ amplitudeEv: a, peakEv: e0, broadeningEv: c, gapEv: eg }: Oscillator, e: number) {
  if (e <= eg) return 0;
  return (a * e0 * c * (e - eg) ** 2) / (((e * e - e0 * e0) ** 2 + c * c * e * e) * e);
}

/**
 * Jellison & Modine 1996, eq. 6. Its last two terms are each infinite at E = Eg; their sum is written here
 * with the logarithms gathered, so that what is left there is 0·log 0 = 0.
 */
function realPart({ amplitudeEv: a, peakEv: e0, broadeningEv: c, gapEv: eg }: Oscillator, e: number) {
  const [e2, e02, eg2, c2] = [e * e, e0 * e0, eg * eg, c * c];
  const alpha = Math.sqrt(4 * e02 - c2);
  const gamma2 = e02 - c2 / 2;
  const zeta4 = (e2 - gamma2) ** 2 + (alpha * alpha * c2) / 4;
  const aLog = (eg2 - e02) * e2 + eg2 * c2 - e02 * (e02 + 3 * eg2);
  const aAtan = (e2 - e02) * (e02 + eg2) + eg2 * c2;
  const scale = a / (Math.PI * zeta4);
  const ratio = (e02 + eg2 + alpha * eg) / (e02 + eg2 - alpha * eg);
  const difference = Math.abs(e - eg);
  const gathered =
    (difference === 0 ? 0 : (-(difference ** 2) / e) * Math.log(difference)) +
    ((e + eg) ** 2 / e) * Math.log(e + eg) -
    eg * Math.log((e02 - eg2) ** 2 + eg2 * c2);
  return (
    ((scale * c * aLog) / (2 * alpha * e0)) * Math.log(ratio) -
    ((scale * aAtan) / e0) * (Math.PI - Math.atan((2 * eg + alpha) / c) + Math.atan((alpha - 2 * eg) / c)) +
    ((2 * scale * e0) / alpha) *
      eg *
      (e2 - gamma2) *
      (Math.PI + 2 * Math.atan((2 * (gamma2 - eg2)) / (alpha * c))) +
    scale * e0 * c * gathered
  );
}

/** k of an Urbach tail at a wavelength in µm. */
export function urbachExtinction(
  { absorptionPerUm, edgeEv, widthEv }: v.InferOutput<typeof urbachTail>,
  wavelengthUm: number,
): number {
  const photonEv = EV_UM / wavelengthUm;
  const absorption = absorptionPerUm * Math.exp(Math.min(0, photonEv - edgeEv) / widthEv);
  return (absorption * wavelengthUm) / (4 * Math.PI);
}
