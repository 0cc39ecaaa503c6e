import { InputError, requireWithin } from '../base/errors.ts';

/** An AT-cut quartz crystal and the film on it. */
export interface CrystalFilm {
  /** Resonance of the clean crystal, Hz, 1e5 to 1e8. */
  readonly frequencyHz: number;
  readonly densityGPerCm3: number;
  /** Acoustic impedance of quartz over that of the film, 0.01 to 10. */
  readonly zRatio: number;
  /**
   * Thickness on the lens / thickness on the crystal, default 1: as crystal monitors define it (common
   * practice, no source). Every thickness here is that on the lens.
   */
  readonly tooling?: number;
  /** Frequency times thickness of the plate, Hz cm; default 166800 (from memory; 1.661e5 is also in use). */
  readonly frequencyConstantHzCm?: number;
  /** Default 2.648, alpha quartz (CRC Handbook table). */
  readonly quartzDensityGPerCm3?: number;
}

/** What a loaded crystal tells. */
export interface CrystalReading {
  /** Thickness on the lens by the acoustic-impedance (Z-match) formula. */
  readonly thicknessNm: number;
  readonly loadedFrequencyHz: number;
  /** Thickness on the lens by Sauerbrey's proportion, for comparison. */
  readonly sauerbreyThicknessNm: number;
  /** Mass on the crystal itself. */
  readonly massPerAreaUgPerCm2: number;
}

export const DEFAULT_FREQUENCY_CONSTANT_HZ_CM = 166_800;
export const DEFAULT_QUARTZ_DENSITY_G_PER_CM3 = 2.648;

/** Beyond this part of the frequency lost the Z-match formula is no longer supported by measurement. */
export const Z_MATCH_LIMIT = 0.4;

/** g/cm2 to film thickness in nm at 1 g/cm3. */
const NM_PER_CM = 1e7;
const UG_PER_G = 1e6;

/**
 * Reads a crystal that has fallen to `loadedFrequencyHz`:
 * m = (N ρq / π Z f) arctan(Z tan(π (f0 − f) / f0))
 * (C.-S. Lu & O. Lewis, J. Appl. Phys. 43, 4385-4390, 1972, eq. 12), with Sauerbrey's
 * m = N ρq (f0 − f) / f0² (Z. Phys. 155, 206-222, 1959) beside it.
 * @throws InputError where a value is outside its range or the loaded frequency above the unloaded one.
 */
export function readCrystal(film: CrystalFilm, loadedFrequencyHz: number): CrystalReading {
  requireFilm(film);
  requireWithin('loadedFrequencyHz', loadedFrequencyHz, 'Hz', { above: 0 });
  if (loadedFrequencyHz > film.frequencyHz)
    throw new InputError(
      'loadedFrequencyHz',
      `${loadedFrequencyHz} Hz is above the unloaded ${film.frequencyHz} Hz`,
    );
  const massGPerCm2 = zMatchMass(film, loadedFrequencyHz);
  const toNm = (NM_PER_CM * (film.tooling ?? 1)) / film.densityGPerCm3;
  return {
    thicknessNm: massGPerCm2 * toNm,
    loadedFrequencyHz,
    sauerbreyThicknessNm:
      ((massPerFrequency(film) * (film.frequencyHz - loadedFrequencyHz)) / film.frequencyHz ** 2) * toNm,
    massPerAreaUgPerCm2: massGPerCm2 * UG_PER_G,
  };
}

/**
 * The other way: the frequency at which a crystal stands when the lens has `thicknessNm`. The Z-match mass
 * falls strictly with the frequency, so the root is unique; it is bracketed and halved to full precision.
 * @throws InputError where the film is too thick for the crystal to carry (it would leave less than a tenth
 * of the frequency).
 */
export function loadCrystal(film: CrystalFilm, thicknessNm: number): CrystalReading {
  requireFilm(film);
  requireWithin('thicknessNm', thicknessNm, 'nm', { min: 0, max: 1e8 });
  const mass = (thicknessNm * film.densityGPerCm3) / (NM_PER_CM * (film.tooling ?? 1));
  let low = film.frequencyHz / 10;
  let high = film.frequencyHz;
  if (zMatchMass(film, low) < mass) {
    const most = readCrystal(film, low).thicknessNm;
    throw new InputError('thicknessNm', `${thicknessNm} nm is more than the crystal can carry (${most} nm)`);
  }
  for (let middle = (low + high) / 2; middle > low && middle < high; middle = (low + high) / 2) {
    if (zMatchMass(film, middle) > mass) low = middle;
    else high = middle;
  }
  return { ...readCrystal(film, high), thicknessNm };
}

/** Sauerbrey's sensitivity 2 f0² / (impedance of quartz) = f0² / (N ρq), in Hz cm2/µg (56.6 at 5 MHz). */
export function crystalSensitivity(
  frequencyHz: number,
  frequencyConstantHzCm = DEFAULT_FREQUENCY_CONSTANT_HZ_CM,
  quartzDensityGPerCm3 = DEFAULT_QUARTZ_DENSITY_G_PER_CM3,
): number {
  requireWithin('frequencyHz', frequencyHz, 'Hz', { min: 1e5, max: 1e8 });
  return frequencyHz ** 2 / (frequencyConstantHzCm * quartzDensityGPerCm3) / UG_PER_G;
}

/** The arctangent continued through the pole of the tangent (half the frequency lost), so it never jumps. */
function zMatchMass(film: CrystalFilm, loadedFrequencyHz: number): number {
  const { frequencyHz, zRatio } = film;
  const angle = (Math.PI * (frequencyHz - loadedFrequencyHz)) / frequencyHz;
  const shift = Math.atan2(zRatio * Math.sin(angle), Math.cos(angle));
  return (massPerFrequency(film) * shift) / (Math.PI * zRatio * loadedFrequencyHz);
}

/** N ρq, in g Hz / cm2. */
function massPerFrequency(film: CrystalFilm): number {
  return (
    (film.frequencyConstantHzCm ?? DEFAULT_FREQUENCY_CONSTANT_HZ_CM) *
    (film.quartzDensityGPerCm3 ?? DEFAULT_QUARTZ_DENSITY_G_PER_CM3)
  );
}

function requireFilm(film: CrystalFilm): void {
  requireWithin('frequencyHz', film.frequencyHz, 'Hz', { min: 1e5, max: 1e8 });
  requireWithin('densityGPerCm3', film.densityGPerCm3, 'g/cm3', { above: 0, max: 30 });
  requireWithin('zRatio', film.zRatio, '', { min: 0.01, max: 10 });
  requireWithin('tooling', film.tooling ?? 1, '', { min: 0.001, max: 1000 });
  requireWithin('frequencyConstantHzCm', film.frequencyConstantHzCm ?? 1e5, 'Hz cm', { min: 1e5, max: 5e5 });
  requireWithin('quartzDensityGPerCm3', film.quartzDensityGPerCm3 ?? 2.6, 'g/cm3', { min: 2, max: 3 });
}
