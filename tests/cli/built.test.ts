import { spawnSync } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { TASKS } from '../../src/compute/tasks.ts';
import { buildCommand, runNode, startNode } from '../support/built-command.ts';

let built: Awaited<ReturnType<typeof buildCommand>>;
let command = '';

beforeAll(async () => {
  built = await buildCommand('built');
  command = join(built.bin, 'coatwright.js');
});

afterAll(() => built.remove());

const charge = JSON.stringify({ densityGPerCm3: 3, thicknessNm: 100, exponent: 2, heightMm: 500 });

describe('the built command', () => {
  it('answers on standard output with exit code 0', () => {
    const { code, out, err } = runNode(command, ['charge'], charge);
    expect([code, err]).toEqual([0, '']);
    expect(out.endsWith('}\n')).toBe(true);
    expect(JSON.parse(out)).toMatchObject({ warnings: [] });
  });

  it('gives the same answer again, byte for byte', () => {
    expect(runNode(command, ['charge'], charge)).toEqual(runNode(command, ['charge'], charge));
  });

  it('leaves standard output empty where the request is wrong', () => {
    expect(runNode(command, ['charge'], charge.replace('100', '-3'))).toEqual({
      code: 1,
      out: '',
      err: 'coatwright: thicknessNm: -3 nm is below 0 nm\n',
    });
    expect(runNode(command, ['nothing'], '')).toMatchObject({ code: 2, out: '' });
  });

  it('lists every task in its help', () => {
    const { out } = runNode(command, ['--help']);
    for (const name of Object.keys(TASKS)) expect(out).toMatch(new RegExp(`^  ${name} `, 'm'));
  });

  it('ends with 130 when it is interrupted amid a long task', async () => {
    const { example } = await TASKS.rehearse!();
    const run = startNode(command, ['rehearse', '--progress', '-']);
    run.child.stdin.end(JSON.stringify({ ...(example as object), runs: 20_000 }));
    await run.said(/ %/);
    const pressed = performance.now();
    run.child.kill('SIGINT');
    expect(await run.ended).toBe(130);
    expect(performance.now() - pressed).toBeLessThan(5000);
  });

  it('ends with 130 when it is interrupted', async () => {
    const run = startNode(command, ['charge']); // waits for standard input
    await new Promise((resolve) => setTimeout(resolve, 1500));
    run.child.kill('SIGINT');
    expect(await run.ended).toBe(130);
  });

  it('ends quietly when the reader of its output goes away', () => {
    const { stderr } = spawnSync('sh', ['-c', `"${process.execPath}" "${command}" --help | head -c 1`], {
      encoding: 'utf8',
    });
    expect(stderr).toBe('');
  });
});

describe('the built server', () => {
  it('says that the app is not built where it is not', () => {
    expect(runNode(join(built.bin, 'serve.js'), [])).toEqual({
      code: 1,
      out: '',
      err: 'coatwright: the app is not built yet; "npm run build" builds it\n',
    });
  });

  it('prints its address, serves the app and ends when it is told to', async () => {
    const app = join(built.bin, '..', 'app');
    mkdirSync(app, { recursive: true });
    writeFileSync(join(app, 'index.html'), '<!doctype html><title>Coatwright</title>');
    const run = startNode(join(built.bin, 'serve.js'), [], { PORT: '0' });
    const [, url = ''] = await run.said(/Coatwright is at (http:\/\/127\.0\.0\.1:\d+\/)/);
    const response = await fetch(url);
    expect(await response.text()).toContain('Coatwright');
    run.child.kill('SIGINT');
    expect(await run.ended).toBe(0);
  });

  it('refuses a wrong port with one sentence', async () => {
    const run = startNode(join(built.bin, 'serve.js'), [], { PORT: 'http' });
    await run.said(/^coatwright: PORT: "http" is not a whole number from 0 to 65535\n$/);
    expect(await run.ended).toBe(1);
  });
});
