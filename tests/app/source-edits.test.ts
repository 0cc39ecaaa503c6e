import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { oneMoreSource, withoutSource } from '../../src/app/stations/load/source-edits.ts';
import type { Batch } from '../../src/batch/document.ts';
import { batchFrom, readBatch } from '../../src/batch/read-batch.ts';

const demo = readBatch(readFileSync('demo/eyepiece-field-lens.json', 'utf8'));

function edited(batch: Batch, change: ReturnType<typeof withoutSource>): Batch {
  const draft = structuredClone(batch);
  change.recipe(draft);
  return batchFrom(draft);
}

describe('a source that is taken out', () => {
  const shared = structuredClone(demo);
  const [one, other] = Object.keys(shared.process.materials);
  shared.process.materials[one!] = {
    ...shared.process.materials[one!]!,
    source: 'gun-1',
    partner: { source: 'boat-1', sharePercent: 40 },
  };
  shared.process.materials[other!] = { ...shared.process.materials[other!]!, source: 'boat-1' };

  it('leaves what it gave together with another to that one, and the rest to the first that is left', () => {
    const change = withoutSource(shared, 'gun-1');
    const left = edited(shared, change);
    expect(left.chamber.sources.map(({ id }) => id)).toEqual(['boat-1']);
    expect(left.process.materials[one!]).toMatchObject({ source: 'boat-1' });
    expect(left.process.materials[one!]).not.toHaveProperty('partner');
    expect(change.name).toContain(`${one} from boat-1`);
  });

  it('takes its part of what two gave back to the first', () => {
    const left = edited(shared, withoutSource(shared, 'boat-1'));
    expect(left.process.materials[one!]).not.toHaveProperty('partner');
    for (const { source } of Object.values(left.process.materials)) expect(source).toBe('gun-1');
  });

  it('can be made good by a new one, which has a name and a direction of its own', () => {
    const more = edited(demo, oneMoreSource(demo));
    expect(more.chamber.sources).toHaveLength(3);
    expect(new Set(more.chamber.sources.map(({ id }) => id)).size).toBe(3);
    // Sources at 0° and 150° leave the widest gap around 255°.
    expect(more.chamber.sources.at(-1)).toMatchObject({ azimuthDeg: -105 });
  });
});
