import { existsSync, mkdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

/** Where a Chromium is and how to start it. */
export interface ChromiumLaunch {
  readonly executablePath: string;
  readonly args: string[];
}

const INSTALLED = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];

const ARGUMENTS = [
  '--no-sandbox', // the tests may run as root, where Chromium refuses its sandbox
  '--disable-gpu',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--no-first-run',
];

/**
 * Finds a Chromium: `CHROME_PATH`, then an installed one, then the one that the package
 * `@sparticuz/chromium` carries (unpacked on first use under node_modules/.cache).
 */
export async function findChromium(): Promise<ChromiumLaunch> {
  const named = process.env.CHROME_PATH;
  if (named) return { executablePath: named, args: ARGUMENTS };
  const installed = INSTALLED.find((path) => existsSync(path));
  if (installed) return { executablePath: installed, args: ARGUMENTS };
  return { executablePath: await unpackCarried(), args: ARGUMENTS };
}

async function unpackCarried(): Promise<string> {
  const folder = fileURLToPath(new URL('../../node_modules/.cache/chromium', import.meta.url));
  mkdirSync(folder, { recursive: true });
  const before = process.env.TMPDIR;
  process.env.TMPDIR = folder; // the package unpacks into os.tmpdir() under a name without a version
  try {
    const { default: chromium } = await import('@sparticuz/chromium');
    return await chromium.executablePath();
  } finally {
    if (before === undefined) delete process.env.TMPDIR;
    else process.env.TMPDIR = before;
  }
}
