import { describe, expect, it } from 'vitest';
import { runTask } from '../../../src/compute/task.ts';
import task from '../../../src/compute/tasks/spectrum.ts';

const request = {
  layers: [{ material: 1.38, thicknessNm: 99.64 }],
  substrate: 1.52,
  wavelengthNm: [550, 600],
  incidenceDeg: [0, 45],
};
const ask = (more: object = {}) => runTask(task, { ...request, ...more });

describe('the task spectrum', () => {
  it('answers a quarter wave of 1.38 on 1.52 with 1.26 % (thin-film textbook relation), s and p alike', async () => {
    const answer = await ask();
    expect(answer.s.R[0]![0]).toBeCloseTo(0.01260079, 8);
    expect(answer.p.R[0]).toEqual(answer.s.R[0]);
    expect(answer.mean.A[1]![0]).toBeCloseTo(0, 14);
    expect(answer.s.phaseRDeg[0]![0]).toBeCloseTo(answer.p.phaseRDeg[0]![0]!, 10);
    expect(answer).not.toHaveProperty('derivative');
  });

  it('adds derivatives for n and k on request, as finite differences give them', async () => {
    const { indexDerivative } = await ask({ indexDerivative: true });
    const at = async (n: number, k: number) => ask({ layers: [{ material: { n, k }, thicknessNm: 99.64 }] });
    const [up, down, lossy] = [await at(1.38001, 0), await at(1.37999, 0), await at(1.38, 1e-6)];
    const plain = await ask();
    for (const one of ['s', 'p'] as const) {
      const slope = (up[one].R[1]![0]! - down[one].R[1]![0]!) / 2e-5;
      expect(indexDerivative![one].R.n[1]![0]![0]).toBeCloseTo(slope, 7);
      const loss = (lossy[one].T[1]![0]! - plain[one].T[1]![0]!) / 1e-6;
      expect(indexDerivative![one].T.k[1]![0]![0]).toBeCloseTo(loss, 4);
    }
    await expect(ask({ indexDerivative: true, plate: { thicknessMm: 1 } })).rejects.toThrow(
      'indexDerivative: is of a front surface in unaveraged light; leave out plate',
    );
  });

  it('adds derivatives as [angle][wavelength][layer]', async () => {
    const { derivative } = await ask({ derivative: true });
    expect(derivative!.s.R).toHaveLength(2);
    expect(derivative!.p.T[1]).toHaveLength(2);
    expect(derivative!.p.T[1]![1]).toHaveLength(1);
    expect(derivative!.p.R[1]![1]![0]).toBeCloseTo(-derivative!.p.T[1]![1]![0]!, 15);
  });

  it('averages over a band and a cone', async () => {
    const answer = await ask({
      averageOver: { bandwidthNm: 10, bandShape: 'gaussian', coneHalfAngleDeg: 5 },
    });
    expect(answer.mean.R[0]![0]).toBeGreaterThan(0.01260079);
    expect(answer.mean.R[0]![0]).toBeLessThan(0.0128);
    expect(answer.warnings).toEqual([]);
  });

  it('adds the group delay on request', async () => {
    const gap = { layers: [{ material: 1, thicknessNm: 10_000 }], substrate: 4 };
    const answer = await ask({ ...gap, groupDelay: true });
    expect(answer.s.groupDelayFs![0]![0]).toBeCloseTo(20_000 / 299.792458, 5);
    expect(await ask(gap)).not.toHaveProperty('s.groupDelayFs');
  });

  it('adds the second surface of a plate', async () => {
    const plate = { thicknessMm: 2, backLayers: request.layers };
    const answer = await ask({ plate });
    expect(answer.mean.T[0]![0]).toBeCloseTo((1 - 0.01260079) / (1 + 0.01260079), 7);
  });

  it.each([
    [{ incidenceDeg: [90] }, 'incidenceDeg[0]: 90 deg is not below 90 deg'],
    [
      { averageOver: { coneHalfAngleDeg: 60 } },
      'averageOver.coneHalfAngleDeg: 60 deg is not below 45 deg (90 deg less the incidence of 45 deg)',
    ],
    [
      { averageOver: { bandwidthNm: 2000 } },
      'averageOver.bandwidthNm: the band reaches 1000 nm to either side of 550 nm, down to no light at all',
    ],
    [{ layers: [{ material: 1.38, thicknessNm: -3 }] }, 'layers[0].thicknessNm: -3 nm is below 0 nm'],
  ])('refuses %j in one sentence', async (more, message) => {
    await expect(ask(more)).rejects.toThrow(message);
  });
});
