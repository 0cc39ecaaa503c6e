import { type CutRule, isOptical } from './cut-rule.ts';
import type { RunNoise } from './run-noise.ts';
import { type TurningPoint, turningPoints } from './turning-points.ts';
import type { WitnessLight } from './witness-light.ts';

/** Most readings that the controller's line may take. */
export const LARGEST_WINDOW = 1024;
/** The crystal stands by: where it reads this share beyond the plan the shutter closes whatever the light says. */
const BACKUP = 0.3;
/** And the clock stands by for the crystal: so many times the planned time. */
const BACKUP_TIMES = 4;

/**
 * What the controller of one layer knows before the shutter opens: the plan, its own instrument, and nothing of
 * what will go wrong. Levels are what its smoothing line will show on the planned, noiseless signal, so that the
 * line's own lag drops out.
 */
export interface CutPlan {
  readonly rule: CutRule;
  /** Planned thickness on the lens, nm; with `turning-point` the thickness at which the signal turns. */
  readonly thicknessNm: number;
  /** Planned time at the set rate, s. */
  readonly nominalS: number;
  readonly sampleS: number;
  /** Readings in the smoothing line. */
  readonly window: number;
  /** By how much thickness the line lags at a turn, nm on the lens. */
  readonly lagNm: number;
  /** Thickness on the lens (nm) and smoothed level of each turn that comes before the cut, or is the cut. */
  readonly turnNm: Float64Array;
  readonly turnLevel: Float64Array;
  /** Sign of the slope before the first turn. */
  readonly firstSign: 1 | -1;
  readonly startLevel: number;
  /** Smoothed level at the planned end, and its slope there per sample. */
  readonly cutLevel: number;
  readonly cutSlope: number;
  /** A slope this far on the wrong side says that the signal has turned before its level came, per sample. */
  readonly wrongSlope: number;
  readonly backupNm: number;
  readonly backupS: number;
  /** Why the rule cannot be trusted on this layer, where that shows before the run. */
  readonly doubts: readonly string[];
}

/**
 * @param light what the monitor sees, begun on the planned films below.
 * @param thicknessNm planned, on the lens. @param tooling thickness on witness / lens.
 */
export function planCut(
  light: WitnessLight,
  rule: CutRule,
  thicknessNm: number,
  tooling: number,
  rateNmPerS: number,
  noise: Pick<RunNoise, 'sampleS' | 'signalPercent'>,
): CutPlan {
  const { sampleS } = noise;
  const sigma = noise.signalPercent / 100;
  const stepNm = rateNmPerS * sampleS;
  const common = {
    rule,
    nominalS: thicknessNm / rateNmPerS,
    sampleS,
    backupNm: thicknessNm * (rule === 'crystal' ? BACKUP_TIMES : 1 + BACKUP),
    backupS: (BACKUP_TIMES * thicknessNm) / rateNmPerS,
  };
  if (!isOptical(rule) || thicknessNm === 0)
    return {
      ...common,
      thicknessNm,
      window: 2,
      lagNm: 0,
      turnNm: new Float64Array(),
      turnLevel: new Float64Array(),
      firstSign: 1,
      startLevel: 0,
      cutLevel: 0,
      cutSlope: 0,
      wrongSlope: 0,
      doubts: [],
    };

  const level = (nm: number) => light.level(Math.max(0, nm) * tooling);
  const bend = (nm: number) => light.bend(nm * tooling) * (tooling * stepNm) ** 2;
  const all = turningPoints(light, thicknessNm * tooling * (1 + BACKUP)).map((turn) => ({
    ...turn,
    thicknessNm: turn.thicknessNm / tooling,
  }));
  const doubts: string[] = [];
  const { turns, endNm } =
    rule === 'turning-point' ? upToTurn(all, thicknessNm, doubts) : upToLevel(all, thicknessNm);

  const bends = [...turns.map((turn) => bend(turn.thicknessNm)), bend(endNm)].map(Math.abs);
  const quarterSamples = light.quarterWaveNm() / tooling / stepNm;
  const first = turns[0]?.thicknessNm ?? endNm;
  const longest = Math.max(
    2,
    Math.min(LARGEST_WINDOW, Math.floor(Math.min(quarterSamples / 2, first / stepNm / 2))),
  );
  const window = Math.max(
    rule === 'turning-point' ? 2 : levelWindow(sigma, bends.at(-1)!, longest),
    turns.length === 0 ? 2 : turnWindow(sigma, Math.max(...bends.slice(0, -1)), longest),
  );

  // A turn that the line's lag hides before the end, or that comes before the line is full, cannot be counted.
  const lagNm = ((window - 1) / 2) * stepNm;
  const kept = turns.filter(
    ({ thicknessNm: nm }) => nm > 2 * lagNm && (rule === 'turning-point' || nm + lagNm < endNm),
  );
  const smoothed = (nm: number) => smoothedAt(level, nm, stepNm, window);
  const middle = (nm: number) => smoothedMean(level, nm, stepNm, window);
  const firstNm = kept[0]?.thicknessNm ?? endNm;
  const firstSign = light.slope((firstNm / 2) * tooling) >= 0 ? 1 : -1;
  const levels = [level(0), ...turns.map((turn) => turn.level), level(endNm)];
  const swing = Math.max(...levels) - Math.min(...levels);
  const slopeSigma = sigma * Math.sqrt(12 / (window * (window * window - 1)));
  if (rule === 'turning-point' && kept.length < turns.length)
    doubts.push('a turning point comes too early in the layer to be counted');
  // The turns on both sides of the cut, the planned levels of which bound what the signal can reach.
  const beside = [all[turns.length - 1], all[turns.length]].filter((turn) => turn !== undefined);
  const offTurn = Math.min(...beside.map((turn) => Math.abs(level(endNm) - turn.level)));
  doubts.push(...doubtsOf(rule, swing, sigma, offTurn, kept.length));
  return {
    ...common,
    thicknessNm: endNm,
    window,
    lagNm,
    turnNm: Float64Array.from(kept, (turn) => turn.thicknessNm),
    turnLevel: Float64Array.from(kept, (turn) => middle(turn.thicknessNm)),
    firstSign,
    startLevel: level(0),
    cutLevel: smoothed(endNm),
    cutSlope: smoothed(endNm) - smoothed(endNm - stepNm),
    wrongSlope: Math.max(4 * slopeSigma, (1e-3 * swing) / Math.max(2, quarterSamples)),
    backupNm: Math.max(common.backupNm, endNm * (1 + BACKUP)),
    doubts,
  };
}

/** The turns up to the one nearest to the planned end. */
function upToTurn(all: readonly TurningPoint[], plannedNm: number, doubts: string[]) {
  if (all.length === 0) {
    doubts.push('the signal has no turning point near the planned end: this rule cannot trigger');
    return { turns: [], endNm: plannedNm };
  }
  const off = (index: number) => Math.abs(all[index]!.thicknessNm - plannedNm);
  const nearest = all.reduce((least, _, index) => (off(index) < off(least) ? index : least), 0);
  const endNm = all[nearest]!.thicknessNm;
  if (off(nearest) > 0.02 * plannedNm)
    doubts.push(
      `the nearest turning point comes at ${endNm.toFixed(1)} nm, ${off(nearest).toFixed(1)} nm off the planned ${plannedNm.toFixed(1)} nm`,
    );
  return { turns: all.slice(0, nearest + 1), endNm };
}

function upToLevel(all: readonly TurningPoint[], plannedNm: number) {
  return { turns: all.filter((turn) => turn.thicknessNm < plannedNm), endNm: plannedNm };
}

/**
 * How many readings a level's line takes: fewest where the signal bends (a plan that is wrong by a tenth in its
 * bend shifts the end of the line by a tenth of bend m² / 12), most where it is noisy (4 sigma² / m at the end of a
 * line, textbook relation of the regression line).
 */
function levelWindow(sigma: number, bend: number, longest: number): number {
  return cheapest(longest, (m) => (4 * sigma * sigma) / m + ((0.1 * bend * m * m) / 12) ** 2);
}

/**
 * How many readings a turn's line takes. Its slope passes through zero (m - 1) / 2 samples after the turn, with a
 * scatter of sigma sqrt(12 / (m (m² - 1))) / bend samples; the sum of both squares is made least.
 */
function turnWindow(sigma: number, bend: number, longest: number): number {
  return cheapest(
    longest,
    (m) => ((m - 1) / 2) ** 2 + (12 * sigma * sigma) / (m * (m * m - 1)) / (bend * bend),
  );
}

function cheapest(longest: number, cost: (window: number) => number): number {
  let best = 2;
  for (let m = 3; m <= longest; m++) if (cost(m) < cost(best)) best = m;
  return best;
}

/** The end of the line through the planned signal's last `window` samples. */
function smoothedAt(level: (nm: number) => number, endNm: number, stepNm: number, window: number): number {
  const half = (window - 1) / 2;
  let sum = 0;
  let moment = 0;
  for (let i = 0; i < window; i++) {
    const y = level(endNm - (window - 1 - i) * stepNm);
    sum += y;
    moment += (i - half) * y;
  }
  return sum / window + (12 * moment * half) / (window * (window * window - 1));
}

function smoothedMean(
  level: (nm: number) => number,
  middleNm: number,
  stepNm: number,
  window: number,
): number {
  let sum = 0;
  for (let i = 0; i < window; i++) sum += level(middleNm + (i - (window - 1) / 2) * stepNm);
  return sum / window;
}

function doubtsOf(rule: CutRule, swing: number, sigma: number, offTurn: number, turns: number): string[] {
  const percent = (value: number) => `${(100 * value).toFixed(3)} %`;
  if (swing < 1e-5 || swing < 6 * sigma)
    return [
      `the signal swings by only ${percent(swing)} against a noise of ${percent(sigma)} (one sigma): no optical rule can be trusted`,
    ];
  const doubts: string[] = [];
  if (rule !== 'turning-point' && offTurn < 0.05 * swing)
    doubts.push(
      `only ${percent(offTurn)} from a turning point the level may never be reached: cut at the turn, or at another wavelength`,
    );
  if (rule === 'swing' && turns === 0)
    doubts.push('no turning point comes before the cut: the level can be rescaled by the start alone');
  return doubts;
}
