/** One step of a run. */
export interface TimelineStep {
  readonly id: string;
  readonly label: string;
  /** What is being done; decides the lane. */
  readonly kind: string;
  readonly startS: number;
  readonly durationS: number;
  /** How much longer it may take before the run takes longer. */
  readonly slackS?: number;
  /** Its lane's name, where the kind does not say it: the lot's runs in a calendar, say. */
  readonly lane?: string;
}

/** Steps that are drawn in one row. */
export interface TimelineLane {
  readonly name: string;
  readonly steps: readonly TimelineStep[];
}

const LANES: readonly (readonly [string, readonly string[]])[] = [
  ['Hands', ['load', 'vent', 'unload', 'clean']],
  ['Vacuum', ['pump', 'backfill']],
  ['Heat', ['heat', 'soak', 'cool']],
  ['Sources', ['pocket', 'ramp', 'source-soak', 'crystal']],
  ['Film', ['shutter', 'deposit']],
];

/**
 * The steps in lanes: those that name one first, in the order in which the names appear, then those of known
 * kinds, then a lane for all others; empty lanes are left out.
 */
export function timelineLanes(all: readonly TimelineStep[]): TimelineLane[] {
  const named = [...new Set(all.flatMap((step) => step.lane ?? []))].map((name) => ({
    name,
    steps: all.filter((step) => step.lane === name),
  }));
  const steps = all.filter((step) => step.lane === undefined);
  const known = new Set(LANES.flatMap(([, kinds]) => kinds));
  const lanes = LANES.map(([name, kinds]) => ({
    name,
    steps: steps.filter((step) => kinds.includes(step.kind)),
  }));
  const others = { name: 'Others', steps: steps.filter((step) => !known.has(step.kind)) };
  return [...named, ...lanes, others].filter((lane) => lane.steps.length > 0);
}

/** When the last step ends, s. */
export function timelineEndS(steps: readonly TimelineStep[]): number {
  return Math.max(0, ...steps.map((step) => step.startS + step.durationS));
}

const STEPS_S = [60, 120, 300, 600, 900, 1800, 3600, 7200, 14_400, 21_600, 43_200, 86_400, 172_800, 604_800];

/** Marks of the time axis: whole minutes or hours, about `wanted` of them. */
export function timeMarksS(endS: number, wanted = 8): number[] {
  const step = STEPS_S.find((candidate) => endS / candidate <= wanted) ?? 604_800;
  return Array.from({ length: Math.floor(endS / step) + 1 }, (_, i) => i * step);
}

/** "45 s", "12 min 30 s", "3 h 04 min": as an operator says it. */
export function durationText(seconds: number): string {
  if (seconds < 60) return `${Number(seconds.toFixed(seconds < 10 ? 1 : 0))} s`;
  const whole = Math.round(seconds);
  if (whole < 3600) {
    const rest = whole % 60;
    return rest === 0 ? `${whole / 60} min` : `${Math.floor(whole / 60)} min ${rest} s`;
  }
  const minutes = Math.round(seconds / 60);
  return `${Math.floor(minutes / 60)} h ${String(minutes % 60).padStart(2, '0')} min`;
}

/**
 * "1:04" after the start, or the clock's time where the run starts at `clockS` seconds past midnight;
 * from the second day on with its number, "day 2, 07:30".
 */
export function timeText(seconds: number, clockS?: number): string {
  const minutes = Math.round((seconds + (clockS ?? 0)) / 60);
  const hours = Math.floor(minutes / 60);
  const past = String(minutes % 60).padStart(2, '0');
  if (clockS === undefined) return `${hours}:${past}`;
  const day = hours < 24 ? '' : `day ${Math.floor(hours / 24) + 1}, `;
  return `${day}${String(hours % 24).padStart(2, '0')}:${past}`;
}
