import type http from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterEach, describe, expect, it } from 'vitest';
import { listen } from '../../../src/web/server/listen.js';

const opened: http.Server[] = [];
afterEach(async () => {
  for (const server of opened.splice(0)) await new Promise((resolve) => server.close(resolve));
});

async function open(port: number, orAny: boolean): Promise<http.Server> {
  const server = await listen(() => new Response('here'), '127.0.0.1', port, orAny);
  opened.push(server);
  return server;
}

const portOf = (server: http.Server): number => (server.address() as AddressInfo).port;

describe('listening', () => {
  it('on a port that is taken fails, or takes another where any will do', async () => {
    const taken = portOf(await open(0, false));
    await expect(open(taken, false)).rejects.toMatchObject({ code: 'port-taken' });
    expect(portOf(await open(taken, true))).not.toBe(taken);
  });

  it('on an address that is not of this machine fails', async () => {
    // TEST-NET-1, RFC 5737: no machine has it.
    await expect(listen(() => new Response(), '192.0.2.1', 0, true)).rejects.toMatchObject({
      code: 'port-taken',
    });
  });

  it('gives a request as a whole all the time it needs, and ends a connection over which nothing goes', async () => {
    const server = await open(0, false);
    // Node would cut a large clip over a slow network after 5 minutes.
    expect(server.requestTimeout).toBe(0);
    expect(server.timeout).toBeGreaterThan(0);
  });
});
