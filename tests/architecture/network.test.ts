import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';

const source = fileURLToPath(new URL('../../src', import.meta.url));

/** Whatever opens a way to other machines, in a browser or under Node. */
const WAYS_OUT =
  /\bfetch\(|\bWebSocket\b|\bWebTransport\b|\bEventSource\b|\bsendBeacon\b|\bXMLHttpRequest\b|\bRTCPeerConnection\b|'node:(https?|http2|net|tls|dgram|dns)'/;

/** The files that may: the service worker gets the app's own files, and the local server listens. */
const ALLOWED = [
  'app/offline/service-worker.ts',
  'app/offline/stored-files.ts',
  'cli/listen.ts',
  'cli/static-server.ts',
];

it('only the service worker, which gets the own files, and the local server know the network', () => {
  const files = readdirSync(source, { recursive: true, encoding: 'utf8' }).map((file) =>
    file.replaceAll('\\', '/'),
  );
  const found = files.filter(
    (file) => file.endsWith('.ts') && WAYS_OUT.test(readFileSync(join(source, file), 'utf8')),
  );
  expect(found.filter((file) => !ALLOWED.includes(file))).toEqual([]);
});

it('the page names no other address from which anything would be loaded', () => {
  const page = readFileSync(join(source, 'app', 'index.html'), 'utf8');
  expect([...page.matchAll(/(?:src|href)="(?!\.\/)[^"]*"/g)].map(([found]) => found)).toEqual([]);
  expect(page).not.toMatch(/<script(?![^>]* src=)|\son\w+=/);
});
