import { spawn } from 'node:child_process';

/** What decides whether a browser can be opened. */
export interface Surroundings {
  readonly platform: NodeJS.Platform;
  readonly isTerminal: boolean;
  readonly variables: Readonly<Record<string, string | undefined>>;
}

/**
 * The program and the words that open an address in the user's browser, or `undefined` where nobody would
 * see it: without a terminal or a display, on a build server, or where BROWSER is "none".
 */
export function browserOpener(
  url: string,
  { platform, isTerminal, variables }: Surroundings,
): readonly [string, ...string[]] | undefined {
  if (!isTerminal || variables.CI || variables.BROWSER === 'none') return undefined;
  if (platform === 'darwin') return ['open', url];
  if (platform === 'win32') return ['cmd', '/c', 'start', '', url];
  const hasDisplay = variables.DISPLAY || variables.WAYLAND_DISPLAY;
  return hasDisplay ? ['xdg-open', url] : undefined;
}

/** Opens the address in the user's browser where there is one; a failure is nobody's concern. */
export function openBrowser(url: string): void {
  const opener = browserOpener(url, {
    platform: process.platform,
    isTerminal: process.stdout.isTTY === true,
    variables: process.env,
  });
  if (opener === undefined) return;
  const [program, ...words] = opener;
  const child = spawn(program, words, { detached: true, stdio: 'ignore' });
  child.on('error', () => {}); // the address stands on the terminal anyway
  child.unref();
}
