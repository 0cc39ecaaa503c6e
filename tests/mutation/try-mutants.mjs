import { spawn } from 'node:child_process';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { withSwitches } from './draw.mjs';

/**
 * Most mutants fall to short tests, and one that has lost its way costs least there: those of all files come first, then
 * the longer ones, each up to so long.
 */
const TURNS_MS = [15, 150, 1e9];

/** How long a test under a mutant may take, beyond so many times what it takes without. */
const PATIENCE_MS = 5000;
const PATIENCE_FACTOR = 10;
const LOADED_MS = 600_000;

/** Runs the tests over switched code until each has told what it has to, and returns the mutants' fates. */
export async function tryMutants(work, mutants, testFiles) {
  mkdirSync(work, { recursive: true });
  const logFile = `${work}/events.jsonl`;
  const { code, mutants: byId } = await withSwitches(mutants);
  writeFileSync(`${work}/code.json`, JSON.stringify({ code, ids: Object.keys(byId) }));
  writeFileSync(logFile, '');
  const environment = { COATWRIGHT_MUTANT_LOG: logFile, COATWRIGHT_MUTANT_CODE: `${work}/code.json` };
  const read = () =>
    readFileSync(logFile, 'utf8')
      .split('\n')
      .filter(Boolean)
      .map((line) => JSON.parse(line));
  let waiting = testFiles;
  for (const longestMs of TURNS_MS) {
    const ended = () => read().filter((event) => event.kind === 'ended' && event.longestMs === longestMs);
    for (;;) {
      const through = ended().map(({ file }) => file);
      const open = waiting.filter((file) => !through.includes(file));
      if (open.length === 0) break;
      const before = read().length;
      const stuck = await vitest(
        open,
        { ...environment, COATWRIGHT_MUTANT_LONGEST_MS: String(longestMs) },
        read,
      );
      if (stuck)
        writeFileSync(logFile, `${JSON.stringify({ ...stuck, kind: 'found', late: true })}\n`, { flag: 'a' });
      else if (read().length === before)
        throw new Error(`the tests themselves do not run: ${open.join(' ')}`);
    }
    waiting = ended().flatMap(({ file, left }) => (left > 0 ? [file] : []));
  }
  const events = read();
  const found = new Map(events.flatMap((event) => (event.kind === 'found' ? [[event.id, event]] : [])));
  const tried = new Set(events.flatMap((event) => (event.kind === 'start' ? [event.id] : [])));
  const fates = [];
  for (const [id, mutant] of Object.entries(byId)) {
    const by = found.get(id);
    const loading = events.flatMap((event) =>
      event.kind === 'loaded' && event.ids.includes(id) ? [event.file] : [],
    );
    if (by) fates.push({ mutant, fate: by.late ? 'late' : 'found', test: `${by.file}: ${by.test}` });
    else if (loading.length > 0 && (await failsWhenLoaded(id, loading, environment)))
      fates.push({ mutant, fate: 'found', test: 'when loaded' });
    else fates.push({ mutant, fate: tried.has(id) || loading.length > 0 ? 'survived' : 'not reached' });
  }
  return fates;
}

function start(files, environment, ...more) {
  const command = ['node_modules/vitest/vitest.mjs', 'run', '-c', 'tests/mutation/drawn.config.ts'];
  const env = { ...process.env, ...environment };
  const child = spawn(process.execPath, [...command, ...more, ...files], {
    env,
    stdio: 'ignore',
    detached: true,
  });
  const end = () => process.kill(-child.pid, 'SIGKILL');
  process.once('exit', end);
  child.once('exit', () => process.off('exit', end));
  return { child, end };
}

/** Time of the processor that a process has had, where the system tells (Linux, in hundredths of a second); else the clock. */
function clockMs(pid) {
  try {
    const fields = readFileSync(`/proc/${pid}/stat`, 'utf8')
      .replace(/^.*\) /, '')
      .split(' ');
    return 10 * (Number(fields[11]) + Number(fields[12]));
  } catch {
    return Date.now();
  }
}

/** Runs these files; where a test under a mutant takes far too long, ends the run and returns that event. */
function vitest(files, environment, read) {
  const { child, end } = start(files, environment);
  return new Promise((resolve) => {
    let stuck;
    let [seen, since] = [0, 0];
    const watch = setInterval(() => {
      const events = read();
      const last = events.at(-1);
      if (last?.kind !== 'start') return;
      const now = clockMs(last.pid);
      if (events.length !== seen) [seen, since] = [events.length, now];
      if (now - since < PATIENCE_MS + PATIENCE_FACTOR * last.ms) return;
      stuck = last;
      end();
    }, 1000);
    child.once('exit', () => {
      clearInterval(watch);
      resolve(stuck);
    });
  });
}

/** A mutant that runs when modules are loaded must be on from the start. */
function failsWhenLoaded(id, files, environment) {
  const { child, end } = start(files, { ...environment, __STRYKER_ACTIVE_MUTANT__: id }, '--bail=1');
  const watch = setTimeout(end, LOADED_MS);
  return new Promise((resolve) =>
    child.once('exit', (status) => {
      clearTimeout(watch);
      resolve(status !== 0);
    }),
  );
}
