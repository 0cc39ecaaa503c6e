import { describe, expect, it } from 'vitest';
import { runTask } from '../../../src/compute/task.ts';
import task from '../../../src/compute/tasks/field.ts';

const request = {
  layers: [{ material: { n: 2.1, k: 0.01 }, thicknessNm: 100 }],
  substrate: 1.52,
  wavelengthNm: 550,
  depthNm: { from: -100, to: 200, step: 50 },
};

describe('the task field', () => {
  it('gives intensity and absorption at each depth, and absorbs in the layer alone', async () => {
    const answer = await runTask(task, request);
    expect(answer.depthNm).toEqual([-100, -50, 0, 50, 100, 150, 200]);
    expect(answer.absorptionPerNm.map((value) => value > 0)).toEqual([
      false,
      false,
      true,
      true,
      false,
      false,
      false,
    ]);
    expect(answer.intensity[5]).toBeCloseTo(answer.intensity[6]!, 14);
    expect(answer.layerAbsorptance[0]).toBeGreaterThan(0);
    expect(answer).not.toHaveProperty('admittanceLocus');
  });

  it('draws the admittance of each layer on request, from that of the substrate on', async () => {
    const { admittanceLocus } = await runTask(task, { ...request, locusPoints: 10 });
    expect(admittanceLocus).toHaveLength(1);
    expect(admittanceLocus![0]).toHaveLength(11);
    expect(admittanceLocus![0]![0]!.re).toBeCloseTo(1.52, 14);
  });

  it.each([
    [{ polarization: 'x' }, 'polarization: "x" is not one of "s", "p"'],
    [{ plate: { thicknessMm: 2 } }, 'plate: unknown field "plate"'],
    [{ incidenceDeg: 95 }, 'incidenceDeg: 95 deg is not below 90 deg'],
  ])('refuses %j in one sentence', async (more, message) => {
    await expect(runTask(task, { ...request, ...more })).rejects.toThrow(message);
  });
});
