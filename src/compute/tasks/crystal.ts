import * as v from 'valibot';
import { InputError } from '../../base/errors.ts';
import { quantity } from '../../base/schema.ts';
import { loadCrystal, readCrystal, Z_MATCH_LIMIT } from '../../chamber/crystal.ts';
import { defineTask } from '../task.ts';

export default defineTask({
  name: 'crystal',
  summary: 'A quartz crystal read both ways: thickness from frequency, or frequency from thickness.',
  request: v.strictObject({
    frequencyHz: quantity('Hz', { min: 1e5, max: 1e8 }, 'resonance of the clean crystal'),
    densityGPerCm3: quantity('g/cm3', { above: 0, max: 30 }, 'density of the film'),
    zRatio: quantity('', { min: 0.01, max: 10 }, 'acoustic impedance of quartz over that of the film'),
    tooling: v.exactOptional(
      quantity('', { min: 0.001, max: 1000 }, 'thickness on the lens / thickness on the crystal (default 1)'),
    ),
    frequencyConstantHzCm: v.exactOptional(
      quantity('Hz cm', { min: 1e5, max: 5e5 }, 'frequency times thickness of the quartz (default 166800)'),
    ),
    quartzDensityGPerCm3: v.exactOptional(
      quantity('g/cm3', { min: 2, max: 3 }, 'density of quartz (default 2.648)'),
    ),
    loadedFrequencyHz: v.exactOptional(
      quantity('Hz', { above: 0 }, 'resonance with the film; give this or thicknessNm'),
    ),
    thicknessNm: v.exactOptional(
      quantity('nm', { min: 0, max: 1e8 }, 'thickness on the lens; give this or loadedFrequencyHz'),
    ),
  }),
  example: { frequencyHz: 6e6, densityGPerCm3: 2.2, zRatio: 1, loadedFrequencyHz: 5_990_000 },
  run({ loadedFrequencyHz, thicknessNm, ...film }) {
    if ((loadedFrequencyHz === undefined) === (thicknessNm === undefined))
      throw new InputError(
        'loadedFrequencyHz',
        `give exactly one of loadedFrequencyHz and thicknessNm; ${thicknessNm === undefined ? 'none' : 'both'} given`,
      );
    const reading =
      thicknessNm === undefined ? readCrystal(film, loadedFrequencyHz!) : loadCrystal(film, thicknessNm);
    const lost = 1 - reading.loadedFrequencyHz / film.frequencyHz;
    const warnings =
      lost > Z_MATCH_LIMIT
        ? [
            `The crystal has lost ${(100 * lost).toFixed(1)} % of its frequency; the Z-match formula is supported by measurement up to about ${100 * Z_MATCH_LIMIT} %.`,
          ]
        : [];
    return { ...reading, warnings };
  },
});
