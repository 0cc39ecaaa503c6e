import type { Witness } from './witness.ts';

/** Numbers kept of the plate in each channel. */
export const PLATE = 4;

/**
 * Writes what the glass and its back surface do to the light of a channel, at `at`: Re η / |η| of the glass, bulk
 * transmittance, reflectance and transmittance of the back.
 * @param exit admittance of the medium behind. @param glass admittance and wave number of the glass.
 */
export function setPlate(
  plate: Float64Array,
  at: number,
  witness: Pick<Witness, 'backSurface' | 'thicknessMm'>,
  exit: number,
  glass: Float64Array,
): void {
  const [re, im, , waveIm] = glass as unknown as [number, number, number, number];
  const sum = (re + exit) ** 2 + im ** 2;
  const bare = witness.backSurface === 'bare';
  plate[at] = re / Math.hypot(re, im);
  plate[at + 1] = bare ? Math.exp(2 * waveIm * witness.thicknessMm * 1e6) : 1;
  plate[at + 2] = bare ? ((re - exit) ** 2 + im ** 2) / sum : 0;
  plate[at + 3] = bare ? (4 * re * exit) / sum : 1;
}

/** R or T of the plate whose coated face is `state`: the back adds incoherently, all passes between the faces summed. */
export function plateSignal(
  plate: Float64Array,
  at: number,
  state: Float64Array,
  transmitted: boolean,
): number {
  const front = state[0]! ** 2 + state[1]! ** 2;
  const through = Math.hypot(state[2]!, state[3]!) * plate[at]!;
  const bulk = plate[at + 1]!;
  const back = plate[at + 2]!;
  const inside = state[4]! ** 2 + state[5]! ** 2;
  const passes = 1 / (1 - inside * back * bulk * bulk);
  if (transmitted) return through * bulk * plate[at + 3]! * passes;
  return front + through * through * bulk * bulk * back * passes;
}

/** The derivative of `plateSignal` where `slope` is that of `state`. */
export function plateSlope(
  plate: Float64Array,
  at: number,
  state: Float64Array,
  slope: Float64Array,
  transmitted: boolean,
): number {
  const size = Math.hypot(state[2]!, state[3]!);
  const through = size * plate[at]!;
  const throughSlope = size === 0 ? 0 : ((state[2]! * slope[2]! + state[3]! * slope[3]!) / size) * plate[at]!;
  const bulk = plate[at + 1]!;
  const back = plate[at + 2]!;
  const frontSlope = 2 * (state[0]! * slope[0]! + state[1]! * slope[1]!);
  const inside = state[4]! ** 2 + state[5]! ** 2;
  const insideSlope = 2 * (state[4]! * slope[4]! + state[5]! * slope[5]!);
  const passes = 1 / (1 - inside * back * bulk * bulk);
  const passesSlope = passes * passes * back * bulk * bulk * insideSlope;
  if (transmitted) return bulk * plate[at + 3]! * (throughSlope * passes + through * passesSlope);
  return frontSlope + bulk * bulk * back * through * (2 * throughSlope * passes + through * passesSlope);
}
