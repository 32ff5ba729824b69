/** `trundle queue work`: measures clips of the queue until it is interrupted; what is under way is then finished, or given back. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { defineCommand, type ArgsDef } from 'citty';
import { findTools } from '../footage/index.js';
import { clipRulesOf, folderOf, shownClip, USUAL_LOCK_MS, work, type WorkEvent } from '../queue/index.js';
import { EXIT, TrundleError, printable, type ExitStatus } from '../run/index.js';
import { listOf } from '../settings/index.js';
import { queueTexts } from '../texts/index.js';
import { clipsAtOnce } from './clips-at-once.js';
import type { Io } from './io.js';
import { QUEUE_ARGS, msOf, queueOf } from './queue-options.js';
import { clips } from './queue-results.js';

const ARGS = {
  ...QUEUE_ARGS,
  folder: {
    type: 'string',
    valueHint: '/footage',
    description: 'folders that clips may be read from, with all below them, between commas',
  },
  map: {
    type: 'string',
    valueHint: '/footage=/mnt/footage',
    description: 'folders as the machine with the log calls them, and as they are called here',
  },
  allow: {
    type: 'string',
    valueHint: 'https://media.example',
    description: 'servers that clips may be fetched from, between commas',
  },
  'max-fetch': {
    type: 'string',
    valueHint: '200GB',
    description: 'longest clip that is fetched from a server (1TB)',
  },
  'temp-dir': {
    type: 'string',
    valueHint: '/scratch',
    description: 'folder for fetched clips while they are measured',
  },
  jobs: {
    type: 'string',
    valueHint: '2',
    description: 'clips measured at once (as many as cores and free memory allow)',
  },
  lock: {
    type: 'string',
    valueHint: '60s',
    description: 'a worker that is silent for so long loses its clips to others (60s)',
  },
  name: {
    type: 'string',
    valueHint: 'cart-2',
    description: 'name of this worker in lists (machine and process)',
  },
  'until-empty': {
    type: 'boolean',
    description: 'end when no clip waits, runs, or is tried again later, besides those left to other workers',
  },
  quiet: { type: 'boolean', description: 'tell of failures only' },
} as const satisfies ArgsDef;

/** The command; its `run` gives the exit status when it is interrupted or the queue is empty. */
export function queueWorkCommand(io: Io) {
  return defineCommand({
    meta: { name: 'work', description: 'measure clips of the queue on this machine until it is interrupted' },
    args: ARGS,
    async run({ args }): Promise<ExitStatus> {
      const place = queueOf(args);
      const rules = clipRulesOf({
        ...{ maps: listOf(args.map), folders: listOf(args.folder), origins: listOf(args.allow) },
        mostBytes: bytesOf(args['max-fetch']),
      });
      const tempFolder = tempFolderOf(args['temp-dir']);
      const layout = clipsAtOnce(args.jobs, (sentence) => io.err(`${sentence}\n`));
      const giveBack = io.secondInterrupt?.() ?? new AbortController().signal;
      io.signal.addEventListener('abort', () => io.err(`${queueTexts.draining}\n`), { once: true });
      const { measured, failed, returned, left } = await work({
        ...{ ...place, ...layout, rules },
        name: args.name ?? `${os.hostname()}.${process.pid}`,
        tempFolder,
        lockMs: msOf(args.lock, 'lock', USUAL_LOCK_MS, [1, 3600]),
        tools: await findTools(),
        untilEmpty: args['until-empty'] === true,
        ...{ signal: io.signal, giveBack },
        onEvent: (event) => tellEvent(event, args.quiet === true, io),
      });
      io.err(`${queueTexts.workDone(clips(measured), failed, returned, left)}\n`);
      return EXIT.measured;
    },
  });
}

/** Ours is made when it is needed; another one must be there and take files. @throws TrundleError `argument-invalid` */
function tempFolderOf(given: string | undefined): string {
  if (given === undefined) return path.join(os.tmpdir(), 'trundle-queue');
  const { named } = folderOf(given, '--temp-dir');
  try {
    fs.accessSync(named, fs.constants.W_OK | fs.constants.X_OK);
  } catch {
    throw new TrundleError('argument-invalid', queueTexts.takesNoFiles(`--temp-dir ${given}`));
  }
  return named;
}

function tellEvent(event: WorkEvent, quiet: boolean, io: Io): void {
  switch (event.kind) {
    case 'note':
      return io.err(`${printable(event.sentence)}\n`);
    case 'failed':
      return io.err(
        `${printable(shownClip(event))}: ${printable(event.reason)}${event.again ? ' Tried again later.' : ''}\n`,
      );
    case 'left':
      return io.err(`${queueTexts.leftToOthers(printable(shownClip(event)), printable(event.reason))}\n`);
    case 'ready':
      return quiet ? undefined : io.err('Waiting for clips; Ctrl-C ends it.\n');
    case 'begun':
      return quiet ? undefined : io.err(`${printable(event.name)}: begun\n`);
    case 'measured':
      return quiet
        ? undefined
        : io.err(`${printable(event.name)}: ${event.verdict}, in ${event.tookS.toFixed(1)} s\n`);
    case 'stretch':
      return quiet
        ? undefined
        : io.err(`${printable(event.name)}: measured, in ${event.tookS.toFixed(1)} s\n`);
    case 'returned':
      return io.err(`${printable(event.name)}: given back\n`);
  }
}

const BYTES: Readonly<Record<string, number>> = { mb: 1e6, gb: 1e9, tb: 1e12 };

/** @throws TrundleError `argument-invalid` */
function bytesOf(text: string | undefined): number | undefined {
  if (text === undefined) return undefined;
  const [, digits = '', unit = ''] = /^(\d*\.?\d+)\s*([mgt]b)$/i.exec(text.trim()) ?? [];
  const bytes = Math.round(Number(digits) * (BYTES[unit.toLowerCase()] ?? 0));
  if (bytes > 0) return bytes;
  throw new TrundleError('argument-invalid', `"--max-fetch ${text}" must be a size like 500MB or 200GB.`);
}
