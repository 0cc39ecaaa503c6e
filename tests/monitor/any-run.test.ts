import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chooseSights } from '../../src/monitor/choose-sight.ts';
import { CUT_RULES } from '../../src/monitor/cut-rule.ts';
import { setUpRuns } from '../../src/monitor/run-setup.ts';
import { simulateRuns } from '../../src/monitor/simulate-runs.ts';
import { constantIndex } from './constant-index.ts';

const materials = [constantIndex(2.3, 0.01), constantIndex(1.38), constantIndex(1.52), constantIndex(0.2, 3)];

const anyLayer = fc.record({
  material: fc.constantFrom(...materials),
  thicknessNm: fc.oneof(fc.constant(0), fc.double({ min: 0.01, max: 400, noNaN: true })),
  wavelengthNm: fc.double({ min: 300, max: 2000, noNaN: true }),
  signal: fc.constantFrom('R' as const, 'T' as const),
  bandwidthNm: fc.constantFrom(0, 5, 60),
  tooling: fc.double({ min: 0.5, max: 2, noNaN: true }),
  newWitness: fc.boolean(),
  rule: fc.constantFrom(...CUT_RULES),
  rateNmPerS: fc.double({ min: 0.1, max: 5, noNaN: true }),
});

const anyNoise = fc.record({
  signalPercent: fc.constantFrom(0, 0.1, 5, 50),
  driftPercentPerMin: fc.constantFrom(0, -20, 100),
  rateNoisePercent: fc.constantFrom(0, 10, 100),
  rateBiasPercent: fc.constantFrom(0, -90, 200),
  crystalPercent: fc.constantFrom(0, 2, 100),
  shutterDelayS: fc.constantFrom(0, 0.3, 60),
  sampleS: fc.constantFrom(0.1, 1, 60),
  gainPercent: fc.constantFrom(0, 50),
  rateCorrelationS: fc.constantFrom(0, 10),
  rateDecayPercentPerMin: fc.constantFrom(0, 99, -50),
  spitsPerMin: fc.constantFrom(0, 600),
  spitNm: fc.constantFrom(0, 100),
  toolingPercent: fc.constantFrom(0, 50),
  toolingDriftPercent: fc.constantFrom(0, -20, 20),
  indexPercent: fc.constantFrom(0, 20),
});

const witness = fc.record({
  incident: fc.constant(constantIndex(1)),
  substrate: fc.constantFrom(constantIndex(1.52), constantIndex(4, 0.1)),
  thicknessMm: fc.constantFrom(0, 1, 20),
  backSurface: fc.constantFrom('none' as const, 'bare' as const),
  incidenceRad: fc.constantFrom(0, 1.2),
});

describe('any run within the limits', () => {
  it('ends, with finite thicknesses that are not below zero', () => {
    fc.assert(
      fc.property(
        witness,
        fc.array(anyLayer, { minLength: 1, maxLength: 4 }),
        anyNoise,
        (glass, layers, noise) => {
          const setup = setUpRuns(glass, layers, noise);
          const { thicknessNm, ending } = simulateRuns(setup, 1, 0, 2);
          for (const nm of thicknessNm) expect(nm >= 0 && Number.isFinite(nm)).toBe(true);
          for (const how of ending) expect(how).toBeLessThanOrEqual(2);
          for (const plan of setup.plans)
            for (const value of [plan.cutLevel, plan.cutSlope, plan.startLevel, plan.lagNm, plan.wrongSlope])
              expect(Number.isFinite(value)).toBe(true);
        },
      ),
      { numRuns: 150, seed: 5 },
    );
  });

  it('can be chosen for, with a finite expectation and a sentence for each layer', () => {
    fc.assert(
      fc.property(
        witness,
        fc.array(anyLayer, { minLength: 1, maxLength: 3 }),
        anyNoise,
        (glass, layers, noise) => {
          const chosen = chooseSights(glass, layers, noise, {
            wavelengthNm: [450, 900],
            signals: ['R', 'T'],
            rules: ['level', 'swing', 'turning-point', 'crystal', 'time'],
          });
          for (const { expectedErrorNm, reason } of chosen) {
            expect(Number.isFinite(expectedErrorNm)).toBe(true);
            expect(reason).not.toContain('NaN');
          }
        },
      ),
      { numRuns: 40, seed: 6 },
    );
  });
});
