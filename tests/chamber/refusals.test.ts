import { describe } from 'vitest';
import { type CalendarRequest, planCalendar } from '../../src/chamber/calendar.ts';
import {
  effectiveSpeedM3PerS,
  exposureFactor,
  molecularConductanceM3PerS,
  viscousConductanceM3PerS,
} from '../../src/chamber/conductance.ts';
import { type LotEffort, lotCost, type Prices } from '../../src/chamber/cost.ts';
import { planCrystals } from '../../src/chamber/crystal-life.ts';
import { type DepositRequest, depositOn } from '../../src/chamber/deposit.ts';
import { type EvenOutRequest, evenOut } from '../../src/chamber/even-out.ts';
import { filledRun, fillRuns, witnessPlaces } from '../../src/chamber/fill-load.ts';
import { type FixtureRequest, planetsOnCarrier } from '../../src/chamber/fixture-capacity.ts';
import { impingementPerM2S, meanFreePathM, meanSpeedMPerS, unscatteredPart } from '../../src/chamber/gas.ts';
import { rampDurationS, safeRateKPerMin } from '../../src/chamber/heating.ts';
import { holderRing, USUAL_HOLDER } from '../../src/chamber/holder.ts';
import { planMaterial } from '../../src/chamber/material-use.ts';
import type { PlanetaryMotion } from '../../src/chamber/motion.ts';
import { nestCircles } from '../../src/chamber/nest.ts';
import { nestRectangles } from '../../src/chamber/nest-rectangles.ts';
import { type OneRackRequest, requireOneRackFits } from '../../src/chamber/one-rack.ts';
import { speedThroughLineM3PerS } from '../../src/chamber/pump-line.ts';
import { drillingSvg } from '../../src/chamber/rack-drawing.ts';
import { type RunDescription, scheduleRun } from '../../src/chamber/schedule.ts';
import { toolingFactor } from '../../src/chamber/tooling.ts';
import { changed, expectRefused, type Refusal } from '../support/refusals.ts';

const source = { offsetMm: 200, exponent: 2 };
const planetary: PlanetaryMotion = {
  kind: 'planetary',
  carrierRadiusMm: 300,
  heightMm: 700,
  tiltDeg: 10,
};
const sheet = {
  heightMm: 300,
  azimuthDeg: 0,
  outline: [
    { radiusMm: 20, halfAngleDeg: 5 },
    { radiusMm: 200, halfAngleDeg: 5 },
  ],
};
const lens = { seatRadiusMm: 50, radiusOfCurvatureMm: 40, convex: true, points: [0, 20] };
const far = 10_001;

const film = changed<DepositRequest>(
  { source, motion: planetary, points: [0, 100] },
  depositOn,
  [{ source: { ...source, exponent: 51 } }, 'source.exponent: 51 is above 50'],
  [{ source: { ...source, heightMm: far } }, 'source.heightMm: 10001 mm is above 10000 mm'],
  [{ source: { ...source, azimuthDeg: 361 } }, 'source.azimuthDeg: 361 ° is above 360 °'],
  [
    { alongside: [{ source: { ...source, offsetMm: -1 }, share: 0.5 }] },
    'alongside[0].source.offsetMm: -1 mm',
  ],
  [{ points: [0, far] }, 'points[1]: 10001 mm is above 10000 mm'],
  [{ motion: { ...planetary, carrierRadiusMm: far } }, 'motion.carrierRadiusMm: 10001 mm is above 10000 mm'],
  [{ motion: { ...planetary, tiltDeg: 91 } }, 'motion.tiltDeg: 91 ° is above 90 °'],
  [{ motion: { ...planetary, gearRatio: 1001 } }, 'motion.gearRatio: 1001 is above 1000'],
  [
    { motion: { ...planetary, gearRatio: 1, carrierTurns: 20_001 } },
    'motion.carrierTurns: 20001 is above 20000',
  ],
  [
    { motion: { ...planetary, gearRatio: -3, carrierTurns: 5001 } },
    'motion.carrierTurns: 5001 turns with the gear ratio -3 make 20004 turns in all, more than 20000',
  ],
  [{ motion: { ...planetary, startDeg: 3601 } }, 'motion.startDeg: 3601 ° is above 3600 °'],
  [
    { motion: { kind: 'dome', radiusMm: far, centreHeightMm: 0 } },
    'motion.radiusMm: 10001 mm is above 10000 mm',
  ],
  [
    { motion: { kind: 'dome', radiusMm: 600, centreHeightMm: far } },
    'motion.centreHeightMm: 10001 mm is above 10000 mm',
  ],
  [
    { motion: { kind: 'dome', radiusMm: 600, centreHeightMm: -600 } },
    'motion.centreHeightMm: -600 mm puts the top of the dome at 0 mm, not above the source',
  ],
  [{ motion: { kind: 'fixed', heightMm: far } }, 'motion.heightMm: 10001 mm is above 10000 mm'],
  [{ lens: { ...lens, seatRadiusMm: far } }, 'lens.seatRadiusMm: 10001 mm is above 10000 mm'],
  [{ lens: { ...lens, radiusOfCurvatureMm: 0 } }, 'lens.radiusOfCurvatureMm: 0 mm is not above 0 mm'],
  [{ lens: { ...lens, diameterMm: 39 } }, 'lens.diameterMm: 39 mm is below 40 mm'],
  [{ lens: { ...lens, diameterMm: 81 } }, 'lens.diameterMm: 81 mm is above 80 mm'],
  [{ lens: { ...lens, rim: { openingMm: 39, heightMm: 1 } } }, 'lens.rim.openingMm: 39 mm is below 40 mm'],
  [
    { lens: { ...lens, rim: { openingMm: 41, heightMm: 1001 } } },
    'lens.rim.heightMm: 1001 mm is above 1000 mm',
  ],
  [{ lens: { ...lens, pointsDeg: [0] } }, 'lens.pointsDeg: 1 directions stand against 2 points'],
  [{ lens: { ...lens, seatDeg: 3601 } }, 'lens.seatDeg: 3601 ° is above 3600 °'],
  [{ shields: [{ ...sheet, heightMm: far }] }, 'shields[0].heightMm: 10001 mm is above 10000 mm'],
  [{ shields: [{ ...sheet, azimuthDeg: 361 }] }, 'shields[0].azimuthDeg: 361 ° is above 360 °'],
  [
    { shields: [{ ...sheet, outline: sheet.outline.slice(1) }] },
    'shields[0].outline: has 1 points; it needs at least 2',
  ],
  [
    { shields: [{ ...sheet, outline: sheet.outline.toReversed() }] },
    'shields[0].outline[1].radiusMm: 20 mm is not above 200 mm',
  ],
  [
    { shields: [{ ...sheet, outline: sheet.outline.map((point) => ({ ...point, halfAngleDeg: 121 })) }] },
    'shields[0].outline[0].halfAngleDeg: 121 ° is above 120 °',
  ],
);

const sheets = changed<EvenOutRequest>(
  { sources: [source], motion: planetary, fromMm: 0, toMm: 100, heightMm: 300 },
  evenOut,
  [{ sources: [] }, 'sources: names no source whose film could be evened'],
  [{ sources: [{ ...source, exponent: -1 }] }, 'sources[0].exponent: -1 is below 0'],
  [
    { motion: { kind: 'fixed', heightMm: 700 } },
    'motion.kind: "fixed" leaves the rack at rest, where a shield only casts its shadow',
  ],
  [{ motion: { ...planetary, tiltDeg: -91 } }, 'motion.tiltDeg: -91 ° is below -90 °'],
  [{ toMm: far }, 'toMm: 10001 mm is above 10000 mm'],
  [{ motion: { kind: 'dome', radiusMm: 600, centreHeightMm: 0 }, toMm: 601 }, 'toMm: 601 mm is above 600 mm'],
  [{ fromMm: 100 }, 'fromMm: 100 mm is not below 100 mm'],
  [{ azimuthDeg: 361 }, 'azimuthDeg: 361 ° is above 360 °'],
  [{ others: [{ ...sheet, azimuthDeg: -361 }] }, 'others[0].azimuthDeg: -361 ° is below -360 °'],
  [{ heightMm: 0 }, 'heightMm: 0 mm is not above 0 mm'],
  [{ sources: [source, { ...source, heightMm: 301 }] }, 'heightMm: 300 mm is not above 301 mm'],
  [{ motion: { ...planetary, tiltDeg: 0 }, heightMm: 700 }, 'heightMm: 700 mm is not below 700 mm'],
);

const zone = { xMm: 0, yMm: 0, diameterMm: 10 };
const racks: Refusal[] = [
  ...changed(
    { rackDiameterMm: 300, rimMm: 5, partDiameterMm: 34, webMm: 2, pattern: 'rings' as const },
    nestCircles,
    [{ rackDiameterMm: 5001 }, 'rackDiameterMm: 5001 mm is above 5000 mm'],
    [{ rimMm: 1001 }, 'rimMm: 1001 mm is above 1000 mm'],
    [{ partDiameterMm: 0.4 }, 'part.diameterMm: 0.4 mm is below 0.5 mm'],
    [{ webMm: -1 }, 'webMm: -1 mm is below 0 mm'],
    [{ seed: -1 }, 'seed: -1 is below 0'],
    [{ keepOut: [{ ...zone, xMm: 5001 }] }, 'keepOut[0].xMm: 5001 mm is above 5000 mm'],
    [{ keepOut: [zone, { ...zone, yMm: -5001 }] }, 'keepOut[1].yMm: -5001 mm is below -5000 mm'],
    [{ keepOut: [{ ...zone, diameterMm: 0 }] }, 'keepOut[0].diameterMm: 0 mm is not above 0 mm'],
  ),
  ...changed(
    { rackDiameterMm: 300, rimMm: 5, widthMm: 30, heightMm: 20, webMm: 2 },
    nestRectangles,
    [{ rackDiameterMm: 5001 }, 'rackDiameterMm: 5001 mm is above 5000 mm'],
    [{ rimMm: -1 }, 'rimMm: -1 mm is below 0 mm'],
    [{ widthMm: 0.4 }, 'part.widthMm: 0.4 mm is below 0.5 mm'],
    [{ heightMm: 5001 }, 'part.heightMm: 5001 mm is above 5000 mm'],
    [{ webMm: 1001 }, 'webMm: 1001 mm is above 1000 mm'],
    [
      { widthMm: 240, heightMm: 180 },
      'part.widthMm: 240 mm × 180 mm does not fit: its diagonal is 300 mm, inside the rim of the rack are 290 mm',
    ],
    [
      { widthMm: 0.5, heightMm: 0.5, webMm: 0 },
      'part.widthMm: the part is too small: the rack would hold more',
    ],
  ),
  ...changed<FixtureRequest>(
    { chamberDiameterMm: 1100, rackDiameterMm: 360, planetGapMm: 10, wallGapMm: 15 },
    planetsOnCarrier,
    [{ chamberDiameterMm: 0 }, 'chamberDiameterMm: 0 mm is not above 0 mm'],
    [{ rackDiameterMm: far }, 'rackDiameterMm: 10001 mm is above 10000 mm'],
    [{ planetGapMm: -1 }, 'planetGapMm: -1 mm is below 0 mm'],
    [{ wallGapMm: 1001 }, 'wallGapMm: 1001 mm is above 1000 mm'],
    [{ tiltDeg: 91 }, 'tiltDeg: 91 ° is above 90 °'],
    [{ heightMm: far }, 'heightMm: 10001 mm is above 10000 mm'],
    [{ carrierRadiusMm: far }, 'carrierRadiusMm: 10001 mm is above 10000 mm'],
    [{ centreDiameterMm: far }, 'centreDiameterMm: 10001 mm is above 10000 mm'],
    [{ sources: [{ offsetMm: -1, clearanceMm: 0 }] }, 'sources[0].offsetMm: -1 mm is below 0 mm'],
    [{ sources: [{ offsetMm: 1, clearanceMm: -1 }] }, 'sources[0].clearanceMm: -1 mm is below 0 mm'],
  ),
  ...changed<OneRackRequest>(
    {
      motion: { kind: 'rotating', heightMm: 800 },
      rackDiameterMm: 900,
      chamberDiameterMm: 1100,
      wallGapMm: 5,
      sources: [],
    },
    requireOneRackFits,
    [{ motion: { kind: 'fixed', heightMm: 0 } }, 'motion.heightMm: 0 mm is below 1 mm'],
    [{ rackDiameterMm: 0 }, 'rackDiameterMm: 0 mm is not above 0 mm'],
    [{ chamberDiameterMm: far }, 'chamberDiameterMm: 10001 mm is above 10000 mm'],
    [{ wallGapMm: -1 }, 'wallGapMm: -1 mm is below 0 mm'],
    [{ sources: [{ offsetMm: -1, clearanceMm: 0 }] }, 'sources[0].offsetMm: -1 mm is below 0 mm'],
  ),
  ...changed(
    { title: 'rack', rackDiameterMm: 300, rimMm: 5, part: { diameterMm: 34 }, positions: [] },
    drillingSvg,
    [{ rackDiameterMm: 5001 }, 'rackDiameterMm: 5001 mm is above 5000 mm'],
  ),
  [() => holderRing(0.4), 'diameterMm: 0.4 mm is below 0.5 mm'],
  [() => holderRing(34, { ...USUAL_HOLDER, playMm: 11 }), 'playMm: 11 mm is above 10 mm'],
  [() => holderRing(34, { ...USUAL_HOLDER, ledgeMm: 17 }), 'ledgeMm: 17 mm is not below 17 mm'],
  [() => holderRing(34, { ...USUAL_HOLDER, wallMm: -1 }), 'wallMm: -1 mm is below 0 mm'],
  [() => holderRing(34, { playMm: 0.1, ledgeMm: 1, wallMm: 1 }, 33), 'clearApertureMm: 33 mm is above 32 mm'],
];

const places = [0, 10, 20].map((xMm) => ({ xMm, yMm: 0, angleDeg: 0 }));
const lot = { lot: 'L1', lenses: 5, places };
const loads: Refusal[] = [
  [() => fillRuns([lot], 0), 'planets: 0 is below 1'],
  [() => filledRun([lot], 1001, 0), 'planets: 1001 is above 1000'],
  [() => fillRuns([{ ...lot, lenses: -1 }], 1), 'lots[0].lenses: -1 is below 0'],
  [() => filledRun([lot, { ...lot, witnessesPerRack: -1 }], 1, 0), 'lots[1].witnessesPerRack: -1 is below 0'],
  [() => witnessPlaces(places, 4), 'count: 4 is above 3'],
];

const atHeight = { kind: 'rotating', heightMm: 600 } as const;
const sensor = { offsetMm: 0, heightMm: 500 };
const toolings: Refusal[] = [
  [
    () => toolingFactor({ ...source, offsetMm: -1 }, atHeight, 0, sensor),
    'source.offsetMm: -1 mm is below 0 mm',
  ],
  [
    () => toolingFactor(source, { ...atHeight, heightMm: 0 }, 0, sensor),
    'motion.heightMm: 0 mm is below 1 mm',
  ],
  [() => toolingFactor(source, atHeight, -1, sensor), 'radiusMm: -1 mm is below 0 mm'],
  [
    () => toolingFactor(source, atHeight, 0, { ...sensor, offsetMm: -1 }),
    'sensor.offsetMm: -1 mm is below 0 mm',
  ],
  [
    () => toolingFactor(source, atHeight, 0, { ...sensor, heightMm: 0 }),
    'sensor.heightMm: 0 mm is below 1 mm',
  ],
  [
    () => toolingFactor(source, atHeight, 0, { ...sensor, tiltDeg: 91 }),
    'sensor.tiltDeg: 91 ° is above 90 °',
  ],
];

const pipe = { diameterMm: 100, lengthMm: 500 };
const vacuum: Refusal[] = [
  [() => molecularConductanceM3PerS({ ...pipe, diameterMm: 0 }), 'diameterMm: 0 mm is not above 0 mm'],
  [() => molecularConductanceM3PerS({ ...pipe, lengthMm: -1 }), 'lengthMm: -1 mm is below 0 mm'],
  [
    () => molecularConductanceM3PerS({ diameterMm: 1, lengthMm: 1001 }),
    'lengthMm: 1001 mm is above 1000 mm, a thousand diameters',
  ],
  [() => viscousConductanceM3PerS(pipe, -1), 'meanPressurePa: -1 Pa is below 0 Pa'],
  [() => viscousConductanceM3PerS(pipe, 1, 0), 'viscosityPaS: 0 Pa s is not above 0 Pa s'],
  [() => effectiveSpeedM3PerS(1, [1, 0]), 'conductancesM3PerS[1]: 0 m3/s is not above 0 m3/s'],
  [() => exposureFactor(-1), 'exposureMin: -1 min is below 0 min'],
  [() => exposureFactor(1, 0), 'normalMin: 0 min is not above 0 min'],
  [() => speedThroughLineM3PerS(0, pipe, 1), 'pumpM3PerS: 0 m3/s is not above 0 m3/s'],
  [() => speedThroughLineM3PerS(1, pipe, -1), 'chamberPa: -1 Pa is below 0 Pa'],
  [() => unscatteredPart(-1, 1), 'distanceMm: -1 mm is below 0 mm'],
  [() => meanFreePathM(1.1e7), 'pressurePa: 11000000 Pa is above 10000000 Pa'],
  [() => impingementPerM2S(-1), 'pressurePa: -1 Pa is below 0 Pa'],
  [() => meanSpeedMPerS(5001), 'temperatureC: 5001 °C is above 5000 °C'],
];

const ramp = { fromC: 20, toC: 250, surroundingsC: 300, timeConstantS: 600 };
const plate = {
  ...{ thicknessMm: 10, youngGPa: 82, poisson: 0.2, expansionPerK: 7e-6 },
  ...{ conductivityWPerMK: 1.1, densityGPerCm3: 2.5, heatJPerGK: 0.86, allowedMPa: 5 },
};
const heat: Refusal[] = [
  ...changed(
    ramp,
    rampDurationS,
    [{ fromC: -201 }, 'fromC: -201 °C is below -200 °C'],
    [{ toC: 2001 }, 'toC: 2001 °C is above 2000 °C'],
    [{ surroundingsC: 2001 }, 'surroundingsC: 2001 °C is above 2000 °C'],
    [{ timeConstantS: 0 }, 'timeConstantS: 0 s is not above 0 s'],
    [{ maxRateKPerMin: 0 } as Partial<typeof ramp>, 'maxRateKPerMin: 0 K/min is not above 0 K/min'],
    [{ toC: 300 }, 'toC: 300 °C is never reached from 20 °C: the surroundings are at 300 °C'],
  ),
  ...changed(
    plate,
    safeRateKPerMin,
    [{ thicknessMm: 0 }, 'thicknessMm: 0 mm is not above 0 mm'],
    [{ youngGPa: 0 }, 'youngGPa: 0 GPa is not above 0 GPa'],
    [{ poisson: 0.5 }, 'poisson: 0.5 is not below 0.5'],
    [{ expansionPerK: 0 }, 'expansionPerK: 0 per K is not above 0 per K'],
    [{ conductivityWPerMK: 0 }, 'conductivityWPerMK: 0 W/(m K) is not above 0 W/(m K)'],
    [{ densityGPerCm3: 31 }, 'densityGPerCm3: 31 g/cm3 is above 30 g/cm3'],
    [{ heatJPerGK: 21 }, 'heatJPerGK: 21 J/(g K) is above 20 J/(g K)'],
    [{ allowedMPa: 0 }, 'allowedMPa: 0 MPa is not above 0 MPa'],
  ),
];

const layer = { label: '1', thicknessNm: 100, rateNmPerS: 0.5, rampS: 60, soakS: 40, shutterDelayS: 1 };
const times = changed<RunDescription>(
  {
    ...{ loadS: 900, pumpStages: [{ label: 'Rough', durationS: 600 }], layers: [layer] },
    ...{ pocketChangeS: 20, crystalChangeS: 30, ventS: 300, unloadS: 600, cleanS: 1200 },
  },
  scheduleRun,
  [{ loadS: -1 }, 'loadS: -1 s is below 0 s'],
  [{ pocketChangeS: -1 }, 'pocketChangeS: -1 s is below 0 s'],
  [{ crystalChangeS: -1 }, 'crystalChangeS: -1 s is below 0 s'],
  [{ unloadS: -1 }, 'unloadS: -1 s is below 0 s'],
  [{ cleanS: -1 }, 'cleanS: -1 s is below 0 s'],
  [{ pumpStages: [{ label: 'Rough', durationS: -1 }] }, 'pumpStages[0].durationS: -1 s is below 0 s'],
  [{ layers: [{ ...layer, thicknessNm: -1 }] }, 'layers[0].thicknessNm: -1 nm is below 0 nm'],
  [{ layers: [{ ...layer, tooling: 0 }] }, 'layers[0].tooling: 0 is below 0.001'],
  [{ layers: [{ ...layer, rampS: -1 }] }, 'layers[0].rampS: -1 s is below 0 s'],
  [{ layers: [{ ...layer, soakS: -1 }] }, 'layers[0].soakS: -1 s is below 0 s'],
  [{ layers: [{ ...layer, shutterDelayS: -1 }] }, 'layers[0].shutterDelayS: -1 s is below 0 s'],
  [{ layers: [{ ...layer, backfillSettleS: -1 }] }, 'layers[0].backfillSettleS: -1 s is below 0 s'],
  [{ heating: { ...ramp, soakS: -1 } }, 'heating.soakS: -1 s is below 0 s'],
  [{ heating: { ...ramp, soakS: 1, afterStages: 2 } }, 'heating.afterStages: 2 is above 1'],
);

const run = { label: 'front 1', beginS: 1800, aloneS: 9000, endS: 1800 };
const days = changed<CalendarRequest>(
  {
    ...{ firstDay: '2026-11-27', shifts: [{ fromMin: 360, toMin: 840 }], weekdays: [1, 2, 3] },
    ...{ runs: [run], aloneOutsideShifts: true },
  },
  planCalendar,
  [{ firstDay: '2026-13-01' }, 'firstDay: "2026-13-01" is not a day such as 2026-11-30'],
  [{ firstDay: '+002026-11-27' }, 'firstDay: "+002026-11-27" is not a day such as 2026-11-30'],
  [{ shifts: [] }, 'shifts: there is no shift; at least one is needed'],
  [{ weekdays: [] }, 'weekdays: there is no working day; at least one is needed'],
  [{ weekdays: [1, 0] }, 'weekdays[1]: 0 is below 1'],
  [{ runs: [{ ...run, beginS: -1 }] }, 'runs[0].beginS: -1 s is below 0 s'],
  [{ shifts: [{ fromMin: -1, toMin: 840 }] }, 'shifts[0].fromMin: -1 min is below 0 min'],
  [{ runs: [{ ...run, aloneS: -1 }] }, 'runs[0].aloneS: -1 s is below 0 s'],
  [{ runs: [run, { ...run, endS: -1 }] }, 'runs[1].endS: -1 s is below 0 s'],
  [
    { runs: [{ ...run, endS: 28_860 }] },
    'runs[0].endS: 481 min with people is above the longest shift of 480 min',
  ],
  [
    { aloneOutsideShifts: false, runs: [{ ...run, aloneS: 28_800 }] },
    'runs[0]: 540 min with people is above the longest shift of 480 min',
  ],
  [
    { weekdays: [1, 2, 3, 4, 5, 6, 7], runs: Array.from({ length: 40 }, () => ({ ...run, aloneS: 1e7 })) },
    'runs[31].endS: the lot does not end within 3660 days',
  ],
);

const effort = {
  goodLenses: 95,
  machineS: 1,
  labourS: 1,
  materialG: { sio2: 10 },
  crystals: 1,
  lostLenses: 5,
};
const prices = { machinePerHour: 1, labourPerHour: 1, materialPerG: { sio2: 1 }, perCrystal: 1, perLens: 1 };
const crystalLayer = { thicknessNm: 100, densityGPerCm3: 2.2, zRatio: 1 };
const budget = { frequencyHz: 6e6, budgetHz: 40_000 };
const pocket = { material: 'sio2', pocket: 'B', massG: 3 };
const amounts: Refusal[] = [
  ...changed<LotEffort>(
    effort,
    (request) => lotCost(request, prices),
    [{ goodLenses: 0 }, 'goodLenses: 0 is not above 0'],
    [{ machineS: -1 }, 'machineS: -1 s is below 0 s'],
    [{ labourS: -1 }, 'labourS: -1 s is below 0 s'],
    [{ crystals: -1 }, 'crystals: -1 is below 0'],
    [{ lostLenses: -1 }, 'lostLenses: -1 is below 0'],
    [{ materialG: { sio2: -1 } }, 'materialG.sio2: -1 g is below 0 g'],
  ),
  ...changed<Prices>(
    prices,
    (request) => lotCost(effort, request),
    [{ machinePerHour: -1 }, 'prices.machinePerHour: -1 is below 0'],
    [{ labourPerHour: -1 }, 'prices.labourPerHour: -1 is below 0'],
    [{ perCrystal: -1 }, 'prices.perCrystal: -1 is below 0'],
    [{ perLens: -1 }, 'prices.perLens: -1 is below 0'],
    [{ materialPerG: { sio2: -1 } }, 'prices.materialPerG.sio2: -1 per g is below 0 per g'],
  ),
  ...changed(
    budget,
    (request) => planCrystals([crystalLayer], request),
    [{ frequencyHz: 0 }, 'frequencyHz: 0 Hz is below 100000 Hz'],
    [{ budgetHz: 3_000_001 }, 'budgetHz: 3000001 Hz is above 3000000 Hz'],
    [{ usedHz: 40_001 } as Partial<typeof budget>, 'usedHz: 40001 Hz is above 40000 Hz'],
  ),
  ...changed(
    crystalLayer,
    (request) => planCrystals([crystalLayer, request], budget),
    [{ thicknessNm: -1 }, 'layers[1].thicknessNm: -1 nm is below 0 nm'],
    [{ densityGPerCm3: 0 }, 'layers[1].densityGPerCm3: 0 g/cm3 is not above 0 g/cm3'],
    [{ zRatio: 0 }, 'layers[1].zRatio: 0 is below 0.01'],
    [{ tooling: 0 } as Partial<typeof crystalLayer>, 'layers[1].tooling: 0 is below 0.001'],
  ),
  [() => planMaterial([pocket], -1, {}), 'runs: -1 is below 0'],
  [() => planMaterial([{ ...pocket, massG: -1 }], 1, {}), 'pockets.B.massG: -1 g is below 0 g'],
  [
    () => planMaterial([pocket], 1, { B: { capacityG: 0, leastG: 0 } }),
    'pockets.B.capacityG: 0 g is not above 0 g',
  ],
  [
    () => planMaterial([pocket], 1, { B: { capacityG: 5, leastG: 5 } }),
    'pockets.B.leastG: 5 g is not below 5 g',
  ],
];

describe('a figure beyond its range is told with its place, its value and the limit', () => {
  expectRefused([
    ...[...film, ...sheets, ...racks, ...loads, ...toolings],
    ...[...vacuum, ...heat, ...times, ...days, ...amounts],
  ]);
});
