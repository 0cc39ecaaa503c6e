import { describe, expect, it } from 'vitest';
import { type OneRackRequest, requireOneRackFits } from '../../src/chamber/one-rack.ts';

const sound: OneRackRequest = {
  motion: { kind: 'rotating', heightMm: 800 },
  rackDiameterMm: 900,
  chamberDiameterMm: 1100,
  wallGapMm: 5,
  sources: [{ offsetMm: 300, heightMm: 20, clearanceMm: 50 }],
};
const dome = { kind: 'dome', radiusMm: 500, centreHeightMm: 100 } as const;

describe('one rack on the axis', () => {
  it('fits where it clears wall and sources, to the last mm', () => {
    requireOneRackFits(sound);
    requireOneRackFits({ ...sound, rackDiameterMm: 1090 });
    requireOneRackFits({ ...sound, motion: { kind: 'fixed', heightMm: 70 } });
    requireOneRackFits({ ...sound, motion: dome, rackDiameterMm: 1000 });
  });

  it.each<readonly [Partial<OneRackRequest>, string]>([
    [
      { rackDiameterMm: 1091 },
      'rackDiameterMm: 1091 mm would touch the wall: a chamber of 1100 mm takes at most 1090 mm',
    ],
    [
      { motion: { kind: 'fixed', heightMm: 69 } },
      'sources[0]: the rack comes within 49 mm of the source, nearer than the 50 mm that must stay free',
    ],
    [
      { motion: { kind: 'rotating', heightMm: 15 } },
      'sources[0]: at 20 mm it is not below the rack, which comes down to 15 mm',
    ],
    // The edge of the dome stands at 100 + sqrt(500² − 480²) = 240 mm; the source 10 mm from it sideways, 40 mm below.
    [
      { motion: dome, rackDiameterMm: 960, sources: [{ offsetMm: 490, heightMm: 200, clearanceMm: 50 }] },
      'sources[0]: the rack comes within 41.23 mm',
    ],
    [
      { motion: dome, rackDiameterMm: 1001 },
      "rackDiameterMm: 1001 mm is wider than the dome's sphere, whose diameter is 1000 mm",
    ],
    [
      { motion: { ...dome, centreHeightMm: -600 } },
      'motion.centreHeightMm: -600 mm puts the top of the dome',
    ],
    [{ wallGapMm: -1 }, 'wallGapMm: -1 mm is below 0 mm'],
    [{ sources: [{ offsetMm: -3, clearanceMm: 50 }] }, 'sources[0].offsetMm: -3 mm is below 0 mm'],
  ])('%o is refused', (change, sentence) => {
    expect(() => requireOneRackFits({ ...sound, ...change })).toThrow(sentence);
  });
});
