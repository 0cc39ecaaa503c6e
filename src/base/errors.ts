/**
 * The one kind of error that bad input causes. The message is a whole sentence fragment in the
 * grammar of the program: what is wrong, the value, the allowed range with its unit; `path` says where
 * (for example `layers[2].thicknessNm`, or '' where the place is plain from the context).
 */
export class InputError extends RangeError {
  readonly path: string;
  readonly reason: string;

  constructor(path: string, reason: string) {
    super(path === '' ? reason : `${path}: ${reason}`);
    this.name = 'InputError';
    this.path = path;
    this.reason = reason;
  }
}

/** The same error as seen from one level further out: `prefix` is put before its path. */
export function atPath(prefix: string, error: InputError): InputError {
  return new InputError(joinPath(prefix, error.path), error.reason);
}

/** `order` + `lens.diameterMm` → `order.lens.diameterMm`; `layers` + `[2]` → `layers[2]`. */
export function joinPath(prefix: string, path: string): string {
  if (prefix === '' || path === '') return prefix + path;
  return path.startsWith('[') ? prefix + path : `${prefix}.${path}`;
}

/** Inclusive limits of a number; an absent side is unlimited. */
export interface Limits {
  readonly min?: number;
  readonly max?: number;
  /** The value must be greater than this (used where the limit itself is not allowed). */
  readonly above?: number;
  /** The value must be less than this. */
  readonly below?: number;
}

/** What must be above 0 must be at least this: powers of the reciprocal of less could overflow. */
const LEAST_ABOVE_0 = 1e-60;

/** Says what is wrong with `value`, or `undefined` where it lies within the limits. */
export function limitFault(value: number, unit: string, limits: Limits): string | undefined {
  const quantity = (number: number) => (unit === '' ? `${number}` : `${number} ${unit}`);
  if (!Number.isFinite(value)) return `${value} is not a finite number`;
  if (limits.min !== undefined && value < limits.min)
    return `${quantity(value)} is below ${quantity(limits.min)}`;
  if (limits.max !== undefined && value > limits.max)
    return `${quantity(value)} is above ${quantity(limits.max)}`;
  if (limits.above !== undefined && value <= limits.above)
    return `${quantity(value)} is not above ${quantity(limits.above)}`;
  if (limits.above === 0 && value < LEAST_ABOVE_0)
    return `${quantity(value)} is nearer to 0 than ${quantity(LEAST_ABOVE_0)}`;
  if (limits.below !== undefined && value >= limits.below)
    return `${quantity(value)} is not below ${quantity(limits.below)}`;
  return undefined;
}

/** Throws an `InputError` at `path` where `value` is outside the limits. */
export function requireWithin(path: string, value: number, unit: string, limits: Limits): void {
  const fault = limitFault(value, unit, limits);
  if (fault !== undefined) throw new InputError(path, fault);
}

/** Throws an `InputError` at `path[i]` for the first value of an array that is outside the limits. */
export function requireEachWithin(
  path: string,
  values: ArrayLike<number>,
  unit: string,
  limits: Limits,
): void {
  for (let i = 0; i < values.length; i++) {
    const fault = limitFault(values[i]!, unit, limits);
    if (fault !== undefined) throw new InputError(`${path}[${i}]`, fault);
  }
}
