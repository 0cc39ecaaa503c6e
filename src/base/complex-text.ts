import Complex from 'complex.js';
import { InputError } from './errors.ts';

/**
 * A complex index as people write it: "1.38-0.01i", "1.38", "0.06 − 3.6i"; the sign before i is the one of
 * N = n − ik, so that an absorbing medium has a minus there.
 * @throws InputError where the text is no complex number, or n or k would be negative.
 */
export function parseComplexIndex(text: string, path = ''): { n: number; k: number } {
  const { re, im } = parseComplex(text, path);
  if (re < 0) throw new InputError(path, `${JSON.stringify(text)} has n = ${re}, which is below 0`);
  if (im > 0)
    throw new InputError(
      path,
      `${JSON.stringify(text)} has k = ${-im}, which is below 0; an absorbing index is written n-ki`,
    );
  return { n: re, k: im === 0 ? 0 : -im };
}

/** @throws InputError where the text is no finite complex number. */
export function parseComplex(text: string, path = ''): Complex {
  const plain = text.replaceAll('−', '-').replaceAll(/\s+/g, '');
  let value: Complex | undefined;
  try {
    if (plain !== '') value = new Complex(plain);
  } catch {
    value = undefined;
  }
  if (value === undefined || !Number.isFinite(value.re) || !Number.isFinite(value.im))
    throw new InputError(path, `${JSON.stringify(text)} is not a complex number such as "1.38-0.01i"`);
  return value;
}

/** "1.38-0.01i", in full double precision; real numbers without an imaginary part. */
export function complexText({ re, im }: { readonly re: number; readonly im: number }): string {
  if (im === 0) return String(re);
  return `${re}${im < 0 ? '-' : '+'}${Math.abs(im)}i`;
}

/** N = n − ik as text. */
export function indexText(n: number, k: number): string {
  return complexText({ re: n, im: -k });
}
