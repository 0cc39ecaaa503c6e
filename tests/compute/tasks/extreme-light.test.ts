import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/base/errors.ts';
import { runTask } from '../../../src/compute/task.ts';
import field from '../../../src/compute/tasks/field.ts';
import spectrum from '../../../src/compute/tasks/spectrum.ts';
import { Random } from '../../../src/math/random.ts';

const random = new Random(9);
const pick = <T>(from: readonly T[]): T => from[random.integer(from.length)]!;

const EXTREME_INDICES = [
  1,
  1.5,
  100,
  0.01,
  { n: 0, k: 1 },
  { n: 0, k: 100 },
  { n: 100, k: 100 },
  { n: 1e-9, k: 1e-9 },
  { n: 1.5, k: 1e-300 },
  { n: 2, k: 1e-12 },
  'ag',
  'mgf2',
  'tio2',
];

const layer = () => ({
  material: pick(EXTREME_INDICES),
  thicknessNm: pick([0, 1e-300, 1e-9, 10, 137.3, 1e4, 1e7]),
});

function extremeStack() {
  return {
    incident: pick([1, 1.5, 0.01, 100, 4]),
    substrate: pick(EXTREME_INDICES),
    layers: Array.from({ length: pick([0, 1, 2, 3, 10]) }, layer),
  };
}

/** Where in an answer a number is not finite. */
function faults(answer: unknown, path = ''): string[] {
  if (typeof answer === 'number') return Number.isFinite(answer) ? [] : [`${path} ${answer}`];
  if (typeof answer !== 'object' || answer === null) return [];
  return Object.entries(answer).flatMap(([key, value]) => faults(value, `${path}.${key}`));
}

describe('at the edges of what may be asked', () => {
  it('spectra stay finite and between 0 and 1, or are refused in a sentence', async () => {
    const wrong: string[] = [];
    let answered = 0;
    for (let i = 0; i < 800; i++) {
      const plate = { thicknessMm: pick([0, 1, 1000]), backLayers: [layer()] };
      const request = {
        ...extremeStack(),
        wavelengthNm: [pick([1, 200, 550, 1e4, 1e6])],
        incidenceDeg: [pick([0, 1e-9, 30, 45, 89.9, 89.9999999])],
        derivative: true,
        ...(random.uniform() < 0.3 && { plate }),
      };
      try {
        const answer = await runTask(spectrum, request);
        answered++;
        const found = faults(answer);
        // A plate that absorbs and yet is thin is answered while what interferes in it stays below 1e-3.
        const most = 'plate' in request ? 1e-3 : 1e-9;
        for (const { R, T } of [answer.s, answer.p]) {
          const [r, t] = [R[0]![0]!, T[0]![0]!];
          if (!(r >= 0 && t >= 0 && r + t < 1 + most)) found.push(`R ${r}, T ${t}`);
        }
        if (found.length > 0) wrong.push(`${found[0]} for ${JSON.stringify(request)}`);
      } catch (error) {
        if (!(error instanceof InputError)) throw error;
      }
    }
    expect(wrong).toEqual([]);
    expect(answered).toBeGreaterThan(300);
  });

  it('fields stay finite, or are refused in a sentence', async () => {
    const wrong: string[] = [];
    let answered = 0;
    for (let i = 0; i < 400; i++) {
      const request = {
        ...extremeStack(),
        wavelengthNm: pick([1, 200, 550, 1e4, 1e6]),
        incidenceDeg: pick([0, 30, 45, 89.9]),
        polarization: pick(['s', 'p']),
        depthNm: [-100, 0, 1, 50, 1e5],
        locusPoints: 3,
      };
      try {
        const found = faults(await runTask(field, request));
        answered++;
        if (found.length > 0) wrong.push(`${found[0]} for ${JSON.stringify(request)}`);
      } catch (error) {
        if (!(error instanceof InputError)) throw error;
      }
    }
    expect(wrong).toEqual([]);
    expect(answered).toBeGreaterThan(150);
  });
});
