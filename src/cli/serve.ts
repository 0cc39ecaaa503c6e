import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { InputError } from '../base/errors.ts';
import { listen, portFrom } from './listen.ts';
import { openBrowser } from './open-browser.ts';
import { staticServer } from './static-server.ts';

/** Serves the built app on this machine: `npm start`, with HOST and PORT from the environment. */
async function serve(): Promise<void> {
  const folder = fileURLToPath(new URL('../app', import.meta.url));
  if (!existsSync(`${folder}/index.html`))
    throw new InputError('', 'the app is not built yet; "npm run build" builds it');
  const host = process.env.HOST || '127.0.0.1';
  const server = staticServer(folder);
  const port = await listen(server, host, portFrom(process.env.PORT));
  const url = `http://${host.includes(':') ? `[${host}]` : host}:${port}/`;
  process.stdout.write(`Coatwright is at ${url}  (Ctrl-C ends it)\n`);
  openBrowser(url);

  const end = () => {
    server.close(() => process.exit(0));
    server.closeAllConnections();
  };
  process.on('SIGINT', end);
  process.on('SIGTERM', end);
}

try {
  await serve();
} catch (error) {
  process.stderr.write(`coatwright: ${error instanceof Error ? error.message : String(error)}\n`);
  process.exitCode = 1;
}
