import { CELSIUS_ZERO_K, PA_PER_TORR } from './constants.ts';

/** A unit as factor (and, for temperatures, zero) of its dimension's SI unit. */
interface KnownUnit {
  readonly dimension: string;
  readonly factor: number;
  readonly zero?: number;
}

const of = (dimension: string, units: Readonly<Record<string, number>>): [string, KnownUnit][] =>
  Object.entries(units).map(([name, factor]) => [name, { dimension, factor }]);

const LENGTH = { pm: 1e-12, angstrom: 1e-10, nm: 1e-9, um: 1e-6, mm: 1e-3, cm: 1e-2, m: 1, in: 0.0254 };
const TIME = { ms: 1e-3, s: 1, min: 60, h: 3600 };

/** What a coating shop writes every day; anything else goes to `loadUnitConverter`. */
const KNOWN: ReadonlyMap<string, KnownUnit> = new Map([
  ...of('length', LENGTH),
  ...of('time', TIME),
  ...of('speed', { 'angstrom/s': 1e-10, 'nm/s': 1e-9, 'nm/min': 1e-9 / 60, 'mm/s': 1e-3 }),
  ...of('pressure', {
    Pa: 1,
    hPa: 100,
    kPa: 1e3,
    mbar: 100,
    bar: 1e5,
    torr: PA_PER_TORR,
    mtorr: PA_PER_TORR / 1e3,
  }),
  ...of('mass', { mg: 1e-3, g: 1, kg: 1e3 }),
  ...of('frequency', { Hz: 1, kHz: 1e3, MHz: 1e6 }),
  ...of('angle', { deg: Math.PI / 180, rad: 1, arcmin: Math.PI / 10_800 }),
  ['K', { dimension: 'temperature', factor: 1 }],
  ['degC', { dimension: 'temperature', factor: 1, zero: CELSIUS_ZERO_K }],
]);

/** A unit's spelling brought to one: "Å/s" → "angstrom/s", "µm" → "um", "°C" → "degC", "g/cm3" → "g/cm^3". */
export function unitSpelling(unit: string): string {
  return unit
    .replace(/Å|Å|Ångström|Angstrom/g, 'angstrom')
    .replace(/[µμ]/g, 'u')
    .replace(/°\s*C/g, 'degC')
    .replace(/°\s*F/g, 'degF')
    .replace(/°/g, 'deg')
    .replace(/\b(m?)Torr\b/g, '$1torr')
    .replace(/²/g, '^2')
    .replace(/³/g, '^3')
    .replace(/([A-Za-z])(\d)/g, '$1^$2')
    .trim()
    .replace(/\s*([/^])\s*/g, '$1')
    .replace(/\s*[·*]\s*|\s+/g, ' ');
}

/** `value` from one everyday unit to another, or undefined where one is not known or they do not measure the same. */
export function convertKnownUnit(value: number, from: string, to: string): number | undefined {
  const [a, b] = [unitSpelling(from), unitSpelling(to)];
  if (a === b) return value;
  const [source, target] = [KNOWN.get(a), KNOWN.get(b)];
  if (source === undefined || target === undefined || source.dimension !== target.dimension) return undefined;
  return tidy((value * source.factor + (source.zero ?? 0) - (target.zero ?? 0)) / target.factor);
}

/** Takes away what binary fractions add in a conversion: 14 significant digits stay. */
export function tidy(value: number): number {
  return Number(value.toPrecision(14));
}
