import { describe, expect, it } from 'vitest';
import { runTask } from '../../../src/compute/task.ts';
import task from '../../../src/compute/tasks/colour.ts';

const ask = (request: object) => runTask(task, request);

describe('the task colour', () => {
  it('gives a given spectrum and a stack of the same reflectance the same colour', async () => {
    const nm = Array.from({ length: 201 }, (_, i) => 300 + 3 * i);
    const R = nm.map(() => (0.52 / 2.52) ** 2);
    const given = await ask({ spectrum: { wavelengthNm: nm, R }, illuminant: 'A' });
    const bare = await ask({ substrate: 1.52, illuminant: 'A' });
    expect(given.X).toBeCloseTo(bare.X, 12);
    expect(given.srgb).toBe(bare.srgb);
    expect(bare.Y).toBeCloseTo(4.257999, 5);
  });

  it('shows the reflection of a single layer for green light as purple', async () => {
    const { a, b, warnings } = await ask({
      substrate: 1.52,
      layers: [{ material: 1.38, thicknessNm: 99.6 }],
    });
    expect(a).toBeGreaterThan(0);
    expect(b).toBeLessThan(0);
    expect(warnings).toEqual([]);
  });

  it.each([
    [{}, 'substrate: is missing, and no spectrum is given'],
    [
      { substrate: 1.5, spectrum: { wavelengthNm: [380, 780], R: [0, 0] } },
      'spectrum: is given together with a stack; give one of both',
    ],
    [{ spectrum: { wavelengthNm: [380, 780], R: [0] } }, /spectrum.R: /],
    [
      { spectrum: { wavelengthNm: [400, 780], R: [0, 0] } },
      'spectrum.wavelengthNm: the spectrum reaches from 400 to 780 nm; colour needs 380 to 780 nm',
    ],
    [{ spectrum: { wavelengthNm: [380, 780], R: [0, 0] }, of: 'T' }, 'spectrum.T: is missing'],
    [{ substrate: 1.5, illuminant: 'F2' }, 'illuminant: "F2" is not one of "D65", "A", "E"'],
  ])('refuses %j in one sentence', async (request, message) => {
    await expect(ask(request)).rejects.toThrow(message);
  });
});
