#!/usr/bin/env node
/** The program `trundle`: the only place that touches argv, the streams and the exit status. */
import { printable, TrundleError } from '../run/plain.js';
import { tell, type Io } from './io.js';
import { runCli } from './run-cli.js';

const stop = new AbortController();
const INTERRUPTS = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;
// The first one asks for an end that leaves nothing behind; the second finds no listener, and the system ends the program at once.
for (const signal of INTERRUPTS) process.once(signal, () => stop.abort());

/** Raises its signal at the second one, of whatever kind; the third finds no listener. */
function secondInterrupt(): AbortSignal {
  const second = new AbortController();
  let heard = stop.signal.aborted ? 1 : 0;
  const onInterrupt = (): void => {
    heard++;
    if (heard < 2) return;
    for (const signal of INTERRUPTS) process.removeAllListeners(signal);
    second.abort();
  };
  for (const signal of INTERRUPTS) process.on(signal, onInterrupt);
  return second.signal;
}

// Whoever reads may stop early (`| head -2`) or be gone (a terminal that was closed): what would still be printed is let go, and the work
// under way (report, log) is finished. Where the words cannot be kept, as on a full disk, that is told at the end.
const GONE: readonly unknown[] = ['EPIPE', 'EIO'];
let outFailure: NodeJS.ErrnoException | null = null;

/** Streams tell failures by an event, and some of them also by throwing. */
function writer(stream: NodeJS.WriteStream, onFailure: (error: NodeJS.ErrnoException) => void) {
  stream.on('error', onFailure);
  return (text: string): void => {
    try {
      stream.write(text);
    } catch (error) {
      onFailure(error as NodeJS.ErrnoException);
    }
  };
}

const io: Io = {
  out: writer(process.stdout, (error) => {
    if (!GONE.includes(error.code)) outFailure ??= error;
  }),
  // Nobody is left to be told.
  err: writer(process.stderr, () => undefined),
  interactive: process.stderr.isTTY === true,
  colour: process.stdout.isTTY === true && !process.env['NO_COLOR'],
  columns: process.stdout.isTTY === true ? process.stdout.columns : undefined,
  signal: stop.signal,
  secondInterrupt,
};

// What nobody waited for: told like any other fault, in a sentence.
for (const event of ['uncaughtException', 'unhandledRejection'] as const)
  process.on(event, (error: unknown) => process.exit(tell(error, io)));

// Node would print warnings as they are, names of others in them included.
process.removeAllListeners('warning');
process.on('warning', ({ message, code }: NodeJS.ErrnoException) =>
  io.err(`trundle: ${printable(message)}${code === undefined ? '' : ` [${code}]`}\n`),
);

process.exitCode = await runCli(process.argv.slice(2), io);
// What a stream has to complain of comes after the write.
await new Promise<void>((resolve) => process.stdout.write('', () => setImmediate(resolve)));
if (outFailure !== null) process.exitCode = Math.max(process.exitCode, tell(unprinted(outFailure), io));

function unprinted(cause: NodeJS.ErrnoException): TrundleError {
  const why = cause.code === 'ENOSPC' ? 'the disk is full' : cause.message;
  return new TrundleError(
    'output-unwritable',
    `What was to be printed could not be written to standard output (${why}); the report and the log are not touched by that.`,
    { cause },
  );
}
