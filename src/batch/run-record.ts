import * as v from 'valibot';
import { count, list, quantity, text, word, yesOrNo } from '../base/schema.ts';
import { layerGrading } from '../materials/grading.ts';
import { indexSpec } from '../materials/index-spec.ts';
import { identifier } from './identifier.ts';

const sensor = word(['crystal', 'witness'], 'what ends the layer');
const tooling = (note?: string) => quantity('', { min: 0.05, max: 20 }, note);

const baselineLine = v.strictObject({
  name: text(200),
  wavelengthNm: list(quantity('nm', { min: 100, max: 50_000 }), { min: 2, max: 20_000 }),
  values: list(quantity('', { min: -10, max: 10 }, 'fraction'), { min: 2, max: 20_000 }),
});

/** The instrument's own lines that a spectrum was put on the scale of, and what its reference truly has. */
export const spectrumBaseline = v.strictObject({
  zero: v.exactOptional(baselineLine),
  full: v.exactOptional(baselineLine),
  certificate: v.exactOptional(baselineLine),
  referencePercent: v.exactOptional(quantity('%', { above: 0, max: 100 }, 'true value of the reference')),
  bareReference: v.exactOptional(yesOrNo("the reference was one bare surface of the lens's glass")),
});

/** How a person had a file read where the guess was wrong, and what was done to the readings since. */
export const spectrumReading = v.strictObject({
  column: v.exactOptional(count({ min: 1, max: 1000 }, 'column of values, from 1')),
  xUnit: v.exactOptional(word(['nm', 'um', 'cm-1', 'angstrom', 'eV'])),
  scale: v.exactOptional(word(['fraction', 'percent', 'absorbance'])),
  quantity: v.exactOptional(word(['R', 'T', 'A'])),
  baseline: v.exactOptional(spectrumBaseline),
  smoothPoints: v.exactOptional(count({ min: 5, max: 101 }, 'odd; running parabola')),
  bareBackRemoved: v.exactOptional(yesOrNo("the bare back of the lens's glass was taken off")),
});

export const measuredSpectrum = v.strictObject({
  id: identifier(),
  name: text(200),
  side: word(['front', 'back']),
  place: v.exactOptional(text(80)),
  quantity: word(['R', 'T', 'A']),
  incidenceDeg: v.optional(quantity('°', { min: 0, max: 89.9 }), 0),
  wavelengthNm: list(quantity('nm', { min: 100, max: 50_000 }), { min: 1, max: 20_000 }),
  values: list(quantity('', { min: -10, max: 10 }, 'fraction'), { min: 1, max: 20_000 }),
  piece: v.exactOptional(word(['lens', 'witness'], 'what was measured')),
  instrument: v.exactOptional(text(200, 'instrument and how it was set, as certificates have it')),
  original: v.exactOptional(text(2_000_000, 'the file as it was read')),
  reading: v.exactOptional(spectrumReading),
});

/** The tooling that a run's measurement asks for. */
export const toolingCorrection = v.strictObject({
  material: identifier('material id'),
  source: v.exactOptional(identifier("source's id")),
  sensor,
  before: tooling('by which the run was made'),
  after: tooling('that the measurement asks for'),
  sigma: quantity('', { min: 0, max: 20 }, 'one standard deviation of it'),
  noted: v.exactOptional(yesOrNo('noted for the control chart only; no run takes it')),
});

const minutes = (note: string) => quantity('min', { min: 0, max: 100_000 }, note);

/** The stages of a run that are timed; they may overlap. */
const stageTimes = {
  pumpMin: minutes('from the door to the last pump stage'),
  heatMin: minutes('heating and soak'),
  coatMin: minutes('first layer to last'),
  coolMin: minutes('down to venting'),
  totalMin: minutes('door to door'),
};

/** What was planned when a run was logged: later edits of the batch do not change what it is compared with. */
export const runPlanned = v.strictObject({
  fingerprint: text(40, 'of the batch, as on the traveller'),
  layers: list(
    v.strictObject({
      material: identifier('material id'),
      thicknessNm: quantity('nm', { min: 0, max: 20_000 }),
      sensor,
      grading: v.exactOptional(layerGrading),
    }),
    { max: 200 },
  ),
  substrate: v.exactOptional(identifier('material id of the glass')),
  incident: v.exactOptional(indexSpec),
  tooling: v.record(
    identifier('material id'),
    v.strictObject({
      source: identifier(),
      crystal: tooling('thickness on crystal / on lens'),
      witness: tooling('thickness on witness / on lens'),
    }),
  ),
  aimPercent: v.exactOptional(
    quantity('%', { min: -20, max: 20 }, 'film on the mean place beyond the stack'),
  ),
  lenses: count({ min: 0, max: 1_000_000 }),
  ...stageTimes,
});

/** What it came to, as far as anybody wrote it down. */
export const runActual = v.strictObject({
  lenses: v.exactOptional(count({ min: 0, max: 1_000_000 })),
  pumpMin: v.exactOptional(stageTimes.pumpMin),
  heatMin: v.exactOptional(stageTimes.heatMin),
  coatMin: v.exactOptional(stageTimes.coatMin),
  coolMin: v.exactOptional(stageTimes.coolMin),
  totalMin: v.exactOptional(stageTimes.totalMin),
});

export const runReading = v.strictObject({
  what: text(120, 'instrument and moment, such as "pressure before layer 1"'),
  value: text(60, 'as read off, with its unit'),
});

export const runRecord = v.strictObject({
  id: identifier(),
  number: count({ min: 1, max: 1_000_000 }),
  side: word(['front', 'back']),
  startedAt: text(40, 'date and time, ISO 8601'),
  operator: text(40, 'initials'),
  note: v.exactOptional(text(4000)),
  planned: v.exactOptional(runPlanned),
  actual: v.exactOptional(runActual),
  readings: v.exactOptional(list(runReading, { max: 1000 })),
  uncertaintyPercent: v.exactOptional(
    quantity('%', { min: 0, max: 10 }, 'of a reading of the spectra, one standard deviation'),
  ),
  spectra: v.optional(list(measuredSpectrum, { max: 100 }), []),
  corrections: v.exactOptional(
    list(toolingCorrection, { max: 100 }, 'tooling that was carried from this run into the next, or noted'),
  ),
});

export type RunRecord = v.InferOutput<typeof runRecord>;
export type RunPlanned = v.InferOutput<typeof runPlanned>;
export type SpectrumBaseline = v.InferOutput<typeof spectrumBaseline>;
export type SpectrumReading = v.InferOutput<typeof spectrumReading>;
export type ToolingCorrection = v.InferOutput<typeof toolingCorrection>;
export type MeasuredSpectrum = v.InferOutput<typeof measuredSpectrum>;
export type Sensor = ToolingCorrection['sensor'];
