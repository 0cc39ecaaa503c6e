/** The index N = n − ik of one medium on a grid of wavelengths; one value a wavelength, n > 0, k >= 0. */
export interface Medium {
  readonly n: Float64Array;
  readonly k: Float64Array;
}
