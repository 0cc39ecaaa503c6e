import { ChannelLight } from '../light-channel.ts';
import { lightStatistic } from '../light-statistic.ts';
import type { TrialPlan } from './trial-plan.ts';

/** What an error in one layer does; layers of the front, then those of the back, in the order of deposition. */
export interface LayerSensitivity {
  /** Rise of the merit where the layer is 1 % too thick or too thin, whichever is worse. */
  readonly meritRise: number;
  /** Change of each requirement's value, in percent, for 1 nm more (central difference over 0.02 nm, exact to 1e-6). */
  readonly valuePercentPerNm: readonly number[];
}

/** Each part of a requirement beyond its limit counts this much more, as in the search's merit. */
const EXCESS_FACTOR = 10;

/**
 * How much each layer matters. The merit is the search's: the weighted mean of (loss / allowed loss), excess counted
 * ten times more.
 */
export function sensitivities(plan: TrialPlan): LayerSensitivity[] {
  const lights = plan.channels.map((channel) => new ChannelLight(channel));
  const fronts = plan.frontNm.length;
  const values = (layer: number, nm: (nominal: number) => number): number[] => {
    const [front, back] = [plan.frontNm.slice(), plan.backNm.slice()];
    if (layer < fronts) front[layer] = nm(front[layer]!);
    else if (layer - fronts < back.length) back[layer - fronts] = nm(back[layer - fronts]!);
    for (const light of lights) light.update(front, back);
    return plan.goals.map((goal) => {
      const atAngles = goal.channels.map(
        (place) => 100 * lightStatistic(goal.requirement, lights[place]!, goal.weights),
      );
      return goal.requirement.sense === 'below' ? Math.max(...atAngles) : Math.min(...atAngles);
    });
  };
  const base = meritOf(
    plan,
    values(-1, (nm) => nm),
  );
  return Array.from({ length: fronts + plan.backNm.length }, (_, layer) => {
    const rises = [0.99, 1.01].map(
      (factor) =>
        meritOf(
          plan,
          values(layer, (nm) => nm * factor),
        ) - base,
    );
    const step = 0.01;
    const nominal = layer < fronts ? plan.frontNm[layer]! : plan.backNm[layer - fronts]!;
    const below = Math.min(step, nominal);
    const [more, less] = [values(layer, (nm) => nm + step), values(layer, (nm) => nm - below)];
    return {
      meritRise: Math.max(...rises),
      valuePercentPerNm: more.map((value, place) => (value - less[place]!) / (step + below)),
    };
  });
}

function meritOf(plan: TrialPlan, valuesPercent: readonly number[]): number {
  const weights = plan.goals.reduce((sum, { requirement }) => sum + requirement.weight, 0);
  return plan.goals.reduce((merit, { requirement: { sense, limit, weight } }, place) => {
    const value = valuesPercent[place]!;
    const loss = sense === 'below' ? value : 100 - value;
    const allowed = Math.max(sense === 'below' ? limit : 100 - limit, 0.01);
    const ratio = Math.max(0, loss) / allowed;
    return merit + (weight / weights) * (ratio + EXCESS_FACTOR * Math.max(0, ratio - 1));
  }, 0);
}
