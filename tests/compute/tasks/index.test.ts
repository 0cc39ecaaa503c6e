import { describe, expect, it } from 'vitest';
import { runTask } from '../../../src/compute/task.ts';
import task from '../../../src/compute/tasks/index.ts';
import { TASKS } from '../../../src/compute/tasks.ts';

describe('the task index', () => {
  it('is registered under its name', async () => {
    expect(await TASKS.index?.()).toBe(task);
  });

  it('answers its own example', async () => {
    const answer = await runTask(task, task.example);
    expect(answer.wavelengthNm).toEqual([400, 500, 600, 700]);
    expect(answer.inRange).toEqual([true, true, true, true]);
    expect(answer.source).toContain('Franta');
    expect(answer.warnings).toEqual([]);
    expect(JSON.parse(JSON.stringify(answer))).toEqual(answer);
  });

  it('flags wavelengths outside the data and holds the value at the nearer end', async () => {
    const answer = await runTask(task, { material: 'ta2o5', wavelengthNm: [200, 350, 1800, 3000] });
    expect(answer.inRange).toEqual([false, true, true, false]);
    expect(answer.n[0]).toBe(answer.n[1]);
    expect(answer.n[3]).toBe(answer.n[2]);
    expect(answer.warnings).toEqual([
      'Tantalum pentoxide: wavelengths between 200 and 3000 nm lie outside its data (350 to 1800 nm); the value at the nearer end is used.',
    ]);
  });

  it('warns of data that are good for little', async () => {
    const { warnings } = await runTask(task, { material: 'zro2', wavelengthNm: [550] });
    expect(warnings).toEqual([
      'Zirconium dioxide: sparse spot values, not a measured dispersion: use for rough planning only.',
    ]);
  });

  it('computes n = A + B/λ² + C/λ⁴ with λ in µm', async () => {
    const { n, k } = await runTask(task, {
      material: { cauchy: [1.45, 0.0036, 0.0001] },
      wavelengthNm: [500],
    });
    expect(n[0]).toBeCloseTo(1.45 + 0.0036 / 0.25 + 0.0001 / 0.0625, 14);
    expect(k).toEqual([0]);
  });

  it('meets the points of a table and interpolates n and k separately', async () => {
    const material = { wavelengthNm: [400, 500, 700], n: [1.6, 1.55, 1.5], k: [0.01, 0, 0] };
    const answer = await runTask(task, { material, wavelengthNm: [400, 450, 500, 600, 700, 701] });
    expect([answer.n[0], answer.n[2], answer.n[4]]).toEqual([1.6, 1.55, 1.5]);
    expect(answer.n[1]).toBeGreaterThan(1.55);
    expect(answer.n[1]).toBeLessThan(1.6);
    expect(answer.k[3]).toBe(0);
    expect(answer.inRange).toEqual([true, true, true, true, true, false]);
  });

  it.each([
    [{ material: 'nosuch' }, 'material: "nosuch" is not a known material'],
    [{ material: 0 }, 'material: 0 is not above 0'],
    [{ material: -1.5 }, 'material: -1.5 is not above 0'],
    [{ material: true }, 'material: true is not an index; it is a material id, a number'],
    [{ material: [1.5] }, 'material: [1.5] is not an index'],
    [{ material: null }, 'material: null is not an index'],
    [{ material: { n: 1.5, k: -0.1 } }, 'material.k: -0.1 is below 0'],
    [{ material: { k: 0.1 } }, 'material.n: is missing'],
    [{ material: { n: 1.5, kappa: 1 } }, 'material.kappa: unknown field "kappa"'],
    [{ material: { cauchy: [] } }, 'material.cauchy: the list has no entries; it needs at least 1'],
    [{ material: { cauchy: [-1] } }, 'material.cauchy: the series gives n = -1 at 550 nm'],
    [{ material: { cauchy: ['1.5'] } }, 'material.cauchy[0]: "1.5" is not a number'],
    [
      { material: { wavelengthNm: [500, 400], n: [1, 1] } },
      'material.wavelengthNm[1]: 400 nm is not above 500',
    ],
    [
      { material: { wavelengthNm: [400, 500], n: [1.5] } },
      'material.n: 1 values stand against 2 wavelengths',
    ],
    [{ material: { wavelengthNm: [400], n: [0] } }, 'material.n[0]: 0 is not above 0'],
    [{ material: { wavelengthNm: [400], n: [1.5], k: [-1] } }, 'material.k[0]: -1 is below 0'],
    [{ material: { wavelengthNm: [400] } }, 'material.n: is missing'],
    [{ material: { variantOf: 'tio2', packing: { density: 2 } } }, 'material.packing.density: 2 is above 1'],
    [
      { material: { variantOf: { variantOf: 'tio2' } } },
      'material.variantOf: {"variantOf":"tio2"} is not an',
    ],
    [{}, 'material: is missing'],
  ])('%j is refused with one sentence', async (input, sentence) => {
    await expect(runTask(task, { wavelengthNm: [550], ...input })).rejects.toThrow(sentence);
  });
});
