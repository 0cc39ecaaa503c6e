import { atPath, InputError, requireWithin } from '../base/errors.ts';
import type { Pipe } from './conductance.ts';
import { speedThroughLineM3PerS } from './pump-line.ts';

/** One pump at work on the chamber until a pressure is reached. */
export interface PumpStage {
  /** Speed at the chamber, m3/s; where `line` is given, that of the pump itself. */
  readonly speedM3PerS: number;
  /** The pipe between chamber and pump, whose conductance takes its part of the speed. */
  readonly line?: Pipe;
  /** Steady gas load: leaks and what streams back, Pa m3/s. */
  readonly loadPaM3PerS: number;
  /** The pressure at which the next stage takes over. */
  readonly untilPa: number;
}

/** Gas that the walls give off, falling as 1/t. */
export interface Outgassing {
  readonly areaM2: number;
  /** Rate after one hour of pumping, Pa m3/s per m2. */
  readonly rateAfter1hPaM3PerSM2: number;
}

export interface PumpDownRequest {
  readonly volumeM3: number;
  readonly stages: readonly PumpStage[];
  readonly startPa: number;
  readonly outgassing?: Outgassing;
}

export interface PumpDown {
  readonly stageS: readonly number[];
  /** Speed that is left at the chamber when each stage begins and when it ends, m3/s. */
  readonly speedsM3PerS: readonly (readonly [number, number])[];
  readonly totalS: number;
  /** Pressure over time, about `POINTS_PER_STAGE` points a stage and both ends. */
  readonly profile: readonly { readonly timeS: number; readonly pressurePa: number }[];
}

/** Longest pump-down that is still called one. */
export const LONGEST_PUMP_DOWN_S = 1000 * 3600;

/** The 1/t law is known from minutes on; before, the rate of the first minute is held. */
export const OUTGASSING_STARTS_S = 60;

const POINTS_PER_STAGE = 48;
/** A stage with a line is cut into parts of constant speed: so far ln p falls in one of them at most. */
const LINE_PART = 0.05;
const HOUR_S = 3600;
/** Largest step, as a part of the time gone: 1/t is then a parabola to about 1e-8. */
const STEP_PART = 1 / 256;

/**
 * Pump-down of a chamber: V dp/dt = Q − S p, in every stage with its own speed S and load Q, from the pressure
 * that the stage before left. With a steady load that is p = Q/S + (p0 − Q/S) exp(−S t / V), so that a stage
 * without load lasts V/S ln(p0/p1) (standard vacuum textbooks, e.g. K. Jousten, ed., Handbook of Vacuum
 * Technology). Outgassing adds area × rate × 1 h / t, t counted from the start of pumping. With a line S changes with the
 * pressure (`speedThroughLineM3PerS`); it is held over short parts of the fall of pressure, each at its geometric mean,
 * which is right to about 1e-4 of the time.
 * @throws InputError for a value outside its range, and for a pressure that a stage cannot reach: the message
 * says which one it reaches.
 */
export function pumpDown(request: PumpDownRequest): PumpDown {
  requireRequest(request);
  const { volumeM3, stages, startPa, outgassing } = request;
  const stageS: number[] = [];
  const speedsM3PerS: (readonly [number, number])[] = [];
  const profile = [{ timeS: 0, pressurePa: startPa }];
  let timeS = 0;
  let pressurePa = startPa;
  stages.forEach((stage, index) => {
    if (stage.untilPa > pressurePa)
      throw new InputError(
        `stages[${index}].untilPa`,
        `${stage.untilPa} Pa is above the ${figure(pressurePa)} Pa at which this stage begins`,
      );
    const lowestPa = lowestPressurePa(stage, pressurePa);
    if (stage.untilPa <= lowestPa && stage.untilPa < pressurePa)
      throw new InputError(
        `stages[${index}].untilPa`,
        `${stage.untilPa} Pa cannot be reached: with this speed and gas load the pressure ends at ${figure(lowestPa)} Pa`,
      );
    const curve: Point[] = [];
    let durationS = 0;
    let fromPa = pressurePa;
    for (const part of constantParts(stage, pressurePa)) {
      const points =
        outgassing === undefined
          ? steadyStage(volumeM3, part, fromPa)
          : outgassingStage(volumeM3, part, outgassing, fromPa, timeS + durationS, index);
      for (const point of points)
        curve.push({ timeS: durationS + point.timeS, pressurePa: point.pressurePa });
      durationS += points.at(-1)!.timeS;
      if (durationS > LONGEST_PUMP_DOWN_S) tooLong(`stages[${index}].untilPa`, stage.untilPa);
      fromPa = part.untilPa;
    }
    for (const point of thinned(curve))
      profile.push({ timeS: timeS + point.timeS, pressurePa: point.pressurePa });
    stageS.push(durationS);
    speedsM3PerS.push([speedAtM3PerS(stage, pressurePa), speedAtM3PerS(stage, stage.untilPa)]);
    timeS += durationS;
    pressurePa = stage.untilPa;
  });
  return { stageS, speedsM3PerS, totalS: timeS, profile };
}

/** Speed of a stage at the chamber while that is at a pressure. */
function speedAtM3PerS({ speedM3PerS, line }: PumpStage, pressurePa: number): number {
  return line === undefined ? speedM3PerS : speedThroughLineM3PerS(speedM3PerS, line, pressurePa);
}

/** Where the speed times the pressure just carries the steady load away; that product rises with the pressure. */
function lowestPressurePa(stage: PumpStage, fromPa: number): number {
  if (stage.line === undefined || stage.loadPaM3PerS === 0) return stage.loadPaM3PerS / stage.speedM3PerS;
  let low = stage.loadPaM3PerS / stage.speedM3PerS;
  let high = Math.max(low, fromPa);
  for (let middle = (low + high) / 2; middle > low && middle < high; middle = (low + high) / 2)
    if (middle * speedAtM3PerS(stage, middle) < stage.loadPaM3PerS) low = middle;
    else high = middle;
  return high;
}

/** The stage as parts of constant speed: one without a line. */
function constantParts(stage: PumpStage, startPa: number): PumpStage[] {
  const { line: _, ...constant } = stage;
  if (stage.line === undefined) return [constant];
  const count = Math.max(1, Math.ceil(Math.log(startPa / stage.untilPa) / LINE_PART));
  const at = (part: number) => startPa * (stage.untilPa / startPa) ** (part / count);
  return Array.from({ length: count }, (_part, index) => ({
    ...constant,
    speedM3PerS: speedAtM3PerS(stage, at(index + 0.5)),
    untilPa: index === count - 1 ? stage.untilPa : at(index + 1),
  }));
}

interface Point {
  timeS: number;
  pressurePa: number;
}

/** The closed form, at equal steps of time. */
function steadyStage(volumeM3: number, stage: PumpStage, startPa: number): Point[] {
  const lowestPa = stage.loadPaM3PerS / stage.speedM3PerS;
  const timeConstantS = volumeM3 / stage.speedM3PerS;
  const durationS =
    stage.untilPa === startPa
      ? 0
      : timeConstantS * Math.log((startPa - lowestPa) / (stage.untilPa - lowestPa));
  return Array.from({ length: POINTS_PER_STAGE }, (_, index) => {
    const timeS = (durationS * (index + 1)) / POINTS_PER_STAGE;
    const pressurePa = lowestPa + (startPa - lowestPa) * Math.exp(-timeS / timeConstantS);
    return { timeS, pressurePa: index === POINTS_PER_STAGE - 1 ? stage.untilPa : pressurePa };
  });
}

/**
 * With a load that falls as 1/t: the linear equation is stepped exactly for its decay, the load taken as the
 * parabola through its values at the step's ends and middle (an exponential integrator, S. M. Cox &
 * P. C. Matthews, J. Comput. Phys. 176, 430-455, 2002), so steps far longer than V/S stay stable.
 */
function outgassingStage(
  volumeM3: number,
  stage: PumpStage,
  outgassing: Outgassing,
  startPa: number,
  sinceStartS: number,
  index: number,
): Point[] {
  if (stage.untilPa === startPa) return [{ timeS: 0, pressurePa: startPa }];
  const amount = outgassing.areaM2 * outgassing.rateAfter1hPaM3PerSM2 * HOUR_S;
  const restPa = (timeS: number) =>
    (stage.loadPaM3PerS + amount / Math.max(timeS, OUTGASSING_STARTS_S)) / stage.speedM3PerS;
  const timeConstantS = volumeM3 / stage.speedM3PerS;
  const step = (pressurePa: number, fromS: number, lengthS: number) =>
    exponentialStep(
      pressurePa,
      lengthS / timeConstantS,
      restPa(fromS),
      restPa(fromS + lengthS / 2),
      restPa(fromS + lengthS),
    );
  const points: Point[] = [];
  let timeS = sinceStartS;
  let pressurePa = startPa;
  for (;;) {
    const early = timeS < OUTGASSING_STARTS_S;
    const lengthS = early
      ? Math.min(OUTGASSING_STARTS_S - timeS, Math.max(timeConstantS / 4, OUTGASSING_STARTS_S / 64))
      : timeS * STEP_PART;
    const next = step(pressurePa, timeS, lengthS);
    if (next <= stage.untilPa) {
      let low = 0;
      let high = lengthS;
      for (let middle = high / 2; middle > low && middle < high; middle = (low + high) / 2) {
        if (step(pressurePa, timeS, middle) > stage.untilPa) low = middle;
        else high = middle;
      }
      points.push({ timeS: timeS + high - sinceStartS, pressurePa: stage.untilPa });
      return points;
    }
    timeS += lengthS;
    pressurePa = next;
    points.push({ timeS: timeS - sinceStartS, pressurePa });
    if (timeS > LONGEST_PUMP_DOWN_S) tooLong(`stages[${index}].untilPa`, stage.untilPa, pressurePa);
  }
}

/**
 * One step of p' = rest(x) − p over the dimensionless length h, rest a parabola through `start`, `middle`,
 * `end`: p e^−h + ∫ e^−(h−x) rest(x) dx, by integration by parts of the parabola.
 */
function exponentialStep(pressure: number, h: number, start: number, middle: number, end: number): number {
  const decay = Math.exp(-h);
  if (h < 1e-3) {
    // Simpson's rule: the error is below h^5/2880.
    const half = Math.exp(-h / 2);
    return pressure * decay + (h / 6) * (start * decay + 4 * middle * half + end);
  }
  const slopeAtEnd = (start - 4 * middle + 3 * end) / h;
  const slopeAtStart = (-3 * start + 4 * middle - end) / h;
  const curvature = (4 * (start - 2 * middle + end)) / (h * h);
  return pressure * decay + (end - slopeAtEnd + curvature) - decay * (start - slopeAtStart + curvature);
}

function thinned(points: readonly Point[]): Point[] {
  const stride = Math.max(1, Math.ceil(points.length / POINTS_PER_STAGE));
  return points.filter((_, index) => (points.length - 1 - index) % stride === 0);
}

function tooLong(path: string, untilPa: number, reachedPa?: number): never {
  const reached = reachedPa === undefined ? '' : `; by then it is ${figure(reachedPa)} Pa`;
  throw new InputError(
    path,
    `${untilPa} Pa is not reached within ${LONGEST_PUMP_DOWN_S / HOUR_S} h of pumping${reached}`,
  );
}

function requireLine(path: string, speedM3PerS: number, line: Pipe): void {
  try {
    speedThroughLineM3PerS(speedM3PerS, line, 1);
  } catch (error) {
    throw error instanceof InputError ? atPath(path, error) : error;
  }
}

function figure(value: number): string {
  return Number(value.toPrecision(4)).toString();
}

function requireRequest({ volumeM3, stages, startPa, outgassing }: PumpDownRequest): void {
  requireWithin('volumeM3', volumeM3, 'm3', { above: 0, max: 1000 });
  requireWithin('startPa', startPa, 'Pa', { above: 0, max: 200_000 });
  if (stages.length === 0) throw new InputError('stages', 'there is no stage; at least one is needed');
  stages.forEach((stage, index) => {
    const at = `stages[${index}]`;
    requireWithin(`${at}.speedM3PerS`, stage.speedM3PerS, 'm3/s', { above: 0, max: 1000 });
    requireWithin(`${at}.loadPaM3PerS`, stage.loadPaM3PerS, 'Pa m3/s', { min: 0, max: 1e6 });
    requireWithin(`${at}.untilPa`, stage.untilPa, 'Pa', { above: 0, max: 200_000 });
    if (stage.line !== undefined) requireLine(`${at}.line`, stage.speedM3PerS, stage.line);
  });
  if (outgassing === undefined) return;
  requireWithin('outgassing.areaM2', outgassing.areaM2, 'm2', { min: 0, max: 1000 });
  requireWithin('outgassing.rateAfter1hPaM3PerSM2', outgassing.rateAfter1hPaM3PerSM2, 'Pa m3/s per m2', {
    min: 0,
    max: 1,
  });
}
