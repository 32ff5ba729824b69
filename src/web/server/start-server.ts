/** Opens the parts of the server, listens, and closes them in turn. */
import { setMaxListeners } from 'node:events';
import type { Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { joinSeries, type MeasuredRun } from '../../read-measured.js';
import { TrundleError } from '../../run/index.js';
import { openClips, clipRoutes } from '../clips/index.js';
import { jobRoutes, openJobs } from '../jobs/index.js';
import { comparisonRoutes, openRuns, runRoutes, type Runs } from '../runs/index.js';
import { openSetups, setupRoutes } from '../setups/index.js';
import { isActive } from '../is-active.js';
import { aboutRoutes } from './about-routes.js';
import { newToken } from './access.js';
import { createApp } from './app.js';
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
  /** Stops work, streams and listening; resolves when all is closed. */
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
  const clips = await openClips(context);
  const setups = await openSetups(context);
  const runs = openRuns(context, clips);
  const jobs = await openJobs(context, clips, setups);
  const token = newToken();
  let port = 0;
  // Asked each time: a machine joins networks while the server runs.
  const hosts = (): ReadonlySet<string> => hostsOf({ address, port, names });
  const app = createApp({
    access: { token, hosts, cookie: () => `trundle-${port}` },
    files,
    routes: [
      aboutRoutes(context, hub, loopback, () => jobs.snapshot()),
      setupRoutes(setups),
      clipRoutes(clips, { runOf: (id) => measuredRun(runs, id) }, (clip) =>
        jobs.list().some((job) => job.clip === clip && isActive(job)),
      ),
      jobRoutes(jobs, clips),
      runRoutes(runs),
      comparisonRoutes(runs),
    ],
    onFault,
  });
  const closeParts = async (): Promise<void> => {
    closing.abort();
    await Promise.all([jobs.close(), clips.close()]);
    runs.close();
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

/** A run of the log with its series. @throws TrundleError `log-entry-unreadable` for one that was kept without */
function measuredRun(runs: Runs, id: number): MeasuredRun {
  const { run, series, row } = runs.get(id);
  if (series === null)
    throw new TrundleError(
      'log-entry-unreadable',
      `Run ${id} of the log was kept without its series; measure "${row.clipFile}" again.`,
    );
  return joinSeries(run, series, `log:${id}`);
}

/** An address that others on the network can type. */
function firstNetworkName(hosts: ReadonlySet<string>): string {
  const names = [...hosts].map((host) => host.replace(/:\d+$/, ''));
  return names.find((name) => /^\d/.test(name) && !isLoopback(name)) ?? 'localhost';
}
