/** Options that every `trundle queue` takes, and reading of figures that only they have. */
import type { ArgsDef, ParsedArgs } from 'citty';
import {
  keepPlace,
  openCoordinator,
  queueNameOf,
  redisAddressOf,
  type Coordinator,
  type KeepPlace,
  type RedisAddress,
} from '../queue/index.js';
import { TrundleError, parseDurationS, printable } from '../run/index.js';
import type { Io } from './io.js';
import { placeOfLog } from './log-place.js';

/** Which queue. */
export const QUEUE_ARGS = {
  redis: {
    type: 'string',
    valueHint: 'redis://127.0.0.1:6379',
    description:
      'address of Redis (TRUNDLE_REDIS, or 127.0.0.1:6379); a password belongs into TRUNDLE_REDIS, where others of the machine do not see it',
  },
  queue: {
    type: 'string',
    valueHint: 'clips',
    description: 'name of the queue where there are several (clips)',
  },
} as const satisfies ArgsDef;

/** Where results go. */
export const KEEP_ARGS = {
  'out-dir': { type: 'string', valueHint: 'reports', description: 'folder for the report folders' },
} as const satisfies ArgsDef;

type QueueValues = Partial<ParsedArgs<typeof QUEUE_ARGS>>;

/** The queue of a command line. @throws TrundleError `argument-invalid` */
export function queueOf(args: QueueValues): { readonly address: RedisAddress; readonly queue: string } {
  return { address: redisAddressOf(args.redis, process.env), queue: queueNameOf(args.queue) };
}

/** Opens the queue for the machine with the log, works with it and closes it, whatever happens. @throws as `openCoordinator` and `work` */
export async function withCoordinator<T>(
  args: QueueValues,
  io: Io,
  work: (coordinator: Coordinator) => Promise<T>,
): Promise<T> {
  const coordinator = await openCoordinator({
    ...queueOf(args),
    onNote: (sentence) => io.err(`${printable(sentence)}\n`),
  });
  try {
    return await work(coordinator);
  } finally {
    await coordinator.close();
  }
}

/** Where results of a command line go. */
export function keepPlaceOf(
  args: { readonly 'out-dir'?: string | undefined; readonly 'data-dir'?: string | undefined },
  io: Io,
): KeepPlace {
  return keepPlace({
    logFile: placeOfLog(args['data-dir']),
    outDir: args['out-dir'] ?? 'reports',
    onWarning: ({ code, text }) => io.err(`${printable(text)} [${code}]\n`),
  });
}

/** A whole number within limits. @throws TrundleError `argument-invalid` */
export function wholeOf(
  text: string | undefined,
  option: string,
  usual: number,
  [least, most]: readonly [number, number],
): number {
  if (text === undefined) return usual;
  const value = Number(text);
  if (/^\d+$/.test(text) && value >= least && value <= most) return value;
  throw new TrundleError(
    'argument-invalid',
    `"--${option} ${text}" must be a whole number from ${least} to ${most}.`,
  );
}

/** A time in milliseconds. @throws TrundleError `argument-invalid` */
export function msOf(
  text: string | undefined,
  option: string,
  usualMs: number,
  [leastS, mostS]: readonly [number, number],
): number {
  if (text === undefined) return usualMs;
  const seconds = parseDurationS(text);
  if (seconds >= leastS && seconds <= mostS) return seconds * 1000;
  throw new TrundleError(
    'argument-invalid',
    `"--${option} ${text}" must lie between ${leastS} s and ${mostS} s.`,
  );
}
