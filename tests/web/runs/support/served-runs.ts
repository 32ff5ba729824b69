/** The routes of the runs on a log in a temporary folder, with clips that a test says are known and events that are written down. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { Hono } from 'hono';
import { DELIVERY_PRESETS } from '../../../../src/judge/index.js';
import { LOG_FILE, openLog, type LogEntry } from '../../../../src/log/index.js';
import { comparisonRoutes, openRuns, runRoutes, type Runs } from '../../../../src/web/runs/index.js';
import type { ClipLookup, KnownClip, WebContext } from '../../../../src/web/server/context.js';
import { answerProblem } from '../../../../src/web/server/problem.js';

/** What a test looks at. */
export interface ServedRuns {
  readonly runs: Runs;
  /** A folder of its own; the log is in its `data`. */
  readonly folder: string;
  readonly dataDir: string;
  /** Checksums of clips that are known. */
  readonly known: Set<string>;
  /** Checksums that were asked for, in order. */
  readonly asked: string[];
  /** Checksums of clips that were let go. */
  readonly forgotten: string[];
  /** Runs of the events, in order. */
  readonly told: (readonly number[])[];
  /** Asks the server. */
  ask(address: string, options?: RequestInit): Promise<Response>;
  /** Puts runs into the log as another program would. @returns their numbers */
  keep(...entries: readonly LogEntry[]): number[];
  /** Closes the log and takes the folder away. */
  end(): void;
}

/** Makes it; there is no log yet. */
export function servedRuns(): ServedRuns {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-web-runs-'));
  const dataDir = path.join(folder, 'data');
  const known = new Set<string>();
  const asked: string[] = [];
  const forgotten: string[] = [];
  const told: (readonly number[])[] = [];
  const closing = new AbortController();
  const clip: KnownClip = {
    id: 'c1',
    name: 'hall.mp4',
    path: path.join(folder, 'hall.mp4'),
    origin: 'folder',
  };
  const clips: ClipLookup = {
    find: () => clip,
    ofSha256(sha256) {
      asked.push(sha256);
      return Promise.resolve(known.has(sha256) ? clip : null);
    },
    remember: () => Promise.resolve(),
    forget: (sha256s) => Promise.resolve(void forgotten.push(...sha256s)),
  };
  const context: WebContext = {
    ...{
      dataDir,
      outDir: path.join(folder, 'reports'),
      folders: [],
      maxUploadBytes: 1,
      presets: DELIVERY_PRESETS,
    },
    // Nothing here reads a clip.
    tools: {} as WebContext['tools'],
    ...{ atOnce: 1, threads: 1, signal: closing.signal },
    events: {
      publish(name, data) {
        if (name === 'log') told.push((data as { readonly runs: readonly number[] }).runs);
      },
    },
  };
  const runs = openRuns(context, clips);
  const app = new Hono().route('/api', runRoutes(runs)).route('/api', comparisonRoutes(runs));
  app.onError((error, request) => answerProblem(request, error));
  return {
    ...{ runs, folder, dataDir, known, asked, forgotten, told },
    ask: async (address, options) => app.request(`http://127.0.0.1/api${address}`, options),
    keep(...entries) {
      const log = openLog(path.join(dataDir, LOG_FILE));
      try {
        return entries.map((entry) => log.add(entry).id);
      } finally {
        log.close();
      }
    },
    end() {
      closing.abort();
      fs.rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** A request with a JSON body. */
export function withBody(method: 'POST' | 'PATCH', body: unknown): RequestInit {
  return { method, body: JSON.stringify(body), headers: { 'Content-Type': 'application/json' } };
}
