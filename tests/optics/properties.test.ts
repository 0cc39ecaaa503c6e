import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { solve, spectrum } from './support/solve.ts';
import { plainStack } from './support/stacks.ts';

/*
 * What every stack must satisfy, whatever it is made of; stacks drawn by fast-check with a fixed seed.
 */

const RUNS = { numRuns: 300, seed: 3 };

const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const index = real(1.2, 4);
const lossless = fc.record({ n: index, nm: real(0, 500) });
const lossy = fc.record({ n: real(0.05, 5), k: real(0, 5), nm: real(0, 300) });
const light = fc.record({
  nm: real(200, 14_000),
  angle: fc.oneof(fc.constant(0), real(0, 1.5690509975429023)),
  polarization: fc.constantFrom('s' as const, 'p' as const),
  incident: real(1, 2.5),
});

describe('every lossless stack', () => {
  const drawn = [light, fc.array(lossless, { maxLength: 30 }), index] as const;

  it('reflects and transmits all light: R + T = 1', () => {
    fc.assert(
      fc.property(...drawn, ({ nm, angle, polarization, incident }, layers, substrate) => {
        const stack = plainStack(
          [nm],
          incident,
          layers.map(({ n }) => n),
          substrate,
        );
        const { R, T } = spectrum(
          stack,
          layers.map((layer) => layer.nm),
          angle,
          polarization,
        );
        expect(Math.abs(R[0]! + T[0]! - 1)).toBeLessThan(3e-12);
      }),
      RUNS,
    );
  });

  it('is unchanged by an absent half wave anywhere', () => {
    fc.assert(
      fc.property(...drawn, index, fc.nat(), ({ nm }, layers, substrate, n, at) => {
        const place = at % (layers.length + 1);
        const media = layers.map((layer) => layer.n);
        const nms = layers.map((layer) => layer.nm);
        const { R } = spectrum(plainStack([nm], 1, media, substrate), nms);
        const more = spectrum(
          plainStack([nm], 1, media.toSpliced(place, 0, n), substrate),
          nms.toSpliced(place, 0, nm / 2 / n),
        );
        expect(more.R[0]).toBeCloseTo(R[0]!, 11);
      }),
      RUNS,
    );
  });

  it('reflects as much seen from the other side', () => {
    fc.assert(
      fc.property(...drawn, ({ nm, angle, polarization }, layers, substrate) => {
        // From the rarer side, so that light passes.
        const outside = Math.min(1.1, substrate);
        const media = layers.map(({ n }) => n);
        const nms = layers.map((layer) => layer.nm);
        const there = spectrum(plainStack([nm], outside, media, substrate), nms, angle, polarization);
        const inner = Math.asin((outside * Math.sin(angle)) / substrate);
        const back = spectrum(
          plainStack([nm], substrate, media.toReversed(), outside),
          nms.toReversed(),
          inner,
          polarization,
        );
        expect(back.R[0]).toBeCloseTo(there.R[0]!, 9);
      }),
      RUNS,
    );
  });
});

describe('every absorbing stack', () => {
  const drawn = [light, fc.array(lossy, { maxLength: 15 }), index] as const;
  const media = (layers: readonly { n: number; k: number }[]) => layers.map(({ n, k }) => [n, k] as const);

  it('gives back no more than it gets: R + T + A = 1 with none below 0', () => {
    fc.assert(
      fc.property(...drawn, ({ nm, angle, polarization, incident }, layers, substrate) => {
        const stack = plainStack([nm], incident, media(layers), substrate);
        const { R, T } = spectrum(
          stack,
          layers.map((layer) => layer.nm),
          angle,
          polarization,
        );
        expect(R[0]).toBeGreaterThanOrEqual(0);
        expect(T[0]).toBeGreaterThanOrEqual(0);
        expect(R[0]! + T[0]!).toBeLessThan(1 + 1e-12);
      }),
      RUNS,
    );
  });

  it('transmits the same in both directions', () => {
    fc.assert(
      fc.property(...drawn, ({ nm, angle, polarization }, layers, substrate) => {
        const nms = layers.map((layer) => layer.nm);
        const outside = Math.min(1.1, substrate);
        const there = spectrum(plainStack([nm], outside, media(layers), substrate), nms, angle, polarization);
        const back = spectrum(
          plainStack([nm], substrate, media(layers).toReversed(), outside),
          nms.toReversed(),
          Math.asin((outside * Math.sin(angle)) / substrate),
          polarization,
        );
        expect(Math.abs(back.T[0]! - there.T[0]!)).toBeLessThan(1e-9 * there.T[0]! + 1e-300);
      }),
      RUNS,
    );
  });

  it('is the same with any of its layers cut in two', () => {
    fc.assert(
      fc.property(
        ...drawn,
        fc.nat(),
        real(0, 1),
        ({ nm, angle, polarization, incident }, layers, substrate, at, part) => {
          fc.pre(layers.length > 0);
          const place = at % layers.length;
          const nms = layers.map((layer) => layer.nm);
          const whole = spectrum(
            plainStack([nm], incident, media(layers), substrate),
            nms,
            angle,
            polarization,
          );
          const cut = media(layers);
          const twice = spectrum(
            plainStack([nm], incident, cut.toSpliced(place, 0, cut[place]!), substrate),
            nms.toSpliced(place, 1, part * nms[place]!, (1 - part) * nms[place]!),
            angle,
            polarization,
          );
          expect(twice.R[0]).toBeCloseTo(whole.R[0]!, 11);
          expect(Math.abs(twice.T[0]! - whole.T[0]!)).toBeLessThan(1e-9 * whole.T[0]! + 1e-300);
        },
      ),
      RUNS,
    );
  });

  it('has derivatives that equal differences', () => {
    const thick = fc.record({ n: real(0.05, 5), k: real(0, 5), nm: real(1, 300) });
    fc.assert(
      fc.property(
        light,
        fc.array(fc.oneof(thick, fc.record({ n: index, k: fc.constant(0), nm: real(1, 500) })), {
          minLength: 1,
          maxLength: 12,
        }),
        index,
        fc.nat(),
        ({ nm, angle, polarization, incident }, layers, substrate, at) => {
          const place = at % layers.length;
          const stack = plainStack([nm], incident, media(layers), substrate);
          const nms = layers.map((layer) => layer.nm);
          const { dR, dT } = solve(stack, nms, angle, polarization);
          const step = Math.min(nm / 5000, nms[place]! / 2);
          const moved = (by: number) =>
            spectrum(stack, nms.with(place, nms[place]! + by), angle, polarization);
          const central = (h: number, of: 'R' | 'T') => (moved(h)[of][0]! - moved(-h)[of][0]!) / (2 * h);
          for (const [of, slope] of [
            ['R', dR[place]!],
            ['T', dT[place]!],
          ] as const) {
            const difference = (4 * central(step / 2, of) - central(step, of)) / 3;
            expect(Math.abs(slope - difference)).toBeLessThan(1e-9 + 1e-5 * Math.abs(slope));
          }
        },
      ),
      RUNS,
    );
  });
});
