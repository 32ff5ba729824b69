/** Opens the parts of the server over one data folder and puts them together; no socket is opened here. */
import type { Hono } from 'hono';
import { joinSeries, type MeasuredRun } from '../../read-measured.js';
import { TrundleError } from '../../run/index.js';
import { clipRoutes, openClips } from '../clips/index.js';
import { isActive } from '../is-active.js';
import { jobRoutes, openJobs, type JobQueue, type WorkerMeans } from '../jobs/index.js';
import { comparisonRoutes, openRuns, runRoutes, type Runs } from '../runs/index.js';
import { openSetups, setupRoutes } from '../setups/index.js';
import { aboutRoutes } from './about-routes.js';
import type { AccessRules } from './access.js';
import { createApp } from './app.js';
import type { WebContext } from './context.js';
import type { PageEventHub } from './event-stream.js';
import type { PageFiles } from './page-files.js';

/** What the parts work with. */
export interface AssemblyOptions {
  readonly context: WebContext;
  readonly hub: PageEventHub;
  readonly access: AccessRules;
  readonly files: PageFiles;
  /** Only this machine can reach the page. */
  readonly loopback: boolean;
  readonly onFault: (error: unknown) => void;
  /** Other workers than the program's own. */
  readonly workers?: WorkerMeans;
}

/** The server without its socket. */
export interface Assembly {
  readonly app: Hono;
  readonly jobs: JobQueue;
  /** Ends the parts once the signal of the context was raised: what waited or ran is kept. */
  close(): Promise<void>;
}

/**
 * Opens them.
 * @throws TrundleError codes of the log; `output-unwritable` where a list of the data folder may not be read
 */
export async function assemble(options: AssemblyOptions): Promise<Assembly> {
  const { context, hub, access, files, loopback, onFault, workers } = options;
  const clips = await openClips(context);
  const setups = await openSetups(context);
  const runs = openRuns(context, clips);
  const jobs = await openJobs(context, clips, setups, workers);
  const isBusy = (clip: string): boolean => jobs.list().some((job) => job.clip === clip && isActive(job));
  const routes = [
    aboutRoutes(context, hub, loopback, () => jobs.snapshot()),
    setupRoutes(setups),
    clipRoutes(clips, { runOf: (id) => measuredRun(runs, id) }, isBusy),
    jobRoutes(jobs, clips),
    runRoutes(runs),
    comparisonRoutes(runs),
  ];
  return {
    app: createApp({ access, files, routes, onFault }),
    jobs,
    async close() {
      await Promise.all([jobs.close(), clips.close()]);
      runs.close();
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
