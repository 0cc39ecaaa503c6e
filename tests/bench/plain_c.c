/*
 * The same computation in plain C: layers outside, wavelengths inside over arrays of state; sine and cosine in
 * loops of their own (together gcc would make a scalar sincos of them), so that the compiler vectorises all
 * of it with the vector math library.
 *
 *   gcc -O3 -march=native -ffast-math plain_c.c -lm
 *
 * Reads numbers from standard input (see bench.ts): counts, then tables; prints ns a unit, one a batch, and
 * the sum of R.
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

static double *numbers(int count) {
  double *array = aligned_alloc(64, (count * sizeof(double) + 63) / 64 * 64);
  for (int i = 0; i < count; i++)
    if (scanf("%lf", array + i) != 1) exit(1);
  return array;
}

static double processor_time(void) {
  struct timespec now;
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
  return now.tv_sec + 1e-9 * now.tv_nsec;
}

static int layers, wavelengths, polarizations, absorbing;
static double *br, *bi, *cr, *ci, *sine, *cosine, *decay;

static void turn(double d, const double *restrict wave, double *restrict sn, double *restrict cs) {
  for (int w = 0; w < wavelengths; w++) sn[w] = sin(wave[w] * d);
  for (int w = 0; w < wavelengths; w++) cs[w] = cos(wave[w] * d);
}

static void lossless_layer(const double *restrict sn, const double *restrict cs, const double *restrict eta,
                           double *restrict br, double *restrict bi, double *restrict cr, double *restrict ci) {
  for (int w = 0; w < wavelengths; w++) {
    double c = cs[w], s = sn[w], up = s * eta[w], down = s / eta[w];
    double nbr = c * br[w] - down * ci[w], nbi = c * bi[w] + down * cr[w];
    double ncr = c * cr[w] - up * bi[w], nci = c * ci[w] + up * br[w];
    br[w] = nbr, bi[w] = nbi, cr[w] = ncr, ci[w] = nci;
  }
}

static void fade(double d, const double *restrict wave, double *restrict m) {
  for (int w = 0; w < wavelengths; w++) m[w] = exp(2 * wave[w] * d);
}

static void absorbing_layer(const double *restrict sn, const double *restrict cs, const double *restrict m,
                            const double *restrict eta, const double *restrict eta_i, double *restrict br,
                            double *restrict bi, double *restrict cr, double *restrict ci) {
  for (int w = 0; w < wavelengths; w++) {
    double even = 0.5 * (1 + m[w]), odd = 0.5 * (1 - m[w]), c = cs[w], s = sn[w];
    double y = eta[w], yi = eta_i[w], size = 1 / (y * y + yi * yi);
    double cosr = even * c, cosi = odd * s, sinr = odd * c, sini = even * s;
    double upr = sinr * y - sini * yi, upi = sinr * yi + sini * y;
    double dnr = (sinr * y + sini * yi) * size, dni = (sini * y - sinr * yi) * size;
    double nbr = cosr * br[w] - cosi * bi[w] + dnr * cr[w] - dni * ci[w];
    double nbi = cosr * bi[w] + cosi * br[w] + dnr * ci[w] + dni * cr[w];
    double ncr = cosr * cr[w] - cosi * ci[w] + upr * br[w] - upi * bi[w];
    double nci = cosr * ci[w] + cosi * cr[w] + upr * bi[w] + upi * br[w];
    br[w] = nbr, bi[w] = nbi, cr[w] = ncr, ci[w] = nci;
  }
}

static double *thickness, *table[4], *front[2], *glass[2], *reflectance;

static double spectra(void) {
  double sum = 0;
  for (int p = 0; p < polarizations; p++) {
    for (int w = 0; w < wavelengths; w++) br[w] = 1, bi[w] = 0, cr[w] = glass[p][w], ci[w] = 0;
    for (int j = 0; j < layers; j++) {
      int at = (p * layers + j) * wavelengths;
      turn(thickness[j], table[0] + at, sine, cosine);
      if (absorbing) {
        fade(thickness[j], table[1] + at, decay);
        absorbing_layer(sine, cosine, decay, table[2] + at, table[3] + at, br, bi, cr, ci);
      } else {
        lossless_layer(sine, cosine, table[2] + at, br, bi, cr, ci);
      }
    }
    for (int w = 0; w < wavelengths; w++) {
      double y = front[p][w];
      double ur = y * br[w] - cr[w], ui = y * bi[w] - ci[w], vr = y * br[w] + cr[w], vi = y * bi[w] + ci[w];
      reflectance[w] = (ur * ur + ui * ui) / (vr * vr + vi * vi);
      sum += reflectance[w];
    }
  }
  return sum;
}

static double nominal, sink;

static double batch(int repeat) {
  double start = processor_time();
  for (int round = 0; round < repeat; round++) {
    thickness[0] = nominal + round % 7;
    sink += spectra();
  }
  return processor_time() - start;
}

int main(void) {
  if (scanf("%d %d %d %d", &layers, &wavelengths, &polarizations, &absorbing) != 4) return 1;
  thickness = numbers(layers);
  nominal = thickness[0];
  int size = layers * wavelengths * polarizations;
  for (int part = 0; part < 4; part++) table[part] = numbers(size);
  for (int p = 0; p < polarizations; p++) front[p] = numbers(wavelengths), glass[p] = numbers(wavelengths);
  size_t bytes = (wavelengths * sizeof(double) + 63) / 64 * 64;
  double **state[] = {&br, &bi, &cr, &ci, &sine, &cosine, &decay, &reflectance};
  for (int i = 0; i < 8; i++) *state[i] = aligned_alloc(64, bytes);
  int repeat = 1;
  while (batch(repeat) < 0.04) repeat *= 2;
  printf("{\"timesNs\": [");
  for (int i = 0; i < 15; i++) printf("%s%.6g", i ? ", " : "", batch(repeat) * 1e9 / ((double)repeat * size));
  thickness[0] = nominal;
  double sum = spectra();
  printf("], \"sumOfR\": %.15g, \"sink\": %g}\n", sum, sink);
  return 0;
}
