/** Puts the server on an address and port of this machine. */
import type { Server } from 'node:http';
import { serve } from '@hono/node-server';
import { TrundleError } from '../../run/index.js';
import { bracketed } from './hosts.js';

/**
 * A connection over which nothing went for so long is ended, ms. A request as a whole may take as long as it likes: a large clip over a
 * slow network takes hours.
 */
const IDLE_MS = 15 * 60_000;

/**
 * Listens.
 *
 * @param port 0 for any that is free
 * @param orAny where the port is taken, any that is free will do
 * @throws TrundleError `port-taken` where the port or address cannot be listened on
 */
export function listen(
  fetch: Parameters<typeof serve>[0]['fetch'],
  hostname: string,
  port: number,
  orAny: boolean,
): Promise<Server> {
  return new Promise((resolve, reject) => {
    const serverOptions = { requestTimeout: 0 };
    const server = serve({ fetch, hostname, port, serverOptions }, () => resolve(server)) as Server;
    server.setTimeout(IDLE_MS);
    server.once('error', (error: NodeJS.ErrnoException) => {
      if (error.code === 'EADDRINUSE' && orAny) resolve(listen(fetch, hostname, 0, false));
      else reject(cannotListen(error, hostname, port));
    });
  });
}

function cannotListen(cause: NodeJS.ErrnoException, address: string, port: number): TrundleError {
  const place = `${bracketed(address)}:${port}`;
  const why: Readonly<Record<string, string>> = {
    EADDRINUSE: `The port of ${place} is taken by another program; choose another with --port, or 0 for any.`,
    EACCES: `This user may not listen on ${place}; choose a port from 1024 up with --port.`,
    EADDRNOTAVAIL: `This machine has no address "${address}"; give one of its own with --listen.`,
  };
  return new TrundleError(
    'port-taken',
    why[cause.code ?? ''] ?? `${place} cannot be listened on: ${cause.message}.`,
    {
      cause,
    },
  );
}
