/** `trundle serve`: the local page, on which a pass is measured, compared and logged without a command line. */
import fs from 'node:fs';
import { isIP } from 'node:net';
import os from 'node:os';
import path from 'node:path';
import { defineCommand, type ArgsDef } from 'citty';
import { findTools } from '../footage/index.js';
import { EXIT, TrundleError, type ExitStatus } from '../run/index.js';
import { isLoopback, startServer } from '../web/index.js';
import { COMMAND_META } from './command-meta.js';
import type { Io } from './io.js';
import { knownDeliveries } from './deliveries-file.js';
import { listOf } from '../settings/index.js';
import { DATA_ARGS, placeOfLog } from './log-place.js';
import { showInBrowser } from './show-in-browser.js';

/** Of the page unless another one is asked for; nothing well known is there. */
const USUAL_PORT = 4170;
/** Largest clip that is taken as an upload unless set, GB. */
const USUAL_UPLOAD_GB = 20;
/** Threads that a measurement uses with profit. */
const THREADS_EACH = 2;

const ARGS = {
  folder: {
    type: 'string',
    valueHint: '/media/card,~/rushes',
    description:
      'folders that clips may be taken from, with all below them (this folder and the usual ones for videos)',
  },
  'out-dir': { type: 'string', valueHint: 'reports', description: 'folder for the report folders' },
  port: { type: 'string', valueHint: '4170', description: 'port to listen on, 0 for any (4170, else any)' },
  listen: {
    type: 'string',
    valueHint: '127.0.0.1',
    description:
      'address to listen on; others than 127.0.0.1 let the network in, always with the token (127.0.0.1)',
  },
  name: {
    type: 'string',
    valueHint: 'cart.local',
    description: 'further names that others reach this machine by, between commas',
  },
  'max-upload': { type: 'string', valueHint: '20GB', description: 'largest clip that is taken (20GB)' },
  'at-once': {
    type: 'string',
    valueHint: '1',
    description: 'clips measured at once (one for every two cores)',
  },
  view: { type: 'boolean', description: 'show the page with the browser of this machine' },
  ...DATA_ARGS,
} as const satisfies ArgsDef;

/** The command; its `run` gives the exit status when it is interrupted. */
export function serveCommand(io: Io) {
  return defineCommand({
    meta: COMMAND_META.serve,
    args: ARGS,
    async run({ args }): Promise<ExitStatus> {
      const port = portOf(args.port);
      const maxUploadBytes = bytesOf(args['max-upload']);
      const { atOnce, threads } = atOnceOf(args['at-once']);
      const address = addressOf(args.listen);
      const dataDir = path.dirname(placeOfLog(args['data-dir']));
      const outDir = path.resolve(args['out-dir'] ?? 'reports');
      const server = await startServer({
        ...{ address, port: port ?? USUAL_PORT, orAnyPort: port === undefined },
        names: listOf(args.name),
        ...{ dataDir, outDir, folders: foldersOf(args.folder), maxUploadBytes, atOnce, threads },
        tools: await findTools(),
        presets: knownDeliveries(undefined, args['data-dir']).presets,
        onFault: (error) => io.err(`A fault of the program: ${faultOf(error)}\n`),
      });
      io.out(`${server.address}\n`);
      io.err(
        'Open this address in a browser on this machine; it is good until the program ends. Ctrl-C ends it.\n',
      );
      if (!isLoopback(address))
        io.err(
          'Everybody on the network who has this address can measure, see and remove runs; it is not encrypted. Use it on a network that you trust.\n',
        );
      const left = server.busy();
      if (left > 0) io.err(`${jobsOf(left)} left from before; the program goes on with them.\n`);
      if (args.view) await showInBrowser(server.address);
      await interruption(io.signal);
      const busy = server.busy();
      if (busy > 0)
        io.err(`${jobsOf(busy)} kept: started again with this data folder, the program goes on with them.\n`);
      await server.close();
      return EXIT.measured;
    },
  });
}

function jobsOf(count: number): string {
  return count === 1 ? '1 measurement is' : `${count} measurements are`;
}

function interruption(signal: AbortSignal): Promise<void> {
  return new Promise((resolve) => {
    if (signal.aborted) resolve();
    else signal.addEventListener('abort', () => resolve(), { once: true });
  });
}

/** The address to listen on; a name, or a number that stands for another address, could mean more than it says. @throws TrundleError `argument-invalid` */
function addressOf(text = '127.0.0.1'): string {
  const address = text.replace(/^\[(.*)\]$/, '$1');
  if (address === 'localhost' || isIP(address) !== 0) return address;
  throw new TrundleError(
    'argument-invalid',
    `"--listen ${text}" must be an address of this machine, like 127.0.0.1, or 0.0.0.0 for all of them.`,
  );
}

/** The port asked for; undefined when none is. @throws TrundleError `argument-invalid` */
function portOf(text: string | undefined): number | undefined {
  if (text === undefined) return undefined;
  const port = Number(text);
  if (!/^\d+$/.test(text) || port > 65535)
    throw new TrundleError('argument-invalid', `"--port ${text}" must be a whole number from 0 to 65535.`);
  return port;
}

const BYTES: Readonly<Record<string, number>> = { mb: 1e6, gb: 1e9, tb: 1e12 };

/** @throws TrundleError `argument-invalid` */
function bytesOf(text = `${USUAL_UPLOAD_GB}GB`): number {
  const [, digits = '', unit = ''] = /^(\d*\.?\d+)\s*([mgt]b)$/i.exec(text.trim()) ?? [];
  const bytes = Math.round(Number(digits) * (BYTES[unit.toLowerCase()] ?? 0));
  if (!(bytes > 0))
    throw new TrundleError('argument-invalid', `"--max-upload ${text}" must be a size like 500MB or 20GB.`);
  return bytes;
}

/** No more work at once than there are cores. @throws TrundleError `argument-invalid` */
function atOnceOf(text: string | undefined): { atOnce: number; threads: number } {
  const cores = os.availableParallelism();
  const usual = Math.max(1, Math.floor(cores / THREADS_EACH));
  const atOnce = text === undefined ? usual : Number(text);
  if (text !== undefined && !(/^\d+$/.test(text) && atOnce >= 1 && atOnce <= cores))
    throw new TrundleError(
      'argument-invalid',
      `"--at-once ${text}" must be a whole number from 1 to ${cores}, the cores of this machine.`,
    );
  return { atOnce, threads: Math.max(1, Math.min(THREADS_EACH, Math.floor(cores / atOnce))) };
}

/** Folders for videos by the custom of the systems. */
const USUAL_FOLDERS = ['Videos', 'Movies', 'Desktop', 'Downloads'];

/**
 * The folders that clips may be taken from, by their real paths.
 * @throws TrundleError `argument-invalid` where one that is named is none
 */
function foldersOf(text: string | undefined): { id: string; name: string; path: string }[] {
  const home = os.homedir();
  const named = listOf(text).map((folder) => folder.replace(/^~(?=$|[/\\])/, home));
  const usual = [process.cwd(), ...USUAL_FOLDERS.map((name) => path.join(home, name))];
  const real = (named.length > 0 ? named : usual.filter((folder) => fs.existsSync(folder))).map((folder) => {
    if (fs.statSync(folder, { throwIfNoEntry: false })?.isDirectory()) return fs.realpathSync(folder);
    throw new TrundleError('argument-invalid', `"--folder ${folder}" is not a folder; check the path.`);
  });
  return [...new Set(real)].map((folder, i) => ({
    id: String(i + 1),
    name: path.basename(folder) || folder,
    path: folder,
  }));
}

function faultOf(error: unknown): string {
  if (!(error instanceof Error)) return String(error);
  return process.env['TRUNDLE_DEBUG'] ? (error.stack ?? error.message) : error.message;
}
