import { describe, expect, it } from 'vitest';
import { answerRequest } from '../../../src/compute/answer-request.ts';
import task from '../../../src/compute/tasks/monitor.ts';

const witness = { substrate: 1.52, thicknessMm: 1, backSurface: 'none' };
const layers = [
  { material: 2.35, thicknessNm: 550 / (4 * 2.35), wavelengthNm: 550, signal: 'R' },
  { material: 1.38, thicknessNm: 70, wavelengthNm: 520, signal: 'T', tooling: 1.1 },
];

async function answer(request: object) {
  const outcome = await answerRequest(task, request, false);
  return outcome.kind === 'answer' ? JSON.parse(outcome.json) : outcome;
}

describe('the task monitor', () => {
  it('gives levels, turning points, swing and as many points of the trace as asked for', async () => {
    const found = await answer({ witness, incident: 1, layers, samplesPerLayer: 7 });
    expect(found.layers).toHaveLength(2);
    // Textbook relation: R of a quarter wave of 2.35 on 1.52 in air is 0.3230048.
    expect(found.layers[0].endLevel).toBeCloseTo(0.3230048, 7);
    expect(found.layers[0].turningPoints).toHaveLength(1);
    expect(found.layers[0].swingPercent).toBeCloseTo(32.30048 - 4.257999, 5);
    expect(found.layers[1].trace.level).toHaveLength(7);
    expect(found.layers[1].trace.thicknessNm.at(-1)).toBe(70);
    expect(found.warnings).toEqual([]);
  });

  it('warns of a layer that shows no swing and of a wavelength without data', async () => {
    const flat = await answer({ witness, layers: [{ ...layers[0], material: 1.52 }] });
    expect(flat.warnings.join()).toContain('layers[0]: the signal swings by only');
    const far = await answer({ witness, layers: [{ ...layers[0], material: 'mgf2', wavelengthNm: 20_000 }] });
    expect(far.warnings.join()).toContain('outside its data');
  });

  it('chooses wavelength and rule for each layer where asked, at wavelengths with data only', async () => {
    const choose = { wavelengthNm: [500, 550, 20_000], noise: { signalPercent: 0.05, crystalPercent: 2 } };
    const { chosen } = await answer({
      witness,
      layers: [{ ...layers[0], material: 'ta2o5', thicknessNm: 100 }],
      choose,
    });
    expect(chosen).toHaveLength(1);
    expect([500, 550]).toContain(chosen[0].wavelengthNm);
    expect(chosen[0].reason).toMatch(/ nm/);
    expect(
      await answer({
        witness,
        layers: [{ ...layers[0], material: 'ta2o5' }],
        choose: { wavelengthNm: [90_000] },
      }),
    ).toEqual({
      kind: 'wrong-request',
      path: 'choose.wavelengthNm',
      reason: 'at none of these wavelengths do all materials have data',
    });
  });

  it.each([
    [{ ...layers[0], thicknessNm: -3 }, 'layers[0].thicknessNm', '-3 nm is below 0 nm'],
    [{ ...layers[0], signal: 'X' }, 'layers[0].signal', '"X" is not one of "R", "T"'],
    [{ ...layers[0], bandwidthNm: 300 }, 'layers[0].bandwidthNm', '300 nm is above 275 nm'],
    [
      { ...layers[0], material: 'unobtainium' },
      'layers[0].material',
      '"unobtainium" is not a known material',
    ],
  ])('refuses a layer like %j', async (layer, path, reason) => {
    expect(await answer({ witness, layers: [layer] })).toEqual({ kind: 'wrong-request', path, reason });
  });
});
