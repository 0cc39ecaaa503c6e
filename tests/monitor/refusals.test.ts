import { describe } from 'vitest';
import { chooseSights } from '../../src/monitor/choose-sight.ts';
import type { CrystalStock } from '../../src/monitor/crystal-stock.ts';
import type { Mishap } from '../../src/monitor/mishap.ts';
import { Rehearsal } from '../../src/monitor/rehearsal.ts';
import { NO_NOISE, type RunNoise } from '../../src/monitor/run-noise.ts';
import { type CutLayer, setUpRuns } from '../../src/monitor/run-setup.ts';
import { predictSignals } from '../../src/monitor/signal.ts';
import type { Witness } from '../../src/monitor/witness.ts';
import { changed, expectRefused, type Refusal } from '../support/refusals.ts';
import { constantIndex } from './constant-index.ts';
import { plainWitness as glass } from './plain-witness.ts';

const layer: CutLayer = {
  ...{ material: constantIndex(2.1), thicknessNm: 40, wavelengthNm: 550, signal: 'R' },
  ...{ rule: 'level', rateNmPerS: 0.5 },
} as const;

/** Each figure of the noise, least and most with its unit, as the field's comment has them. */
const NOISE: Readonly<Record<keyof RunNoise, readonly [number, number, string]>> = {
  signalPercent: [0, 50, ' %'],
  driftPercentPerMin: [-100, 100, ' %/min'],
  rateNoisePercent: [0, 100, ' %'],
  rateBiasPercent: [-90, 200, ' %'],
  crystalPercent: [0, 100, ' %'],
  shutterDelayS: [0, 60, ' s'],
  sampleS: [0.001, 60, ' s'],
  gainPercent: [0, 50, ' %'],
  rateCorrelationS: [0, 1000, ' s'],
  rateDecayPercentPerMin: [-50, 99, ' %/min'],
  spitsPerMin: [0, 600, ' 1/min'],
  spitNm: [0, 100, ' nm'],
  toolingPercent: [0, 50, ' %'],
  toolingDriftPercent: [-20, 20, ' %'],
  indexPercent: [0, 20, ' %'],
  crystalLifePercent: [10, 1000, ' %'],
  crystalLifeScatterPercent: [0, 100, ' %'],
  crystalAgedNoiseNm: [0, 10, ' nm'],
  crystalAgedShiftPercent: [-20, 20, ' %'],
};
const noise: Refusal[] = Object.entries(NOISE).flatMap(([field, [least, most, unit]]) => {
  const ask = (value: number) => () => setUpRuns(glass, [layer], { ...NO_NOISE, [field]: value });
  return [
    [ask(least - 1), `noise.${field}: ${least - 1}${unit} is below ${least}${unit}`],
    [ask(most + 1), `noise.${field}: ${most + 1}${unit} is above ${most}${unit}`],
  ];
});

const setup: Refusal[] = [
  ...changed<Witness>(
    glass,
    (witness) => setUpRuns(witness, [layer], NO_NOISE),
    [{ thicknessMm: 1001 }, 'witness.thicknessMm: 1001 mm is above 1000 mm'],
    [{ incident: constantIndex(1, 0.1) }, 'witness.incident: 0.1 is above 0'],
    [{ incidenceRad: 1.6 }, 'witness.incidenceRad: 1.6 rad is not below 1.57'],
  ),
  ...changed<CutLayer>(
    layer,
    (changedLayer) => setUpRuns(glass, [layer, changedLayer], NO_NOISE),
    [{ thicknessNm: 1e6 + 1 }, 'layers[1].thicknessNm: 1000001 nm is above 1000000 nm'],
    [{ wavelengthNm: 49 }, 'layers[1].wavelengthNm: 49 nm is below 50 nm'],
    [{ bandwidthNm: 276 }, 'layers[1].bandwidthNm: 276 nm is above 275 nm'],
    [{ tooling: 0 }, 'layers[1].tooling: 0 is below 0.01'],
    [{ rateNmPerS: 1001 }, 'layers[1].rateNmPerS: 1001 nm/s is above 1000 nm/s'],
    [
      { rateNmPerS: 1e-4, thicknessNm: 30 },
      'layers[1].rateNmPerS: 3000000 readings in this layer is above 2000000 readings in this layer',
    ],
  ),
  ...changed<CrystalStock>(
    { budgetHz: 40_000, fallHzPerNm: [10] },
    (crystals) => setUpRuns(glass, [layer], NO_NOISE, crystals),
    [{ budgetHz: 0 }, 'crystals.budgetHz: 0 Hz is not above 0 Hz'],
    [{ usedHz: 40_001 }, 'crystals.usedHz: 40001 Hz is above 40000 Hz'],
    [{ count: 101 }, 'crystals.count: 101 crystals is above 100 crystals'],
    [{ fallHzPerNm: [] }, 'crystals.fallHzPerNm: 0 layers is below 1 layers'],
    [{ fallHzPerNm: [1, 1] }, 'crystals.fallHzPerNm: 2 layers is above 1 layers'],
    [{ fallHzPerNm: [-1] }, 'crystals.fallHzPerNm[0]: -1 Hz/nm is below 0 Hz/nm'],
  ),
  [() => predictSignals({ ...glass, thicknessMm: -1 }, [layer]), 'witness.thicknessMm: -1 mm is below 0 mm'],
  [() => predictSignals(glass, [layer], 1), 'samplesPerLayer: 1 is below 2'],
];

const rehearsed = setUpRuns(glass, [layer], NO_NOISE);
const rehearse = (mishap: Mishap) => () => new Rehearsal(rehearsed, 1, [mishap]);
const mishaps: Refusal[] = [
  [rehearse({ kind: 'crystal-failure', layer: 1, atPercent: 0 }), 'mishaps[0].layer: 1 is above 0'],
  [
    rehearse({ kind: 'crystal-failure', layer: 0, atPercent: 201 }),
    'mishaps[0].atPercent: 201 % is above 200 %',
  ],
  [
    rehearse({ kind: 'spit', layer: 0, atPercent: 0, thicknessNm: 1001 }),
    'mishaps[0].thicknessNm: 1001 nm is above 1000 nm',
  ],
  [
    rehearse({ kind: 'lamp-drift', layer: 0, atPercent: 0, percentPerMin: -101 }),
    'mishaps[0].percentPerMin: -101 %/min is below -100 %/min',
  ],
  [
    rehearse({ kind: 'missed-turning-point', layer: 0, atPercent: 50, untilPercent: 49 }),
    'mishaps[0].untilPercent: 49 % is below 50 %',
  ],
  [() => new Rehearsal(setUpRuns(glass, [], NO_NOISE), 1), 'layers: 0 layers is below 1 layers'],
  [() => new Rehearsal(rehearsed, 1).advance(-1), 'seconds: -1 s is below 0 s'],
];

const choices = { wavelengthNm: [550], rules: ['level'], signals: ['R'] } as const;
const sights: Refusal[] = [
  ...changed<Parameters<typeof chooseSights>[3]>(
    choices,
    (some) => chooseSights(glass, [layer], NO_NOISE, some),
    [{ wavelengthNm: [] }, 'wavelengthNm: 0 wavelengths is below 1 wavelengths'],
    [{ rules: [] }, 'rules: 0 rules is below 1 rules'],
    [{ signals: [] }, 'signals: 0 signals is below 1 signals'],
  ),
  [
    () => chooseSights(glass, [{ ...layer, rateNmPerS: 0 }], NO_NOISE, choices),
    'layers[0].rateNmPerS: 0 nm/s is below 0.0001 nm/s',
  ],
  [
    () => chooseSights(glass, [layer], { ...NO_NOISE, sampleS: 0 }, choices),
    'noise.sampleS: 0 s is below 0.001 s',
  ],
];

describe('a figure of the monitor beyond its range is told with its place, its value and the limit', () => {
  expectRefused([...noise, ...setup, ...mishaps, ...sights]);
});
