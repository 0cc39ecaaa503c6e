import { describe, expect, it } from 'vitest';
import { chargeMassG, massForThicknessG, thicknessOfMassNm } from '../../src/chamber/charge.ts';
import { crystalSensitivity, loadCrystal, readCrystal } from '../../src/chamber/crystal.ts';
import { pumpDown } from '../../src/chamber/pump-down.ts';

/** Of one figure: what asks with it, its name and unit, the last values that are taken and the first that are not. */
interface Range {
  readonly ask: (value: number) => unknown;
  readonly name: string;
  readonly unit: string;
  readonly least: number;
  /** Whether `least` itself is still too little. */
  readonly isAbove?: boolean;
  readonly most?: number;
}

const charge = { densityGPerCm3: 2, thicknessNm: 100, exponent: 1, heightMm: 500, offsetMm: 100 };
const crystal = { frequencyHz: 6e6, densityGPerCm3: 2, zRatio: 1 };
const stage = { speedM3PerS: 1, loadPaM3PerS: 0, untilPa: 1 };
const pumping = { volumeM3: 1, startPa: 1000, stages: [stage] };
const walls = { areaM2: 1, rateAfter1hPaM3PerSM2: 1e-9 };

const ranges: readonly Range[] = [
  { ask: (exponent) => chargeMassG({ ...charge, exponent }), name: 'exponent', unit: '', least: 0, most: 50 },
  {
    ask: (heightMm) => chargeMassG({ ...charge, heightMm }),
    name: 'heightMm',
    unit: 'mm',
    least: 1,
    most: 10_000,
  },
  {
    ask: (offsetMm) => chargeMassG({ ...charge, offsetMm }),
    name: 'offsetMm',
    unit: 'mm',
    least: 0,
    most: 10_000,
  },
  {
    ask: (pointRadiusMm) => chargeMassG({ ...charge, pointRadiusMm }),
    name: 'pointRadiusMm',
    unit: 'mm',
    least: 0,
    most: 10_000,
  },
  {
    ask: (density) => massForThicknessG(density, 100, 1e-6),
    name: 'densityGPerCm3',
    unit: 'g/cm3',
    least: 0,
    isAbove: true,
    most: 30,
  },
  {
    ask: (thickness) => massForThicknessG(2, thickness, 1e-6),
    name: 'thicknessNm',
    unit: 'nm',
    least: 0,
    most: 1e7,
  },
  {
    ask: (part) => massForThicknessG(2, 100, part),
    name: 'perMassPerMm2',
    unit: 'per mm2',
    least: 0,
    isAbove: true,
    most: 1,
  },
  {
    ask: (density) => thicknessOfMassNm(density, 1, 1e-6),
    name: 'densityGPerCm3',
    unit: 'g/cm3',
    least: 0,
    isAbove: true,
    most: 30,
  },
  { ask: (mass) => thicknessOfMassNm(2, mass, 1e-6), name: 'massG', unit: 'g', least: 0 },
  {
    ask: (part) => thicknessOfMassNm(2, 1, part),
    name: 'perMassPerMm2',
    unit: 'per mm2',
    least: 0,
    most: 1,
  },
  {
    ask: (frequencyHz) => readCrystal({ ...crystal, frequencyHz }, 1e5),
    name: 'frequencyHz',
    unit: 'Hz',
    least: 1e5,
    most: 1e8,
  },
  {
    ask: (densityGPerCm3) => readCrystal({ ...crystal, densityGPerCm3 }, 5.9e6),
    name: 'densityGPerCm3',
    unit: 'g/cm3',
    least: 0,
    isAbove: true,
    most: 30,
  },
  {
    ask: (zRatio) => readCrystal({ ...crystal, zRatio }, 5.9e6),
    name: 'zRatio',
    unit: '',
    least: 0.01,
    most: 10,
  },
  {
    ask: (tooling) => readCrystal({ ...crystal, tooling }, 5.9e6),
    name: 'tooling',
    unit: '',
    least: 0.001,
    most: 1000,
  },
  {
    ask: (frequencyConstantHzCm) => readCrystal({ ...crystal, frequencyConstantHzCm }, 5.9e6),
    name: 'frequencyConstantHzCm',
    unit: 'Hz cm',
    least: 1e5,
    most: 5e5,
  },
  {
    ask: (quartzDensityGPerCm3) => readCrystal({ ...crystal, quartzDensityGPerCm3 }, 5.9e6),
    name: 'quartzDensityGPerCm3',
    unit: 'g/cm3',
    least: 2,
    most: 3,
  },
  {
    ask: (loaded) => readCrystal(crystal, loaded),
    name: 'loadedFrequencyHz',
    unit: 'Hz',
    least: 0,
    isAbove: true,
  },
  { ask: (thickness) => loadCrystal(crystal, thickness), name: 'thicknessNm', unit: 'nm', least: 0 },
  {
    ask: (frequency) => crystalSensitivity(frequency),
    name: 'frequencyHz',
    unit: 'Hz',
    least: 1e5,
    most: 1e8,
  },
  {
    ask: (volumeM3) => pumpDown({ ...pumping, volumeM3 }),
    name: 'volumeM3',
    unit: 'm3',
    least: 0,
    isAbove: true,
    most: 1000,
  },
  {
    ask: (startPa) => pumpDown({ ...pumping, startPa, stages: [{ ...stage, untilPa: 1e-9 }] }),
    name: 'startPa',
    unit: 'Pa',
    least: 0,
    isAbove: true,
    most: 200_000,
  },
  {
    ask: (speedM3PerS) => pumpDown({ ...pumping, stages: [{ ...stage, speedM3PerS }] }),
    name: 'stages[0].speedM3PerS',
    unit: 'm3/s',
    least: 0,
    isAbove: true,
    most: 1000,
  },
  {
    ask: (loadPaM3PerS) =>
      pumpDown({ volumeM3: 1, startPa: 1000, stages: [{ speedM3PerS: 1000, loadPaM3PerS, untilPa: 1000 }] }),
    name: 'stages[0].loadPaM3PerS',
    unit: 'Pa m3/s',
    least: 0,
    most: 1e6,
  },
  {
    ask: (untilPa) => pumpDown({ ...pumping, startPa: 200_000, stages: [{ ...stage, untilPa }] }),
    name: 'stages[0].untilPa',
    unit: 'Pa',
    least: 0,
    isAbove: true,
    most: 200_000,
  },
  {
    ask: (areaM2) => pumpDown({ ...pumping, outgassing: { ...walls, areaM2 } }),
    name: 'outgassing.areaM2',
    unit: 'm2',
    least: 0,
    most: 1000,
  },
  {
    ask: (rate) => pumpDown({ ...pumping, outgassing: { areaM2: 1e-9, rateAfter1hPaM3PerSM2: rate } }),
    name: 'outgassing.rateAfter1hPaM3PerSM2',
    unit: 'Pa m3/s per m2',
    least: 0,
    most: 1,
  },
];

describe('a figure of charge, crystal and pump-down', () => {
  it.each(ranges.map((range) => [range.name, range] as const))(
    '%s is taken to the ends of its range',
    (_, range) => {
      const { ask, name, unit, least, isAbove = false, most } = range;
      const withUnit = (value: number) => `${value}${unit === '' ? '' : ` ${unit}`}`;
      if (isAbove)
        expect(() => ask(least)).toThrow(`${name}: ${withUnit(least)} is not above ${withUnit(least)}`);
      else {
        ask(least);
        expect(() => ask(least - 1)).toThrow(`${name}: ${withUnit(least - 1)} is below ${withUnit(least)}`);
      }
      if (most === undefined) return;
      ask(most);
      expect(() => ask(2 * most)).toThrow(`${name}: ${withUnit(2 * most)} is above ${withUnit(most)}`);
    },
  );
});
