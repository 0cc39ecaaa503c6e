import type { Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { InputError } from '../base/errors.ts';

/** The first port that is tried where none is asked for, and how many after it. */
export const DEFAULT_PORT = 4180;
const PORTS_TRIED = 20;

/**
 * The port that the variable PORT asks for; `undefined` where it is not set.
 * @throws InputError where it is no port number.
 */
export function portFrom(variable: string | undefined): number | undefined {
  if (variable === undefined || variable === '') return undefined;
  const port = Number(variable);
  if (!/^\d+$/.test(variable) || port > 65_535)
    throw new InputError('PORT', `"${variable}" is not a whole number from 0 to 65535`);
  return port;
}

/**
 * Makes the server listen and returns its port. A port that is asked for is taken or refused (0 means any
 * free one); where none is asked for, the first free one from `DEFAULT_PORT` on is taken.
 * @throws InputError where the port or the host cannot be had.
 */
export async function listen(server: Server, host: string, port: number | undefined): Promise<number> {
  const candidates =
    port === undefined ? Array.from({ length: PORTS_TRIED }, (_, i) => DEFAULT_PORT + i) : [port];
  for (const candidate of candidates) {
    const fault = await attempt(server, host, candidate);
    if (fault === undefined) return (server.address() as AddressInfo).port;
    if (fault === 'EADDRINUSE' && port === undefined) continue;
    throw refusal(fault, host, candidate);
  }
  const last = DEFAULT_PORT + PORTS_TRIED - 1;
  throw new InputError(
    'PORT',
    `the ports ${DEFAULT_PORT} to ${last} are all taken; name a free one with PORT`,
  );
}

/** The system's code for why it cannot listen there, or `undefined` where it now listens. */
function attempt(server: Server, host: string, port: number): Promise<string | undefined> {
  return new Promise((resolve) => {
    const settle = (fault?: string) => {
      server.off('error', onError);
      server.off('listening', onListening);
      resolve(fault);
    };
    const onError = (error: NodeJS.ErrnoException) => settle(error.code ?? error.message);
    const onListening = () => settle();
    server.on('error', onError);
    server.on('listening', onListening);
    server.listen(port, host);
  });
}

function refusal(code: string, host: string, port: number): InputError {
  switch (code) {
    case 'EADDRINUSE':
      return new InputError('PORT', `${port} is taken by another program; name a free one with PORT`);
    case 'EACCES':
      return new InputError('PORT', `${port} needs an administrator's rights; name one above 1023 with PORT`);
    case 'EADDRNOTAVAIL':
    case 'ENOTFOUND':
    case 'EAI_AGAIN':
      return new InputError('HOST', `"${host}" is no address of this machine`);
    default:
      return new InputError('PORT', `${port} on ${host} cannot be had (${code})`);
  }
}
