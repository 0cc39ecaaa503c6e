import { describe, expect, it } from 'vitest';
import {
  crystalSentence,
  type WayAnswer,
  warningWords,
} from '../../../src/app/stations/monitor/runs-answer.ts';

const way: WayAnswer = { thicknessErrorNm: [], missedCuts: [], runsWithMissedCut: 0 };
const names = ['1 ZrO₂', '2 MgF₂'];

describe('the sentence about the crystals', () => {
  it('is none where nothing is known of them', () => {
    expect(crystalSentence(way, names)).toBe('');
  });

  it('says that none was lost', () => {
    const crystals = { runsLost: 0, lost: [0, 0], runsOverBudget: 0, overBudget: [0, 0] };
    expect(crystalSentence({ ...way, crystals }, names)).toBe('No crystal was lost.');
  });

  it('names the share of the runs and the worst layer', () => {
    const crystals = { runsLost: 0.25, lost: [0.05, 0.2], runsOverBudget: 0.4, overBudget: [0.3, 0.2] };
    expect(crystalSentence({ ...way, crystals }, names)).toBe(
      'A crystal was lost in 25.0 % of the runs, most often in layer 2 MgF₂ (20.0 %); ' +
        'one went beyond its budget or was lost in 40.0 %, most often in layer 1 ZrO₂ (30.0 %).',
    );
  });
});

describe('a warning of the virtual runs', () => {
  it('names layers as the screen counts them', () => {
    expect(warningWords('monitor.layers[0]: the cut lies near a turn.')).toBe(
      'Layer 1: the cut lies near a turn.',
    );
    expect(warningWords('crystals.count: the plan takes 2 crystals, the holder has 1.')).toBe(
      'The plan takes 2 crystals, the holder has 1.',
    );
    expect(warningWords('MgF₂ has no data at 9000 nm.')).toBe('MgF₂ has no data at 9000 nm.');
  });
});
