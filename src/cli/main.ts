#!/usr/bin/env node
/** The program `trundle`: the only place that touches argv, the streams and the exit status. */
import { runCli } from './run-cli.js';

const stop = new AbortController();
for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => stop.abort());

// Whoever reads may stop early (`| head -2`): what would still be printed is let go, and the work under way (report, log) is finished.
for (const stream of [process.stdout, process.stderr])
  stream.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code !== 'EPIPE') throw error;
  });

process.exitCode = await runCli(process.argv.slice(2), {
  out: (text) => process.stdout.write(text),
  err: (text) => process.stderr.write(text),
  interactive: process.stderr.isTTY === true,
  colour: process.stdout.isTTY === true && !process.env['NO_COLOR'],
  columns: process.stdout.isTTY === true ? process.stdout.columns : undefined,
  signal: stop.signal,
});
