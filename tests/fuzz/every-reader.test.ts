import { mkdirSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { Random } from '../../src/math/random.ts';
import { mutateBytes, randomBytes } from './mutate-bytes.ts';
import { mutateJson, pick } from './mutate-json.ts';
import { everyReader, type Reader } from './readers.ts';

/** Cases over all readers: 2,000 in every run of the tests, 100,000 by `npm run fuzz`. */
const CASES = Number(process.env.COATWRIGHT_FUZZ_CASES ?? 2000);
const SEED = Number(process.env.COATWRIGHT_FUZZ_SEED ?? 20_261_125);

/** Processor seconds and bytes beyond which a case counts as hung or greedy (the figures of our promise). */
const MOST_SECONDS = 2;
const MOST_BYTES = 512 * 2 ** 20;

const readers = await everyReader();
const share = Math.ceil(CASES / readers.length);

describe.each(readers)('the reader of a $name', (reader) => {
  it('reads its own originals', async () => {
    for (const original of reader.originals) expect(await reader.read(original)).toBeUndefined();
  });

  it(
    `answers ${share} spoiled files with a sentence or an answer, in time and memory`,
    async () => {
      const random = new Random(SEED);
      for (let number = 0; number < share; number++) {
        const bytes = spoiled(reader, random.stream(number));
        await tryCase(reader, bytes, number);
      }
    },
    Math.max(60_000, share * 200),
  );
});

function spoiled(reader: Reader, random: Random): Uint8Array {
  const original = pick(reader.originals, random);
  const kind = random.uniform();
  if (kind < 0.05) return randomBytes(random);
  if (reader.isJson && kind < 0.75) {
    const value: unknown = JSON.parse(new TextDecoder().decode(original));
    return new TextEncoder().encode(JSON.stringify(mutateJson(value, random)));
  }
  return mutateBytes(original, pick(reader.originals, random), random);
}

async function tryCase(reader: Reader, bytes: Uint8Array, number: number): Promise<void> {
  const before = process.cpuUsage();
  const held = process.memoryUsage().heapUsed;
  let sentence: string | undefined;
  try {
    sentence = await reader.read(bytes);
  } catch (error) {
    throw new Error(`case ${number}, kept in ${keep(reader, bytes, number)}: ${error}`, { cause: error });
  }
  const { user, system } = process.cpuUsage(before);
  const seconds = (user + system) / 1e6;
  const grown = process.memoryUsage().heapUsed - held;
  if (seconds > MOST_SECONDS || grown > MOST_BYTES)
    throw new Error(`case ${number}, kept in ${keep(reader, bytes, number)}: ${seconds} s, ${grown} bytes`);
  if (sentence === undefined) return;
  expect(sentence).toMatch(/\w/);
  expect(sentence.length, `the sentence of case ${number}: ${sentence.slice(0, 200)}`).toBeLessThan(700);
  expect(sentence, `case ${number}`).not.toMatch(/\n|undefined|Invalid |\[object|\bat .*:\d+:\d+/);
}

/** Keeps a case that failed, so that it can be looked at and made a test of its own. */
function keep(reader: Reader, bytes: Uint8Array, number: number): string {
  const folder = 'node_modules/.cache/fuzz';
  mkdirSync(folder, { recursive: true });
  const path = `${folder}/${reader.name.replaceAll(' ', '-')}-${number}`;
  writeFileSync(path, bytes);
  return path;
}
