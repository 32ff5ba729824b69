/** Holds the data folder, opens the parts of the server, listens, and closes all in turn. */
import { setMaxListeners } from 'node:events';
import type { Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { isActive } from '../is-active.js';
import { newToken } from './access.js';
import { assemble, type Assembly } from './assemble.js';
import type { WebContext } from './context.js';
import { holdDataFolder } from './data-folder-hold.js';
import { PageEventHub } from './event-stream.js';
import { bracketed, hostsOf, isEverywhere, isLoopback } from './hosts.js';
import { listen } from './listen.js';
import { PageFiles } from './page-files.js';

/** Where to listen and with what. */
export interface ServerOptions extends Omit<WebContext, 'events' | 'signal'> {
  /** Loopback unless asked otherwise. */
  readonly address: string;
  /** 0 for any that is free. */
  readonly port: number;
  /** Where the port is taken, any that is free will do. */
  readonly orAnyPort: boolean;
  /** Further names that the crew reaches it by. */
  readonly names: readonly string[];
  readonly onFault: (error: unknown) => void;
}

/** A server that listens. */
export interface RunningServer {
  /** With the token, to be opened once. */
  readonly address: string;
  readonly port: number;
  readonly loopback: boolean;
  /** Measurements that wait or run. */
  readonly busy: () => number;
  /** Stops work, streams and listening; resolves when all is closed. What waited or ran is kept for the next time. */
  close(): Promise<void>;
}

/**
 * Starts the server.
 *
 * @throws TrundleError `port-taken` where the port or address cannot be listened on, `page-missing` where the page was not built,
 *   `data-in-use` where the data folder is served already; codes of the log
 */
export async function startServer({
  address,
  names,
  onFault,
  ...options
}: ServerOptions): Promise<RunningServer> {
  const files = PageFiles.read();
  const letGo = await holdDataFolder(options.dataDir);
  const closing = new AbortController();
  // Every open page listens for it.
  setMaxListeners(0, closing.signal);
  const hub = new PageEventHub();
  const context: WebContext = { ...options, events: hub, signal: closing.signal };
  const loopback = isLoopback(address);
  const token = newToken();
  let port = 0;
  // Asked each time: a machine joins networks while the server runs.
  const hosts = (): ReadonlySet<string> => hostsOf({ address, port, names });
  const access = { token, hosts, cookie: () => `trundle-${port}` };
  let parts: Assembly;
  try {
    parts = await assemble({ context, hub, access, files, loopback, onFault });
  } catch (error) {
    closing.abort();
    await letGo();
    throw error;
  }
  const { app, jobs } = parts;
  const closeParts = async (): Promise<void> => {
    closing.abort();
    await parts.close();
    await letGo();
  };
  let server: Server;
  try {
    server = await listen(app.fetch, address, options.port, options.orAnyPort);
  } catch (error) {
    await closeParts();
    throw error;
  }
  port = (server.address() as AddressInfo).port;
  jobs.goOn();
  const shown = isEverywhere(address) ? (names[0] ?? firstNetworkName(hosts())) : address;
  return {
    address: `http://${bracketed(shown)}:${port}/?token=${token}`,
    port,
    loopback,
    busy: () => jobs.list().filter(isActive).length,
    async close() {
      const closed = new Promise<void>((resolve) => server.close(() => resolve()));
      await closeParts();
      server.closeAllConnections();
      await closed;
    },
  };
}

/** An address that others on the network can type. */
function firstNetworkName(hosts: ReadonlySet<string>): string {
  const names = [...hosts].map((host) => host.replace(/:\d+$/, ''));
  return names.find((name) => /^\d/.test(name) && !isLoopback(name)) ?? 'localhost';
}
