/** Physical constants, CODATA 2018/2022 (the first five are exact by the definition of the SI). */
export const SPEED_OF_LIGHT_M_PER_S = 299_792_458;
export const PLANCK_J_S = 6.626_070_15e-34;
export const BOLTZMANN_J_PER_K = 1.380_649e-23;
export const AVOGADRO_PER_MOL = 6.022_140_76e23;
export const ELEMENTARY_CHARGE_C = 1.602_176_634e-19;
/** CODATA 2022. */
export const ATOMIC_MASS_KG = 1.660_539_068_92e-27;
export const MOLAR_GAS_J_PER_MOL_K = 8.314_462_618_153_24;
export const STEFAN_BOLTZMANN_W_PER_M2_K4 = 5.670_374_419_184_431_4e-8;

/** Conversions that are exact by definition. */
export const PA_PER_TORR = 101_325 / 760;
export const PA_PER_MBAR = 100;
export const CELSIUS_ZERO_K = 273.15;
export const NM_PER_UM = 1000;
export const NM_PER_ANGSTROM = 0.1;
export const RAD_PER_DEG = Math.PI / 180;
export const S_PER_MIN = 60;
export const S_PER_H = 3600;

/**
 * Spectral lines in nm, as glass catalogues give them (C, d, F, e; from memory, checked against
 * handbook tables carried in tests) and two laser lines.
 */
export const SPECTRAL_LINE_NM = {
  C: 656.2725,
  d: 587.5618,
  F: 486.1327,
  e: 546.074,
  heNe: 632.8,
  ndYag: 1064,
} as const;
