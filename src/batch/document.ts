import * as v from 'valibot';
import { choice, count, list, quantity, shown, text, word, yesOrNo } from '../base/schema.ts';
import { WIDEST_HALF_ANGLE_DEG } from '../chamber/shield.ts';
import { requirement } from '../design/requirement.ts';
import { layerGrading } from '../materials/grading.ts';
import { indexSpec } from '../materials/index-spec.ts';
import { materialRecord } from '../materials/record.ts';
import { CUT_RULES } from '../monitor/cut-rule.ts';
import { auditTrail } from './audit-trail.ts';
import { identifier } from './identifier.ts';
import { runRecord } from './run-record.ts';

/**
 * The batch: the one document that everything on the screen, on paper and in the command's answers is
 * computed from. It holds inputs and records only. Units end the names; radii are signed by the usual
 * convention of lens drawings (positive where the centre of curvature lies behind the surface as light
 * passes from front to back; left out where the surface is plane).
 */
export const BATCH_FORMAT = 'coatwright-batch';
export const BATCH_VERSION = 1;

const radiusMm = v.exactOptional(
  v.pipe(
    quantity('mm', { min: -1e6, max: 1e6 }, 'radius of curvature, signed; left out where the face is plane'),
    v.check(
      (value: number) => Math.abs(value) >= 0.5,
      (issue) => `a radius of ${issue.input} mm is smaller than 0.5 mm; leave it out for a plane face`,
    ),
  ),
);

export const lens = v.strictObject({
  substrate: identifier('material id of the glass'),
  diameterMm: quantity('mm', { min: 1, max: 1000 }),
  clearApertureMm: quantity('mm', { min: 0.5, max: 1000 }),
  centreThicknessMm: quantity('mm', { min: 0.1, max: 200 }),
  frontRadiusMm: radiusMm,
  backRadiusMm: radiusMm,
  maximumTemperatureC: v.exactOptional(
    quantity('°C', { min: 20, max: 600 }, 'the highest temperature that this glass and its polish may see'),
  ),
  maximumRateKPerMin: v.exactOptional(
    quantity(
      'K/min',
      { min: 0.01, max: 1000 },
      'fastest change of temperature; left out: from the thickness',
    ),
  ),
});

export const order = v.strictObject({
  title: text(120),
  lot: text(60),
  customer: v.exactOptional(text(120)),
  drawing: v.exactOptional(text(200, 'the coating line as the drawing words it')),
  note: v.exactOptional(text(4000)),
  quantity: count({ min: 1, max: 1_000_000 }, 'good lenses to deliver'),
  rejectReservePercent: v.optional(
    quantity('%', { min: 0, max: 100 }, 'lenses coated beyond the quantity, for rejects'),
    0,
  ),
  lens,
});

export const layer = v.strictObject({
  id: identifier('unique within the batch'),
  material: identifier('material id'),
  thicknessNm: quantity('nm', { min: 0, max: 20_000 }),
  locked: v.exactOptional(yesOrNo('left alone by refinement')),
  group: v.exactOptional(
    count({ min: 1, max: 100 }, 'layers with the same number are refined to one thickness'),
  ),
  grading: v.exactOptional(layerGrading),
});

export const surface = v.strictObject({
  incident: v.optional(indexSpec, 1),
  requirements: v.optional(list(requirement, { max: 20 }), []),
  layers: v.optional(list(layer, { max: 200 }), []),
});

const backSurface = choice([word(['same', 'uncoated']), surface] as v.GenericSchema[], (input) =>
  typeof input === 'string' ? word(['same', 'uncoated'], 'as the front, or left bare') : surface,
) as unknown as v.GenericSchema<unknown, 'same' | 'uncoated' | v.InferOutput<typeof surface>>;

/** How the ring holds the lens. */
export const holder = v.strictObject({
  playMm: quantity('mm', { min: 0, max: 5 }, "between the lens's edge and its seat, all round"),
  ledgeMm: quantity('mm', { min: 0, max: 50 }, "of the lens's edge that lies on the ledge and stays bare"),
  lipMm: quantity(
    'mm',
    { min: 0, max: 50 },
    "how far the ledge stands out from the lens's edge to the vapour",
  ),
});

/** A lot of other lenses of the same glass that gets the same coating and fills racks of the same carrier. */
export const otherLot = v.strictObject({
  lot: v.pipe(
    text(60),
    v.check((value: string) => value.trim() !== '', 'a lot needs a name, such as "LW-2611-05"'),
  ),
  quantity: count({ min: 1, max: 1_000_000 }, 'lenses to start'),
  diameterMm: quantity('mm', { min: 1, max: 1000 }),
  clearApertureMm: v.exactOptional(
    quantity('mm', { min: 0.5, max: 1000 }, 'left out: all that the ledge of its ring leaves free'),
  ),
  frontRadiusMm: radiusMm,
  backRadiusMm: radiusMm,
});

/** How a load can move; see `motionOf`. */
export const MOTION_KINDS = ['planetary', 'rotating', 'fixed', 'dome'] as const;
export type MotionKind = (typeof MOTION_KINDS)[number];

export const fixture = v.strictObject({
  racks: count({ min: 1, max: 60 }, 'planets on the carrier; every other motion has one rack'),
  rackDiameterMm: quantity('mm', { min: 10, max: 3000 }, 'of a dome: that of its open edge'),
  rimMm: quantity('mm', { min: 0, max: 200 }, 'edge of the rack kept free'),
  webMm: quantity('mm', { min: 0, max: 200 }, 'least metal between two holes'),
  holderRingMm: quantity('mm', { min: 0, max: 50 }, "holder ring's width around the lens, on each side"),
  holder: v.exactOptional(holder),
  otherLots: v.exactOptional(list(otherLot, { max: 6 })),
  pattern: word(['rings', 'hexagonal', 'best']),
  witnessesPerRack: count({ min: 0, max: 20 }, 'places of a rack given to witness pieces'),
  keepOut: v.optional(
    list(
      v.strictObject({
        xMm: quantity('mm', { min: -3000, max: 3000 }),
        yMm: quantity('mm', { min: -3000, max: 3000 }),
        diameterMm: quantity('mm', { above: 0, max: 3000 }),
      }),
      { max: 40 },
    ),
    [],
  ),
  motion: v.exactOptional(
    word(
      MOTION_KINDS,
      'planets on a carrier; one rack on the axis, turning or at rest; a turning dome. Left out: planetary',
    ),
  ),
  domeRadiusMm: v.exactOptional(
    quantity(
      'mm',
      { min: 10, max: 10_000 },
      "of a dome's sphere; left out: its centre on the sources' level",
    ),
  ),
  carrierRadiusMm: quantity('mm', { min: 0, max: 3000 }, "from the machine's axis to a planet's axis"),
  heightMm: quantity('mm', { min: 10, max: 5000 }, "the racks' centre (a dome's top) above the sources"),
  tiltDeg: v.optional(quantity('°', { min: -89, max: 89 }, "coated face towards the machine's axis"), 0),
  gearRatio: v.exactOptional(
    quantity('', { min: -200, max: 200 }, 'planet turns per carrier turn, seen from the carrier'),
  ),
  carrierTurnsPerMin: quantity(
    '1/min',
    { above: 0, max: 200 },
    'of the carrier, or of what turns on the axis',
  ),
});

export const source = v.strictObject({
  id: identifier(),
  kind: word(['e-beam', 'boat']),
  offsetMm: quantity('mm', { min: 0, max: 3000 }, "from the machine's axis"),
  azimuthDeg: v.optional(quantity('°', { min: -360, max: 360 }), 0),
  heightMm: v.exactOptional(
    quantity('mm', { min: -2000, max: 2000 }, 'above the level from which heights count; left out: on it'),
  ),
  exponent: quantity('', { min: 0, max: 20 }, 'n of the cos^n emission'),
  pockets: count({ min: 1, max: 24 }),
  pocketCm3: quantity('cm³', { above: 0, max: 10_000 }, 'room for material in one pocket'),
});

/** A sheet at rest below the racks that evens the film; see `evenOut`. */
export const shield = v.strictObject({
  id: identifier(),
  source: v.exactOptional(
    identifier('the source with which it swings in; left out: it stands still for every source'),
  ),
  heightMm: quantity('mm', { min: 1, max: 5000 }, 'above the sources'),
  azimuthDeg: quantity('°', { min: -360, max: 360 }, 'direction of its middle line'),
  inTooling: v.exactOptional(yesOrNo('the toolings of the batch were measured with it in place')),
  outline: list(
    v.strictObject({
      radiusMm: quantity('mm', { min: 0, max: 3000 }, "from the machine's axis, rising"),
      halfAngleDeg: quantity('°', { min: 0, max: WIDEST_HALF_ANGLE_DEG }, 'half of the angle that it spans'),
    }),
    { min: 2, max: 60 },
  ),
});

export const pumpStage = v.strictObject({
  name: text(60),
  speedM3PerS: quantity(
    'm³/s',
    { above: 0, max: 1000 },
    "at the chamber, or the pump's own where its line is given",
  ),
  line: v.exactOptional(
    v.strictObject({
      diameterMm: quantity('mm', { above: 0, max: 5000 }, 'bore of the pipe to the pump'),
      lengthMm: quantity('mm', { min: 0, max: 1e5 }, 'of the pipe, at most a thousand bores'),
    }),
  ),
  loadPaM3PerS: quantity('Pa·m³/s', { min: 0, max: 1e5 }),
  untilPa: quantity('Pa', { above: 0, max: 101_325 }),
});

export const chamber = v.strictObject({
  name: text(80),
  diameterMm: quantity('mm', { min: 100, max: 6000 }),
  heightMm: quantity('mm', { min: 100, max: 6000 }),
  volumeM3: quantity('m³', { above: 0, max: 200 }),
  sources: list(source, { min: 1, max: 8 }),
  shields: v.exactOptional(list(shield, { max: 4 })),
  startPa: v.optional(quantity('Pa', { above: 0, max: 120_000 }), 101_325),
  pumps: list(pumpStage, { min: 1, max: 6 }),
  outgassing: v.exactOptional(
    v.strictObject({
      areaM2: quantity('m²', { min: 0, max: 1000 }),
      rateAfter1hPaM3PerSM2: quantity('Pa·m³/(s·m²)', { min: 0, max: 1 }),
      exposureMin: v.exactOptional(
        quantity(
          'min',
          { min: 1, max: 100_000 },
          'for which the chamber stands open; left out: 30 min, as usual',
        ),
      ),
    }),
  ),
  ambientC: v.optional(quantity('°C', { min: 0, max: 50 }), 22),
  heatTimeConstantMin: quantity('min', { min: 0, max: 600 }),
  coolTimeConstantMin: quantity('min', { min: 0, max: 600 }),
  heaterC: quantity('°C', { min: 0, max: 800 }, 'temperature that the heaters drive the load towards'),
  ventBelowC: quantity('°C', { min: 10, max: 400 }),
  crystals: v.strictObject({
    count: count({ min: 0, max: 24 }),
    frequencyHz: quantity('Hz', { min: 1e6, max: 20e6 }),
    budgetHz: quantity('Hz', { above: 0, max: 5e6 }, 'drop at which a crystal is changed'),
    changeS: quantity('s', { min: 0, max: 3600 }),
    offsetMm: v.exactOptional(
      quantity('mm', { min: 0, max: 3000 }, "from the machine's axis; left out: on the axis"),
    ),
    heightMm: v.exactOptional(
      quantity('mm', { min: 10, max: 5000 }, 'above the sources; left out: as high as the racks'),
    ),
    price: v.exactOptional(quantity('per crystal', { min: 0, max: 1e5 })),
  }),
});

export const materialProcess = v.strictObject({
  source: identifier("source's id"),
  partner: v.exactOptional(
    v.strictObject({
      source: identifier("another source's id"),
      sharePercent: quantity('%', { above: 0, below: 100 }, 'of the evaporated mass that leaves it'),
    }),
  ),
  rateNmPerS: quantity(
    'nm/s',
    { min: 0.001, max: 100 },
    'as the crystal sees it, before tooling; of both sources where two fire together',
  ),
  rampS: quantity('s', { min: 0, max: 3600 }, 'power up to the soak'),
  soakS: quantity('s', { min: 0, max: 3600 }, 'conditioning behind the closed shutter'),
  shutterDelayS: quantity('s', { min: 0, max: 60 }),
  oxygenPa: v.optional(quantity('Pa', { min: 0, max: 1 }), 0),
  oxygenSettleS: v.optional(quantity('s', { min: 0, max: 3600 }), 0),
  witnessTooling: v.optional(quantity('', { min: 0.05, max: 20 }, 'thickness on witness / on lens'), 1),
  crystalTooling: v.optional(quantity('', { min: 0.05, max: 20 }, 'thickness on crystal / on lens'), 1),
  chargeReservePercent: v.optional(quantity('%', { min: 0, max: 500 }), 50),
  pricePerG: v.exactOptional(quantity('per g', { min: 0, max: 1e6 })),
});

export const process = v.strictObject({
  temperatureC: quantity('°C', { min: 0, max: 600 }),
  soakMin: quantity('min', { min: 0, max: 600 }),
  loadMin: quantity('min', { min: 0, max: 600 }),
  ventMin: quantity('min', { min: 0, max: 600 }),
  unloadMin: quantity('min', { min: 0, max: 600 }),
  cleanMin: v.optional(quantity('min', { min: 0, max: 1440 }, 'between runs'), 0),
  cleanEveryRuns: v.optional(count({ min: 1, max: 1000 }), 1),
  pocketChangeS: quantity('s', { min: 0, max: 3600 }),
  aimPercent: v.exactOptional(
    quantity('%', { min: -20, max: 20 }, 'film on the mean place beyond the stack; left out: as the stack'),
  ),
  materials: v.record(identifier(), materialProcess),
});

export const cutRule = word(CUT_RULES);

export const layerMonitor = v.strictObject({
  wavelengthNm: v.exactOptional(quantity('nm', { min: 150, max: 20_000 })),
  signal: v.exactOptional(word(['R', 'T'])),
  rule: v.exactOptional(cutRule),
  newWitness: v.exactOptional(yesOrNo('a fresh witness piece from this layer on')),
});

export const noise = v.strictObject({
  signalPercent: v.optional(quantity('%', { min: 0, max: 20 }), 0.05),
  driftPercentPerMin: v.optional(quantity('%/min', { min: -10, max: 10 }), 0),
  rateNoisePercent: v.optional(quantity('%', { min: 0, max: 100 }), 5),
  rateBiasPercent: v.optional(quantity('%', { min: -50, max: 50 }), 0),
  crystalPercent: v.optional(quantity('%', { min: 0, max: 50 }), 1),
  shutterDelayS: v.optional(quantity('s', { min: 0, max: 10 }), 0.2),
  sampleS: v.optional(quantity('s', { min: 0.01, max: 10 }), 0.5),
  gainPercent: v.exactOptional(
    quantity('%', { min: 0, max: 50 }, "one sigma of the signal's gain, once a witness"),
  ),
  rateCorrelationS: v.exactOptional(quantity('s', { min: 0, max: 1000 }, 'time over which the rate wanders')),
  rateDecayPercentPerMin: v.exactOptional(quantity('%/min', { min: -50, max: 99 }, 'the source dies away')),
  spitsPerMin: v.exactOptional(quantity('1/min', { min: 0, max: 600 })),
  spitNm: v.exactOptional(quantity('nm', { min: 0, max: 100 }, 'thickness that a spit adds')),
  toolingPercent: v.exactOptional(
    quantity('%', { min: 0, max: 50 }, 'one sigma of the tooling, once a layer'),
  ),
  toolingDriftPercent: v.exactOptional(quantity('%', { min: -20, max: 20 }, 'from layer to layer')),
  indexPercent: v.exactOptional(quantity('%', { min: 0, max: 20 }, 'one sigma of the index, once a run')),
  crystalLifePercent: v.exactOptional(
    quantity(
      '%',
      { min: 10, max: 1000 },
      'of the budget, where a crystal is lost on average; left out: never',
    ),
  ),
  crystalLifeScatterPercent: v.exactOptional(
    quantity('%', { min: 0, max: 100 }, 'one sigma of that life, of itself'),
  ),
  crystalAgedNoiseNm: v.exactOptional(
    quantity('nm', { min: 0, max: 10 }, 'one sigma of a reading once the budget is used up'),
  ),
  crystalAgedShiftPercent: v.exactOptional(
    quantity('%', { min: -20, max: 20 }, 'how far a crystal reads off once its budget is used up'),
  ),
});

export const monitor = v.strictObject({
  witness: v.strictObject({
    material: identifier(),
    thicknessMm: quantity('mm', { min: 0.05, max: 50 }),
    backSurface: word(['none', 'bare']),
  }),
  wavelengthNm: quantity('nm', { min: 150, max: 20_000 }, 'where a layer has no own wavelength'),
  signal: word(['R', 'T']),
  rule: cutRule,
  bandwidthNm: v.optional(quantity('nm', { min: 0, max: 200 }), 0),
  incidenceDeg: v.optional(quantity('°', { min: 0, max: 80 }, 'angle of its light on the witness'), 0),
  noise: v.optional(noise, {}),
  layers: v.optional(v.record(identifier("layer's id"), layerMonitor), {}),
});

export const money = v.strictObject({
  currency: text(8),
  machinePerHour: quantity('per h', { min: 0, max: 1e6 }),
  labourPerHour: quantity('per h', { min: 0, max: 1e6 }),
  attendedPercent: v.optional(
    quantity('%', { min: 0, max: 100 }, "share of a run's time that is attended"),
    40,
  ),
  lensValue: v.optional(quantity('per lens', { min: 0, max: 1e6 }, 'lost with every reject'), 0),
});

/** When people are there; see `planCalendar`. */
export const calendar = v.strictObject({
  firstDay: v.pipe(
    text(10, 'day on which the lot begins, such as 2026-11-30'),
    v.check(
      (value: string) => /^\d{4}-\d{2}-\d{2}$/.test(value) && !Number.isNaN(Date.parse(`${value}T00:00:00Z`)),
      (issue) => `${JSON.stringify(issue.input)} is not a day such as 2026-11-30`,
    ),
  ),
  shifts: list(
    v.strictObject({
      fromMin: quantity('min', { min: 0, max: 1439 }, 'from midnight'),
      toMin: quantity('min', { min: 1, max: 1440 }, 'from midnight'),
    }),
    { min: 1, max: 6 },
  ),
  weekdays: list(count({ min: 1, max: 7 }, '1 Monday to 7 Sunday'), { min: 1, max: 7 }),
  aloneOutsideShifts: v.optional(yesOrNo('the machine may work alone outside the shifts'), false),
});

/** What is wrong with the version of a document that this program cannot read. */
export function versionFault(version: unknown): string {
  return Number.isInteger(version) && (version as number) > BATCH_VERSION
    ? `${version} is newer than ${BATCH_VERSION}, the newest that this program reads; open it with a newer Coatwright`
    : `${shown(version)} is not a version; this program reads versions up to ${BATCH_VERSION}`;
}

export const batch = v.strictObject({
  format: v.literal(BATCH_FORMAT, `the file is not a Coatwright batch: its format is not "${BATCH_FORMAT}"`),
  version: v.literal(BATCH_VERSION, (issue) => versionFault(issue.input)),
  id: identifier(),
  invented: v.exactOptional(text(400, 'says that and how this batch is invented')),
  shop: v.exactOptional(text(200, "the coating shop's name and place, as certificates have it")),
  order,
  surfaces: v.strictObject({ front: surface, back: v.optional(backSurface, 'uncoated') }),
  fixture,
  chamber,
  process,
  monitor,
  money: v.exactOptional(money),
  calendar: v.exactOptional(calendar),
  runs: v.optional(list(runRecord, { max: 2000 }), []),
  trail: v.exactOptional(auditTrail),
  materials: v.optional(list(materialRecord, { max: 200 }, 'materials that the batch carries with it'), []),
});

export type Batch = v.InferOutput<typeof batch>;
export type Surface = v.InferOutput<typeof surface>;
export type Layer = v.InferOutput<typeof layer>;
export type Lens = v.InferOutput<typeof lens>;
export type Fixture = v.InferOutput<typeof fixture>;
export type BatchShield = v.InferOutput<typeof shield>;
export type OtherLot = v.InferOutput<typeof otherLot>;
export type Chamber = v.InferOutput<typeof chamber>;
export type Process = v.InferOutput<typeof process>;
export type MaterialProcess = v.InferOutput<typeof materialProcess>;
export type MonitorSettings = v.InferOutput<typeof monitor>;
export type LayerMonitor = v.InferOutput<typeof layerMonitor>;
export type CutRule = v.InferOutput<typeof cutRule>;
export type { MeasuredSpectrum, RunRecord, SpectrumReading, ToolingCorrection } from './run-record.ts';
export type CalendarSettings = v.InferOutput<typeof calendar>;
export type Money = v.InferOutput<typeof money>;
export type Side = 'front' | 'back';
