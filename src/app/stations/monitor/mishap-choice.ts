import { Random } from '../../../math/random.ts';
import type { Mishap } from '../../../monitor/mishap.ts';

/** What the trainer may ask for. A surprise is drawn from the rehearsal's seed and told at the end. */
export const MISHAP_CHOICES = [
  ['none', 'nothing scripted'],
  ['spit', 'a spit of the source'],
  ['lamp-drift', 'the lamp drifts'],
  ['crystal-failure', 'the crystal fails'],
  ['missed-turning-point', 'the light sticks over a turn'],
  ['surprise', 'a surprise'],
] as const;

export type MishapChoice = (typeof MISHAP_CHOICES)[number][0];

/** How far a rehearsed mishap goes: large enough to be seen, small enough to be saved (invented for training). */
const SPIT_NM = 4;
const LAMP_PERCENT_PER_MIN = 3;

/** What one layer is for a mishap: planned thickness and where its signal turns, nm on the lens. */
export interface MishapLayer {
  readonly thicknessNm: number;
  readonly turnNm: readonly number[];
}

/**
 * The mishaps of a rehearsal.
 * @param layer in which it happens; undefined lets the seed decide among the layers that grow.
 */
export function mishapsOf(
  choice: MishapChoice,
  layer: number | undefined,
  seed: number,
  layers: readonly MishapLayer[],
): Mishap[] {
  const growing = layers.flatMap(({ thicknessNm }, index) => (thicknessNm > 0 ? [index] : []));
  if (choice === 'none' || growing.length === 0) return [];
  const random = new Random(seed).stream(1);
  const pick = <Item>(items: readonly Item[]) =>
    items[Math.min(items.length - 1, Math.floor(random.uniform() * items.length))]!;
  const kind =
    choice === 'surprise'
      ? pick(['spit', 'lamp-drift', 'crystal-failure', 'missed-turning-point'] as const)
      : choice;
  const at = layer ?? pick(growing);
  const atPercent = Math.round(20 + 50 * random.uniform());
  if (kind === 'spit') return [{ kind, layer: at, atPercent, thicknessNm: SPIT_NM }];
  if (kind === 'lamp-drift')
    return [
      {
        kind,
        layer: at,
        atPercent,
        percentPerMin: random.uniform() < 0.5 ? LAMP_PERCENT_PER_MIN : -LAMP_PERCENT_PER_MIN,
      },
    ];
  if (kind === 'crystal-failure') return [{ kind, layer: at, atPercent }];
  const { thicknessNm, turnNm } = layers[at]!;
  const turn = (100 * (turnNm[0] ?? 0.8 * thicknessNm)) / thicknessNm;
  return [
    {
      kind,
      layer: at,
      atPercent: Math.max(0, Math.min(190, turn - 12)),
      untilPercent: Math.min(205, turn + 6),
    },
  ];
}

/** A mishap in one sentence, told after the run. */
export function mishapSentence(mishap: Mishap): string {
  const where = `in layer ${mishap.layer + 1} at ${mishap.atPercent.toFixed(0)} % of its plan`;
  switch (mishap.kind) {
    case 'spit':
      return `The source spat ${mishap.thicknessNm} nm ${where}.`;
    case 'lamp-drift':
      return `The lamp ${mishap.percentPerMin < 0 ? 'faded' : 'brightened'} by ${Math.abs(mishap.percentPerMin)} % a minute from there on, ${where}.`;
    case 'crystal-failure':
      return `The crystal failed ${where}; its display went on by set rate and clock.`;
    case 'missed-turning-point':
      return `The reading of the light stuck ${where}, until ${mishap.untilPercent.toFixed(0)} %.`;
  }
}
