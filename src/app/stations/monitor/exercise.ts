import { lotWords } from '../../../batch/lot-words.ts';
import { MISHAP_CHOICES, type MishapChoice } from './mishap-choice.ts';

/** What a rehearsal trains. Scores are compared within one exercise only; the seed, which is luck, does not count. */
export interface Exercise {
  readonly batchId: string;
  readonly lot: string;
  readonly side: 'front' | 'back';
  readonly mishap: MishapChoice;
  /** Where the mishap is asked for, from 0; undefined: anywhere. */
  readonly mishapLayer: number | undefined;
  /** The slowest speed at which any of the run was played: slow is easy. */
  readonly speed: number;
}

/** Under which name the best score of an exercise is kept. */
export function exerciseKey({ batchId, side, mishap, mishapLayer, speed }: Exercise): string {
  const where = mishap === 'none' || mishapLayer === undefined ? '' : `@${mishapLayer + 1}`;
  return `${batchId}/${side}/${mishap}${where}/${speed}x`;
}

/** The exercise in words: "front of lot LW-2611-04, nothing scripted, 10 ×". */
export function exerciseWords({ lot, side, mishap, mishapLayer, speed }: Exercise): string {
  const what = MISHAP_CHOICES.find(([choice]) => choice === mishap)![1];
  const where =
    mishap === 'none' ? '' : mishapLayer === undefined ? ' in any layer' : ` in layer ${mishapLayer + 1}`;
  return `${side} of ${lotWords(lot)}, ${what}${where}, ${speed} ×`;
}
