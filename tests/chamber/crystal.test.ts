import { describe, expect, it } from 'vitest';
import { crystalSensitivity, loadCrystal, readCrystal } from '../../src/chamber/crystal.ts';

const silica = { frequencyHz: 6e6, densityGPerCm3: 2.2, zRatio: 1 };

describe('a quartz crystal', () => {
  it('has the published mass sensitivity: 56.6 Hz cm2/µg at 5 MHz, 81.5 at 6 MHz', () => {
    // G. Sauerbrey, Z. Phys. 155 (1959) 206-222; 2 f0^2 over 8.834e5 g/(cm2 s), from memory.
    expect(crystalSensitivity(5e6)).toBeCloseTo(56.6, 1);
    expect(crystalSensitivity(6e6)).toBeCloseTo(81.5, 1);
    // 0.05577 nm of silica a hertz at 6 MHz (computed from the same).
    expect(readCrystal(silica, 6e6 - 1).sauerbreyThicknessNm).toBeCloseTo(0.05577, 4);
  });

  it.each([
    [6e6, 5.99e6, 1, 2.2, 558.6159],
    [6e6, 5.9e6, 0.637, 3.18, 3925.7218],
    [6e6, 5.5e6, 0.4, 4.26, 16017.309],
    [6e6, 5e6, 1.08, 2.7, 53763.6208],
    [6e6, 5.5e6, 1, 2.648, 25272.7273],
  ])(
    'fallen from %d to %d Hz (Z %d, density %d) carries %d nm',
    (frequencyHz, loaded, zRatio, densityGPerCm3, nm) => {
      // Values computed outside this program from C.-S. Lu & O. Lewis, J. Appl. Phys. 43 (1972) 4385-4390.
      const reading = readCrystal({ frequencyHz, zRatio, densityGPerCm3 }, loaded);
      expect(Math.abs(reading.thicknessNm - nm)).toBeLessThan(1e-4);
    },
  );

  it('is read in both directions alike, with tooling, up to half its frequency and beyond', () => {
    for (const zRatio of [0.3, 1, 1.9])
      for (const part of [1e-6, 0.01, 0.3, 0.49, 0.5, 0.51, 0.8]) {
        const film = { frequencyHz: 6e6, densityGPerCm3: 4.2, zRatio, tooling: 0.83 };
        const loadedHz = 6e6 * (1 - part);
        const { thicknessNm, massPerAreaUgPerCm2 } = readCrystal(film, loadedHz);
        expect(loadCrystal(film, thicknessNm).loadedFrequencyHz / loadedHz).toBeCloseTo(1, 12);
        expect(thicknessNm).toBeCloseTo((massPerAreaUgPerCm2 * 10 * 0.83) / 4.2, 6);
      }
  });

  it('follows Sauerbrey for a thin film whatever the Z-ratio', () => {
    for (const zRatio of [0.3, 1, 1.9]) {
      const reading = readCrystal({ ...silica, zRatio }, 6e6 - 60);
      expect(reading.thicknessNm / reading.sauerbreyThicknessNm).toBeCloseTo(1, 4);
    }
  });

  it('that has not fallen carries nothing', () => {
    expect(readCrystal(silica, silica.frequencyHz)).toMatchObject({
      thicknessNm: 0,
      sauerbreyThicknessNm: 0,
    });
    expect(loadCrystal(silica, 0).loadedFrequencyHz).toBe(silica.frequencyHz);
  });

  it('refuses what it cannot read', () => {
    expect(() => readCrystal(silica, 6.1e6)).toThrow('loadedFrequencyHz: 6100000 Hz is above the unloaded');
    expect(() => readCrystal({ ...silica, zRatio: 0 }, 5e6)).toThrow('zRatio: 0 is below 0.01');
    expect(() => loadCrystal(silica, -1)).toThrow('thicknessNm: -1 nm is below 0 nm');
    expect(() => loadCrystal(silica, 1e8)).toThrow(
      'thicknessNm: 100000000 nm is more than the crystal can carry',
    );
  });
});
