/** The whole server without its socket over a folder of its own: a log with two runs, a clip that may be taken, a secret beside it that may not. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { setMaxListeners } from 'node:events';
import { DELIVERY_PRESETS } from '../../../../src/judge/index.js';
import { LOG_FILE, openLog } from '../../../../src/log/index.js';
import { newToken } from '../../../../src/web/server/access.js';
import { assemble, type Assembly } from '../../../../src/web/server/assemble.js';
import type { WebContext } from '../../../../src/web/server/context.js';
import { PageEventHub } from '../../../../src/web/server/event-stream.js';
import { PageFiles } from '../../../../src/web/server/page-files.js';
import { madeUpEntry } from '../../../log/support/made-up-entry.js';
import { CORRIDOR, tools } from '../../../web/clips/support/clip-server.js';
import { writeFakeWorker } from '../../../web/jobs/support/fake-worker.js';

export const HOST = '127.0.0.1:4170';
/** Stands in a file beside the folder that clips may be taken from. */
export const SECRET = 'the key of the van is under the mat';
/** A name as somebody chooses it who means harm. */
export const HOSTILE = '"><img src=x onerror=alert(1)><script>alert(2)</script>\u202e';

/** What a request is made of; the token goes along as a cookie unless headers say otherwise. */
export interface Asked {
  readonly method?: string;
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: string | Uint8Array<ArrayBuffer>;
}

/** The server under test. */
export interface AssembledServer extends Assembly {
  readonly folder: string;
  readonly dataDir: string;
  readonly token: string;
  readonly hub: PageEventHub;
  /** Faults of the program that were told. */
  readonly faults: readonly unknown[];
  ask(place: string, asked?: Asked): Promise<Response>;
  /** Everything on the disk and in the queue that a request could have changed. */
  state(): string;
  end(): Promise<void>;
}

/** Opens it; `card/pass.mp4` may be taken, id of the folder "card". */
export async function assembledServer(changes: Partial<WebContext> = {}): Promise<AssembledServer> {
  const folder = fs.realpathSync(fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-assembled-')));
  const at = (...parts: string[]): string => path.join(folder, ...parts);
  const dataDir = at('data');
  for (const name of ['card', 'card/.hidden', 'page', 'private']) fs.mkdirSync(at(name));
  fs.copyFileSync(CORRIDOR, at('card/pass.mp4'));
  fs.copyFileSync(CORRIDOR, at('card/.hidden/pass.mp4'));
  fs.writeFileSync(at('private/secret.mp4'), SECRET);
  fs.symlinkSync(at('private/secret.mp4'), at('card/way out.mp4'));
  fs.symlinkSync(at('private'), at('card/way out'));
  fs.writeFileSync(at('page/main.js'), 'void 0;');
  const log = openLog(path.join(dataDir, LOG_FILE));
  log.add(madeUpEntry({ clipFile: `${HOSTILE}.mov`, pass: { setup: HOSTILE, notes: HOSTILE } }));
  log.add(madeUpEntry({ series: null, clipSha256: 'c'.repeat(64) }));
  log.close();

  const closing = new AbortController();
  setMaxListeners(0, closing.signal);
  const hub = new PageEventHub();
  const context: WebContext = {
    ...{ dataDir, outDir: at('reports'), maxUploadBytes: 5e6, tools, presets: DELIVERY_PRESETS },
    folders: [{ id: 'card', name: 'card', path: at('card') }],
    ...{ atOnce: 0, threads: 1, events: hub, signal: closing.signal },
    ...changes,
  };
  const token = newToken();
  const faults: unknown[] = [];
  const assembly = await assemble({
    ...{ context, hub, loopback: true, files: PageFiles.read([at('page')]) },
    access: { token, hosts: () => new Set([HOST]), cookie: () => 'trundle-4170' },
    onFault: (error) => faults.push(error),
    workers: { url: writeFakeWorker(folder), graceMs: 300 },
  });
  const cookie = { Host: HOST, Cookie: `trundle-4170=${token}` };
  return {
    ...assembly,
    ...{ folder, dataDir, token, hub, faults },
    ask: async (place, { method = 'GET', headers = {}, body } = {}) =>
      assembly.app.request(`http://${HOST}${place}`, {
        method,
        headers: { ...cookie, ...headers },
        ...(body !== undefined && { body }),
      }),
    state: () => JSON.stringify([filesOf(folder), assembly.jobs.list()]),
    async end() {
      closing.abort();
      await assembly.close();
      fs.rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** Name, size and time of every file; the companions of the log change by being read. */
function filesOf(folder: string): unknown {
  return fs
    .readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && !/-(wal|shm)$/.test(entry.name))
    .map((entry) => path.join(entry.parentPath, entry.name))
    .map((file) => [file, fs.statSync(file).size, fs.statSync(file).mtimeMs]);
}
