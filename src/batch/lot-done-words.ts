import { dayText } from '../base/day-text.ts';
import { duration } from '../base/format.ts';
import type { LotDone, LotPlan } from './plan/plan-types.ts';

/** Which of the lots on the carrier that is; undefined where it does not go in. */
export function lotNamed({ lots }: LotPlan, name: string): LotDone | undefined {
  return lots.find(({ lot }) => lot === name);
}

/** In which loads a lot goes in and when it is out: "loads 1 to 3, out after 20 h of machine time, on Mon 30 Nov at 14:20". */
export function doneWords({ firstLoad, lastLoad, doneS, doneAt }: LotDone): string {
  const loads = firstLoad === lastLoad ? `load ${firstLoad}` : `loads ${firstLoad} to ${lastLoad}`;
  const at = doneAt === undefined ? '' : `, on ${dayText(doneAt)} at ${doneAt.slice(11)}`;
  return `${loads}, out after ${duration(doneS)} of machine time${at}`;
}
