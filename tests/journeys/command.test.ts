import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { taskHelp } from '../../src/cli/help.ts';
import { TASKS } from '../../src/compute/tasks.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
const command = join(root, 'dist/bin/coatwright.js');

function run(words: readonly string[]) {
  const { status, stdout, stderr } = spawnSync(process.execPath, [command, ...words], {
    cwd: root,
    encoding: 'utf8',
    maxBuffer: 64_000_000,
  });
  return { code: status, out: stdout, err: stderr };
}

describe('the command as it is installed', () => {
  it.each(Object.keys(TASKS))('answers the example that the help of %s shows', async (name) => {
    const example = taskHelp(await TASKS[name]!())
      .split('\n')
      .at(-2)!;
    const line = example.replace(/coatwright (\S+)$/, `"${process.execPath}" "${command}" $1`);
    const { status, stdout, stderr } = spawnSync('sh', ['-c', line], {
      encoding: 'utf8',
      maxBuffer: 64_000_000,
    });
    expect([status, stderr]).toEqual([0, '']);
    expect(JSON.parse(stdout)).toHaveProperty('warnings');
  });

  const demos = readdirSync(join(root, 'demo')).filter((file) => file.endsWith('.json'));

  it.each(demos)('plans the demo %s with its traveller and tables', (demo) => {
    const folder = mkdtempSync(join(tmpdir(), 'coatwright-plan-'));
    const html = join(folder, 'papers', 'traveller.html');
    const { code, out, err } = run([
      'plan',
      join('demo', demo),
      '--html',
      html,
      '--csv',
      join(folder, 'tables'),
    ]);
    expect([code, err]).toEqual([0, '']);
    const answer = JSON.parse(out);
    expect(answer.totalS).toBeGreaterThan(0);
    const page = readFileSync(html, 'utf8');
    expect(page).toMatch(/^<!doctype html>/i);
    expect(page).not.toMatch(/<script|https?:\/\/(?!www\.w3\.org)/); // needs nothing and nobody
    const tables = readdirSync(join(folder, 'tables'));
    expect(tables).toContain('steps.csv');
    for (const table of tables) expect(readFileSync(join(folder, 'tables', table), 'utf8')).toContain(',');
    rmSync(folder, { recursive: true });
  });

  it('says which file of a request it cannot read', () => {
    const folder = mkdtempSync(join(tmpdir(), 'coatwright-read-'));
    const request = JSON.stringify({ file: join(folder, 'gone.csv') });
    const { status, stdout, stderr } = spawnSync(process.execPath, [command, 'read'], {
      input: request,
      encoding: 'utf8',
    });
    expect([status, stdout]).toEqual([1, '']);
    expect(stderr).toMatch(/^coatwright: file: ".*gone\.csv" cannot be read: there is no such file\n$/);
    rmSync(folder, { recursive: true });
  });
});
