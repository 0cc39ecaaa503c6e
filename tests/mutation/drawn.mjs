import { readdirSync, readFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { draw } from './draw.mjs';
import { tryMutants } from './try-mutants.mjs';

/**
 * Scores folders or files by the mutants of them, or by so many that are drawn by chance:
 * npm run mutate:drawn -- [--count N] [--seed TEXT] [--tests PATTERN] src/optics …
 * A mutant of src/optics/… meets the tests of tests/optics alone, so that a score is rather too low than too high.
 */
const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    count: { type: 'string' },
    seed: { type: 'string', default: '1' },
    tests: { type: 'string', default: '' },
  },
});
const count = values.count === undefined ? undefined : Number(values.count);
const targets =
  positionals.length > 0
    ? positionals
    : ['optics', 'chamber', 'monitor', 'inspect'].map((one) => `src/${one}`);

/** Switches slow the code down, so that only so many stand in it at a time. */
const BATCH = 250;

const filesUnder = (path) =>
  path.endsWith('.ts')
    ? [path]
    : readdirSync(path, { recursive: true })
        .filter((name) => name.endsWith('.ts') && !/assembly|kernel-bytes/.test(name))
        .map((name) => `${path}/${name.replaceAll('\\', '/')}`)
        .sort();

process.once('SIGINT', () => process.exit(130));
process.once('SIGTERM', () => process.exit(143));

const percent = (share) => (100 * share).toFixed(1);

/** The score interval of a share at 95 %. E. B. Wilson (1927), J. Am. Stat. Assoc. 22, 209. */
function interval(found, all) {
  const z = 1.959964;
  const middle = (found + (z * z) / 2) / (all + z * z);
  const half = (z / (all + z * z)) * Math.sqrt((found * (all - found)) / all + (z * z) / 4);
  return `${percent(middle - half)} to ${percent(middle + half)} %`;
}

function print(target, fates, outOf) {
  const caught = fates.filter(({ fate }) => fate === 'found' || fate === 'late').length;
  const late = fates.filter(({ fate }) => fate === 'late').length;
  for (const { mutant, fate } of fates.filter(({ fate }) => fate !== 'found')) {
    const { start, end } = mutant.location;
    const lines = readFileSync(mutant.fileName, 'utf8')
      .split('\n')
      .slice(start.line, end.line + 1);
    if (end.line === start.line) lines[0] = lines[0].slice(0, end.column);
    lines[0] = lines[0].slice(start.column);
    const original = lines.join(' ').replace(/\s+/g, ' ').slice(0, 160);
    console.log(`${fate}: ${mutant.fileName}:${start.line + 1}:${start.column + 1} ${mutant.mutatorName}`);
    console.log(`  - ${original}\n  + ${mutant.replacement.replace(/\s+/g, ' ').slice(0, 160)}`);
  }
  const share = `${target}: ${percent(caught / fates.length)} % of ${fates.length} mutants found, ${late} of them by time`;
  console.log(
    fates.length < outOf ? `${share}; of all ${outOf}: ${interval(caught, fates.length)} (95 %)` : share,
  );
  return caught / fates.length;
}

for (const target of targets) {
  const folder = target.split('/')[1];
  const tests = filesUnder(`tests/${folder}`).filter(
    (name) => name.endsWith('.test.ts') && new RegExp(values.tests).test(name),
  );
  const { drawn, outOf } = await draw(filesUnder(target), values.seed, count);
  const fates = [];
  for (let at = 0; at < drawn.length; at += BATCH)
    fates.push(
      ...(await tryMutants(`.mutation/drawn-${folder}-${process.pid}`, drawn.slice(at, at + BATCH), tests)),
    );
  if (print(target, fates, outOf) < 0.85) process.exitCode = 1;
}
