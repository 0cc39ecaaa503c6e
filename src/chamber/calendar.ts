import { InputError, requireWithin } from '../base/errors.ts';

/** When people are there: minutes from midnight, the same on every working day. */
export interface Shift {
  readonly fromMin: number;
  readonly toMin: number;
}

export interface CalendarRequest {
  /** First day, e.g. "2026-11-30". */
  readonly firstDay: string;
  readonly shifts: readonly Shift[];
  /** Working days of the week, 1 Monday to 7 Sunday. */
  readonly weekdays: readonly number[];
  /** Each run in order: with people at its beginning and its end, alone between. */
  readonly runs: readonly CalendarRun[];
  /** Whether the machine may work alone outside the shifts. */
  readonly aloneOutsideShifts: boolean;
}

export interface CalendarRun {
  readonly label: string;
  /** Loading and starting, with people. */
  readonly beginS: number;
  readonly aloneS: number;
  /** Venting, unloading, cleaning, with people. */
  readonly endS: number;
}

export interface CalendarEntry {
  readonly label: string;
  /** Local times such as "2026-11-30T06:00". */
  readonly begins: string;
  readonly aloneFrom: string;
  readonly unloadFrom: string;
  readonly ends: string;
}

const MINUTE_S = 60;
const DAY_MIN = 1440;
/** Days in which the longest stretch with people is looked for. */
const DAYS_SEEN = 14;
/** No lot is planned further ahead. */
const MOST_DAYS = 3660;

/**
 * The runs of a lot on the shop's shifts: a run begins when the one before is finished and people are there for the
 * whole of its beginning; its end waits for a shift that is long enough. Times are kept in minutes.
 * @throws InputError for a value outside its range and for a step that no shift can hold.
 */
export function planCalendar(request: CalendarRequest): CalendarEntry[] {
  const { firstDay, weekdays, runs, aloneOutsideShifts } = request;
  const first = Date.parse(`${firstDay}T00:00:00Z`);
  if (!/^\d{4}-\d{2}-\d{2}$/.test(firstDay) || Number.isNaN(first))
    throw new InputError('firstDay', `"${firstDay}" is not a day such as 2026-11-30`);
  const shifts = inOrder(request.shifts);
  if (shifts.length === 0) throw new InputError('shifts', 'there is no shift; at least one is needed');
  weekdays.forEach((day, index) => {
    requireWithin(`weekdays[${index}]`, day, '', { min: 1, max: 7 });
  });
  if (weekdays.length === 0)
    throw new InputError('weekdays', 'there is no working day; at least one is needed');
  const firstWeekday = (new Date(first).getUTCDay() + 6) % 7;
  const isWorking = (day: number) => weekdays.includes(((firstWeekday + day) % 7) + 1);
  const longest = Math.max(
    ...[...windows(shifts, isWorking, 0, DAYS_SEEN)].map(({ fromMin, toMin }) => toMin - fromMin),
  );
  /** The first minute from `fromMin` on at which people stay for `lengthMin`. */
  const attended = (fromMin: number, lengthMin: number, path: string): number => {
    if (lengthMin > longest)
      throw new InputError(path, `${lengthMin} min with people is above the longest shift of ${longest} min`);
    for (const window of windows(shifts, isWorking, Math.floor(fromMin / DAY_MIN), MOST_DAYS)) {
      const start = Math.max(fromMin, window.fromMin);
      if (start + lengthMin <= window.toMin) return start;
    }
    throw new InputError(path, `the lot does not end within ${MOST_DAYS} days`);
  };
  let now = 0;
  return runs.map((run, index) => {
    const at = `runs[${index}]`;
    const minutes = (seconds: number, name: string) => {
      requireWithin(`${at}.${name}`, seconds, 's', { min: 0, max: 1e7 });
      return Math.ceil(seconds / MINUTE_S - 1e-9);
    };
    const begin = minutes(run.beginS, 'beginS');
    const alone = minutes(run.aloneS, 'aloneS');
    const end = minutes(run.endS, 'endS');
    const withPeople = aloneOutsideShifts ? begin : begin + alone + end;
    const begins = attended(now, withPeople, aloneOutsideShifts ? `${at}.beginS` : at);
    const unloadFrom = attended(begins + begin + alone, end, `${at}.endS`);
    now = unloadFrom + end;
    const time = (minute: number) => new Date(first + minute * 60_000).toISOString().slice(0, 16);
    return {
      label: run.label,
      begins: time(begins),
      aloneFrom: time(begins + begin),
      unloadFrom: time(unloadFrom),
      ends: time(now),
    };
  });
}

/** Times in which people are there, counted from the first day; shifts that touch or overlap are one, over midnight, too. */
function* windows(
  shifts: readonly Shift[],
  isWorking: (day: number) => boolean,
  fromDay: number,
  toDay: number,
): Generator<Shift> {
  let open: Shift | undefined;
  for (let day = fromDay; day < toDay; day++) {
    if (!isWorking(day)) continue;
    for (const shift of shifts) {
      const next = { fromMin: day * DAY_MIN + shift.fromMin, toMin: day * DAY_MIN + shift.toMin };
      if (open === undefined || next.fromMin > open.toMin) {
        if (open !== undefined) yield open;
        open = next;
      } else open = { fromMin: open.fromMin, toMin: Math.max(open.toMin, next.toMin) };
    }
  }
  if (open !== undefined) yield open;
}

/** Shifts as they follow each other in a day. */
function inOrder(shifts: readonly Shift[]): Shift[] {
  shifts.forEach(({ fromMin, toMin }, index) => {
    requireWithin(`shifts[${index}].fromMin`, fromMin, 'min', { min: 0, below: DAY_MIN });
    requireWithin(`shifts[${index}].toMin`, toMin, 'min', { above: fromMin, max: DAY_MIN });
  });
  return shifts.toSorted((a, b) => a.fromMin - b.fromMin);
}
