import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createServer, request, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { listen, portFrom } from '../../src/cli/listen.ts';
import { browserOpener } from '../../src/cli/open-browser.ts';
import { staticServer } from '../../src/cli/static-server.ts';

let folder = '';
let server: Server;
let port = 0;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'coatwright-serve-'));
  mkdirSync(join(folder, 'app', 'assets'), { recursive: true });
  writeFileSync(join(folder, 'secret.txt'), 'secret');
  writeFileSync(join(folder, 'app', 'index.html'), '<!doctype html><title>x</title>');
  writeFileSync(join(folder, 'app', 'assets', 'a-1234.js'), 'export {};');
  server = staticServer(join(folder, 'app'));
  port = await listen(server, '127.0.0.1', 0);
});

afterAll(() => {
  server.close();
  rmSync(folder, { recursive: true });
});

/** A raw request, its path sent as it is written. */
function ask(
  path: string,
  method = 'GET',
  headers: NodeJS.Dict<string> = {},
): Promise<{ status: number; headers: NodeJS.Dict<string | string[]>; body: string }> {
  return new Promise((resolve, reject) => {
    const sent = request({ host: '127.0.0.1', port, path, method, headers }, (response) => {
      let body = '';
      response.on('data', (chunk) => {
        body += chunk;
      });
      response.on('end', () =>
        resolve({ status: response.statusCode ?? 0, headers: response.headers, body }),
      );
    });
    sent.on('error', reject);
    sent.end();
  });
}

describe('the local server', () => {
  it('serves the page and its files', async () => {
    const page = await ask('/');
    expect(page).toMatchObject({ status: 200, body: '<!doctype html><title>x</title>' });
    expect(page.headers['content-type']).toMatch('text/html');
    expect(page.headers['cache-control']).toBe('no-cache');
    const script = await ask('/assets/a-1234.js');
    expect(script.headers['content-type']).toMatch('javascript');
    expect(script.headers['cache-control']).toMatch('immutable');
  });

  it.each([
    '/../secret.txt',
    '/%2e%2e/secret.txt',
    '/..%2fsecret.txt',
    '/assets/../../secret.txt',
    '/nothing',
    '/%zz',
  ])('gives nothing from outside the folder for %s', async (path) => {
    const { status, body } = await ask(path);
    expect(status).toBe(404);
    expect(body).not.toContain('secret');
  });

  it.each(['bytes=5-1', 'bytes=9999999-', 'bytes=-1', 'bytes=x'])(
    'gives the whole file where a range is asked for, be it sound or not: %s',
    async (Range) => {
      expect(await ask('/assets/a-1234.js', 'GET', { Range })).toMatchObject({
        status: 200,
        body: 'export {};',
      });
    },
  );

  it('goes on where a file has been taken away since, as by a new build', async () => {
    const file = join(folder, 'app', 'assets', 'a-1234.js');
    rmSync(file);
    expect(await ask('/assets/a-1234.js')).toMatchObject({
      status: 404,
      body: 'There is no such page here.\n',
    });
    writeFileSync(file, 'export {};');
    expect(await ask('/assets/a-1234.js')).toMatchObject({ status: 200 });
  });

  it('answers only GET and HEAD', async () => {
    expect(await ask('/', 'POST')).toMatchObject({
      status: 405,
      body: 'This server answers GET and HEAD, not POST.\n',
    });
    expect(await ask('/', 'HEAD')).toMatchObject({ status: 200, body: '' });
  });

  it('forbids inline scripts, eval, foreign frames and type guessing on every answer', async () => {
    for (const path of ['/', '/nothing']) {
      const { headers } = await ask(path);
      const policy = String(headers['content-security-policy']);
      expect(policy).toContain("default-src 'none'");
      expect(policy).toMatch(/script-src 'self' 'wasm-unsafe-eval'(;|$)/);
      expect(policy).not.toMatch(/[' ]unsafe-eval/);
      expect(policy).toContain("frame-ancestors 'self'");
      expect(headers['x-content-type-options']).toBe('nosniff');
      expect(headers['referrer-policy']).toBe('no-referrer');
    }
  });

  it('says in one sentence that a port that was asked for is taken', async () => {
    const second = createServer();
    await expect(listen(second, '127.0.0.1', port)).rejects.toThrow(
      `PORT: ${port} is taken by another program; name a free one with PORT`,
    );
  });

  it('takes the next free port where none was asked for', async () => {
    const first = createServer();
    const second = createServer();
    const ports = [await listen(first, '127.0.0.1', undefined), await listen(second, '127.0.0.1', undefined)];
    expect(ports[1]).toBeGreaterThan(ports[0]!);
    expect((second.address() as AddressInfo).port).toBe(ports[1]);
    first.close();
    second.close();
  });

  it.each(['http', '-1', '65536', '80.5', ' 80'])('refuses the port "%s"', (variable) => {
    expect(() => portFrom(variable)).toThrow(`PORT: "${variable}" is not a whole number from 0 to 65535`);
  });

  it('refuses a host that is not of this machine', async () => {
    await expect(listen(createServer(), '192.0.2.1', 0)).rejects.toThrow(
      'HOST: "192.0.2.1" is no address of this machine',
    );
  });
});

describe('a browser', () => {
  const here = { platform: 'linux', isTerminal: true, variables: { DISPLAY: ':0' } } as const;
  const url = 'http://127.0.0.1:1/';

  it('is opened where somebody sees it', () => {
    expect(browserOpener(url, here)).toEqual(['xdg-open', url]);
    expect(browserOpener(url, { ...here, platform: 'darwin', variables: {} })).toEqual(['open', url]);
    expect(browserOpener(url, { ...here, platform: 'win32', variables: {} })?.[0]).toBe('cmd');
  });

  it('is left alone without a terminal or display, on a build server, or where it is not wanted', () => {
    expect(browserOpener(url, { ...here, isTerminal: false })).toBeUndefined();
    expect(browserOpener(url, { ...here, variables: {} })).toBeUndefined();
    expect(browserOpener(url, { ...here, variables: { DISPLAY: ':0', CI: 'true' } })).toBeUndefined();
    expect(browserOpener(url, { ...here, variables: { DISPLAY: ':0', BROWSER: 'none' } })).toBeUndefined();
  });
});
