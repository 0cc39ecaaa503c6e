import { requireWithin } from '../base/errors.ts';
import { type TurningPoint, turningPoints } from './turning-points.ts';
import { checkMonitored, firstOnWitness, type MonitoredLayer, type Witness } from './witness.ts';
import { lightOfLayer } from './witness-light.ts';

/** What the monitor will show while one layer grows. Levels are fractions of the full light (0..1). */
export interface LayerSignal {
  readonly startLevel: number;
  /** Level at the planned thickness: where the shutter must close. */
  readonly endLevel: number;
  /** Where the signal turns, its thickness that on the lens; the start is not counted, a turn at the very end is. */
  readonly turningPoints: readonly TurningPoint[];
  /** Highest minus lowest level within the layer, in percent of the full light. */
  readonly swingPercent: number;
  /**
   * How far the cut lies on its branch, in percent of the distance between the last two of start and turning points:
   * 0 at the last turning point, 100 one whole swing further. Absent where no such pair stands out.
   */
  readonly cutSwingPercent?: number;
  /** Planned thickness on the witness in quarter waves at the monitor's wavelength. */
  readonly quarterWaves: number;
  readonly trace: { readonly thicknessNm: Float64Array; readonly level: Float64Array };
}

/**
 * The signals of all layers when every layer gets exactly its planned thickness.
 * @param samplesPerLayer points of each trace, start and end included, from 2 to 100000; the levels at start,
 *   turning points and end are exact whatever it is.
 * @throws InputError where witness or layers are out of range.
 */
export function predictSignals(
  witness: Witness,
  layers: readonly MonitoredLayer[],
  samplesPerLayer = 101,
): LayerSignal[] {
  checkMonitored(witness, layers);
  requireWithin('samplesPerLayer', samplesPerLayer, '', { min: 2, max: 100_000 });
  const onWitness = Float64Array.from(layers, (layer) => layer.thicknessNm * (layer.tooling ?? 1));
  return layers.map((layer, index) => {
    const light = lightOfLayer(witness, layers, index);
    light.begin(onWitness.subarray(firstOnWitness(layers, index), index));
    const end = onWitness[index]!;
    const tooling = layer.tooling ?? 1;
    const turns = turningPoints(light, end);
    const startLevel = light.level(0);
    const endLevel = light.level(end);
    const levels = [startLevel, ...turns.map((turn) => turn.level), endLevel];
    const quarter = light.quarterWaveNm();
    const cutSwingPercent = cutOnSwing(levels.slice(0, -1), endLevel);
    const trace = traceOf(Math.round(samplesPerLayer), layer.thicknessNm, (nm) => light.level(nm * tooling));
    return {
      startLevel,
      endLevel,
      turningPoints: turns.map((turn) => ({
        thicknessNm: Math.min(layer.thicknessNm, turn.thicknessNm / tooling),
        level: turn.level,
      })),
      swingPercent: 100 * (Math.max(...levels) - Math.min(...levels)),
      ...(cutSwingPercent === undefined ? {} : { cutSwingPercent }),
      quarterWaves: end / quarter,
      trace,
    };
  });
}

function traceOf(samples: number, thicknessNm: number, levelAt: (thicknessNm: number) => number) {
  const thickness = Float64Array.from({ length: samples }, (_, i) => (thicknessNm * i) / (samples - 1));
  return { thicknessNm: thickness, level: thickness.map(levelAt) };
}

/** Share of the last swing, in percent; `extrema` are the start and the turning points. */
function cutOnSwing(extrema: readonly number[], endLevel: number): number | undefined {
  const [before, last] = extrema.slice(-2);
  if (last === undefined || Math.abs(last - before!) < 1e-9) return undefined;
  return (100 * (endLevel - last)) / (before! - last);
}
