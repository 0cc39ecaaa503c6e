import * as v from 'valibot';
import { count } from '../../base/schema.ts';
import { indexSpec } from '../../materials/index-spec.ts';
import { predictSignals } from '../../monitor/signal.ts';
import { chooseForRequest, chooseShape } from '../choose-request.ts';
import {
  incidenceField,
  MaterialBook,
  monitoredLayers,
  resolveMonitored,
  resolveWitness,
  witnessShape,
} from '../monitor-shapes.ts';
import { defineTask } from '../task.ts';

/** Less swing than this drowns in the noise of a usual monitor, percent of the full light (common practice, no source). */
const LEAST_SWING_PERCENT = 0.1;

export default defineTask({
  name: 'monitor',
  summary: "The signal of the monitor's witness while each layer grows, with turning points and cut levels",
  request: v.strictObject({
    witness: witnessShape,
    incident: v.optional(indexSpec, 1),
    layers: monitoredLayers,
    samplesPerLayer: v.optional(count({ min: 2, max: 100_000 }, 'points of each trace'), 101),
    incidenceDeg: incidenceField,
    choose: v.exactOptional(chooseShape),
  }),
  example: {
    witness: { substrate: '517642', thicknessMm: 1, backSurface: 'bare' },
    incident: 1,
    layers: [
      { material: 'zro2', thicknessNm: 134, wavelengthNm: 550, signal: 'R', bandwidthNm: 4 },
      { material: 'mgf2', thicknessNm: 99.6, wavelengthNm: 550, signal: 'R', tooling: 1.05 },
    ],
    samplesPerLayer: 21,
  },
  run({ witness, incident, layers, samplesPerLayer, incidenceDeg, choose }) {
    const book = new MaterialBook();
    const sight = resolveWitness(witness, incident, incidenceDeg, book, 'witness');
    const monitored = layers.map((layer, index) => resolveMonitored(layer, book, `layers[${index}]`));
    const signals = predictSignals(sight, monitored, samplesPerLayer);
    const flat = signals.flatMap(({ swingPercent }, index) =>
      swingPercent < LEAST_SWING_PERCENT && layers[index]!.thicknessNm > 0
        ? [
            `layers[${index}]: the signal swings by only ${swingPercent.toPrecision(3)} % at ${layers[index]!.wavelengthNm} nm; cut by crystal or take another wavelength.`,
          ]
        : [],
    );
    const warnings = [...book.warnings, ...flat];
    if (choose === undefined) return { layers: signals, warnings };
    const chosen = chooseForRequest(monitored, sight, layers, choose);
    return { layers: signals, chosen, warnings };
  },
});
