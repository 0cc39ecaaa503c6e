import { describe, expect, it } from 'vitest';
import { type AnyTask, runTask } from '../../../src/compute/task.ts';
import colour from '../../../src/compute/tasks/colour.ts';
import design from '../../../src/compute/tasks/design.ts';
import field from '../../../src/compute/tasks/field.ts';
import fit from '../../../src/compute/tasks/fit.ts';
import offaxis from '../../../src/compute/tasks/offaxis.ts';
import rescue from '../../../src/compute/tasks/rescue.ts';
import spectrum from '../../../src/compute/tasks/spectrum.ts';
import tolerance from '../../../src/compute/tasks/tolerance.ts';
import { gradingProfile } from '../../../src/materials/grading.ts';

// biome-ignore lint/suspicious/noExplicitAny: answers of many tasks
const ask = (task: AnyTask, request: object): Promise<any> => runTask(task, request);

/** Invented: an antireflection coating whose middle layer loses a tenth of its index as it grows. */
const grading = { indexChangePercent: -10 };
const layers = [
  { material: 1.65, thicknessNm: 84 },
  { material: 2.1, thicknessNm: 130, grading },
  { material: 1.38, thicknessNm: 99.6 },
];
const plain = layers.map(({ material, thicknessNm }) => ({ material, thicknessNm }));
const requirements = [{ quantity: 'R', statistic: 'mean', limit: 0.4, bandNm: [430, 670] }];
const stack = { layers, substrate: 1.52 };
const wavelengthNm = { from: 400, to: 700, step: 50 };
const change = (one: number[], other: number[]) =>
  Math.max(...one.map((value, i) => Math.abs(value - other[i]!)));

describe('a graded layer in a request', () => {
  it('is the stack of its sublayers in the spectrum, on the coated face and on the back of a plate', async () => {
    const byHand = [
      layers[0]!,
      ...Array.from(gradingProfile(-0.1, 40), (factor) => ({
        material: 2.1 * factor,
        thicknessNm: 130 / 40,
      })),
      layers[2]!,
    ];
    const sides = (own: object[]) => ({ layers: own, plate: { thicknessMm: 1, backLayers: own } });
    const one = await ask(spectrum, { substrate: 1.52, wavelengthNm, ...sides(layers) });
    const other = await ask(spectrum, { substrate: 1.52, wavelengthNm, ...sides(byHand) });
    const without = await ask(spectrum, { substrate: 1.52, wavelengthNm, ...sides(plain) });
    expect(change(one.mean.R[0], other.mean.R[0])).toBeLessThan(2e-6);
    expect(change(one.mean.R[0], without.mean.R[0])).toBeGreaterThan(1e-3);
  });

  it('gives one derivative for its whole thickness', async () => {
    const at = async (nm: number) =>
      ask(spectrum, {
        ...stack,
        layers: layers.map((layer, i) =>
          i === 1 ? { ...layer, grading: { ...grading, sublayers: 12 }, thicknessNm: nm } : layer,
        ),
        wavelengthNm: [450, 600],
        incidenceDeg: [30],
        derivative: true,
      });
    const { derivative } = await at(130);
    const [more, less] = [await at(130.001), await at(129.999)];
    for (const which of ['s', 'p'])
      for (const w of [0, 1]) {
        expect(derivative[which].R[0][w]).toHaveLength(3);
        const slope = (more[which].R[0][w] - less[which].R[0][w]) / 0.002;
        expect(derivative[which].R[0][w][1]).toBeCloseTo(slope, 8);
      }
  });

  it('changes nothing where its change is 0', async () => {
    const none = layers.map((layer) => ({ ...layer, grading: { indexChangePercent: 0 } }));
    const request = { ...stack, wavelengthNm, incidenceDeg: [0, 40] };
    expect(await ask(spectrum, { ...request, layers: none })).toEqual(
      await ask(spectrum, { ...request, layers: plain }),
    );
  });

  it('keeps its sublayers through averages and group delay', async () => {
    const request = { ...stack, wavelengthNm: [450, 550], groupDelay: true };
    const banded = await ask(spectrum, { ...request, averageOver: { bandwidthNm: 10 } });
    expect(banded.warnings).toEqual([]);
    const given = layers.map((layer) =>
      layer.grading === undefined ? layer : { ...layer, grading: { ...grading, sublayers: 40 } },
    );
    const fine = await ask(spectrum, { ...request, layers: given });
    const chosen = await ask(spectrum, request);
    expect(change(chosen.s.groupDelayFs[0], fine.s.groupDelayFs[0])).toBeLessThan(2e-3);
  });

  it('counts in colour, field and tolerance, and off the axis', async () => {
    const lightness = async (own: object[]) => (await ask(colour, { ...stack, layers: own })).L;
    expect(Math.abs((await lightness(layers)) - (await lightness(plain)))).toBeGreaterThan(0.1);
    const depthNm = [110, 150, 200];
    const inside = async (own: object[]) =>
      (await ask(field, { ...stack, layers: own, wavelengthNm: 500, depthNm })).intensity;
    expect(change(await inside(layers), await inside(plain))).toBeGreaterThan(1e-3);
    const asked = { ...stack, requirements, errors: { relativePercent: 1, indexPercent: 0.5 }, trials: 20 };
    const graded = await ask(tolerance, asked);
    const flat = await ask(tolerance, { ...asked, layers: plain });
    expect(graded.sensitivity).toHaveLength(3);
    expect(Math.abs(graded.achieved[0].value - flat.achieved[0].value)).toBeGreaterThan(0.01);
    const over = await ask(offaxis, { ...stack, requirements, incidenceDeg: [0, 30] });
    expect(over.overAngle[0].results[0].value).toBeCloseTo(graded.achieved[0].value, 3);
  });

  it('stays graded through a refinement, which works on it as it is', async () => {
    const request = { substrate: 1.52, pool: ['mgf2'], requirements, search: 'refine' };
    const { layers: refined, achieved } = await ask(design, { ...request, start: layers });
    expect(refined.map((layer: { grading?: object }) => layer.grading)).toEqual([
      undefined,
      grading,
      undefined,
    ]);
    const judged = await ask(tolerance, { ...stack, layers: refined, requirements, errors: {}, trials: 1 });
    expect(judged.achieved[0].value).toBeCloseTo(achieved[0].value, 3);
    const begun = await ask(tolerance, { ...stack, requirements, errors: {}, trials: 1 });
    expect(achieved[0].value).toBeLessThan(begun.achieved[0].value);
    const saved = await ask(rescue, { ...request, start: layers, deposited: [90] });
    expect(saved.layers[1].grading).toEqual(grading);
  });

  it('is expected by the as-built fit', async () => {
    const grid = { from: 420, to: 700, step: 10 };
    const made = layers.map((layer, i) => (i === 1 ? { ...layer, thicknessNm: 133.9 } : layer));
    const { mean, wavelengthNm: at } = await ask(spectrum, { ...stack, layers: made, wavelengthNm: grid });
    const measured = { wavelengthNm: at, values: mean.R[0], quantity: 'R' };
    const built = await ask(fit, { ...stack, measured, free: 'layers' });
    expect(built.layers[1].thicknessNm).toBeCloseTo(133.9, 1);
    expect(built.layers[1].grading).toEqual(grading);
    expect(built.residualRmsPercent).toBeLessThan(1e-3);
  });

  it.each([
    [{ indexChangePercent: 51 }, 'layers[0].grading.indexChangePercent: 51 % is above 50 %'],
    [
      { indexChangePercent: 5, sublayers: 7 },
      'layers[0].grading.sublayers: 7 sublayers are not an even number',
    ],
    [{ indexChangePercent: 5, part: 1 }, 'layers[0].grading.part'],
  ])('%j is refused with one sentence', async (wrong, sentence) => {
    const request = {
      layers: [{ material: 2, thicknessNm: 100, grading: wrong }],
      substrate: 1.5,
      wavelengthNm,
    };
    await expect(ask(spectrum, request)).rejects.toThrow(sentence);
  });

  it('that would take too many sublayers is refused with its place', async () => {
    const request = { layers: [{ material: 2, thicknessNm: 1e6, grading }], substrate: 1.5, wavelengthNm };
    await expect(ask(spectrum, request)).rejects.toThrow('layers[0].grading: 1000000 nm take');
  });
});
