/** Puts the server on an address and port of this machine, and answers what is no request. */
import { STATUS_CODES, createServer, type IncomingMessage, type Server } from 'node:http';
import type { Duplex } from 'node:stream';
import { getRequestListener } from '@hono/node-server';
import { TrundleError } from '../../run/index.js';
import { serverTexts } from '../../texts/index.js';
import { bracketed } from './hosts.js';

/** How long others may take, ms, and how many may be there. */
export interface ListenLimits {
  /** A connection over which nothing went for so long is ended; a clip as a whole may take hours over a slow network. */
  readonly idleMs: number;
  /** For the address and headers of a request. */
  readonly headMs: number;
  /** For the body of a request that brings no clip. */
  readonly orderMs: number;
  /** Between two looks at who is late. */
  readonly lookMs: number;
  readonly mostConnections: number;
}

const LIMITS: ListenLimits = {
  idleMs: 15 * 60_000,
  headMs: 20_000,
  orderMs: 30_000,
  lookMs: 5000,
  mostConnections: 512,
};

/**
 * Listens.
 *
 * @param port 0 for any that is free
 * @param orAny where the port is taken, any that is free will do
 * @throws TrundleError `port-taken` where the port or address cannot be listened on
 */
export function listen(
  fetch: Parameters<typeof getRequestListener>[0],
  hostname: string,
  port: number,
  orAny: boolean,
  limits: ListenLimits = LIMITS,
): Promise<Server> {
  const { idleMs, headMs, orderMs, lookMs, mostConnections } = limits;
  const answer = getRequestListener(fetch, { hostname, errorHandler: () => plainAnswer(400) });
  // Node would cut a large clip after minutes, and with that limit off would wait for headers without end.
  const times = { requestTimeout: 0, headersTimeout: headMs, connectionsCheckingInterval: lookMs };
  // The guard refuses a request without a host in words, Node would without.
  const server = createServer({ ...times, requireHostHeader: false }, (incoming, outgoing) => {
    limitOrder(incoming, orderMs);
    void answer(incoming, outgoing);
  });
  server.setTimeout(idleMs);
  server.maxConnections = mostConnections;
  server.on('clientError', refuse);
  return new Promise((resolve, reject) => {
    server.once('error', (error: NodeJS.ErrnoException) => {
      if (error.code === 'EADDRINUSE' && orAny) resolve(listen(fetch, hostname, 0, false, limits));
      else reject(cannotListen(error, hostname, port));
    });
    server.listen(port, hostname, () => resolve(server));
  });
}

/** A clip comes by PUT and takes its time; everything else is small. */
function limitOrder(incoming: IncomingMessage, orderMs: number): void {
  if (incoming.method === 'PUT') return;
  const timer = setTimeout(() => !incoming.complete && incoming.destroy(), orderMs).unref();
  incoming.once('close', () => clearTimeout(timer));
}

/** By the codes of Node; what else there is is no request that can be read. */
const STATUS_OF: Readonly<Record<string, keyof typeof SENTENCES>> = {
  HPE_HEADER_OVERFLOW: 431,
  ERR_HTTP_REQUEST_TIMEOUT: 408,
};
const SENTENCES = {
  400: serverTexts.unreadable,
  408: serverTexts.tooSlow,
  431: serverTexts.headTooLarge,
} as const;

/** Answers what could not be read as a request with a plain sentence, and ends the connection. */
function refuse(error: NodeJS.ErrnoException, socket: Duplex): void {
  // An answer that is under way must not get another one into its middle; Node looks at the same field.
  const { _httpMessage: underWay } = socket as { _httpMessage?: { headersSent?: boolean } };
  if (error.code === 'ECONNRESET' || !socket.writable || underWay?.headersSent === true) {
    socket.destroy();
    return;
  }
  const status = STATUS_OF[error.code ?? ''] ?? 400;
  const sentence = `${SENTENCES[status]}\n`;
  const head = [
    `HTTP/1.1 ${status} ${STATUS_CODES[status]}`,
    ...Object.entries(LAST_HEADERS).map(([name, value]) => `${name}: ${value}`),
    `Content-Length: ${Buffer.byteLength(sentence)}`,
  ];
  socket.end(`${head.join('\r\n')}\r\n\r\n${sentence}`, () => socket.destroy());
}

/** Of the last answer on a connection. */
const LAST_HEADERS = {
  Connection: 'close',
  'Content-Type': 'text/plain; charset=utf-8',
  'X-Content-Type-Options': 'nosniff',
  'Cache-Control': 'no-store',
} as const;

/** For a request of which no address can be made, before the guard sees it. */
function plainAnswer(status: 400): Response {
  return new Response(`${SENTENCES[status]}\n`, { status, headers: LAST_HEADERS });
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
