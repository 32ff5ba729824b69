#!/usr/bin/env node
/** The program `trundle`: the only place that touches argv, the streams and the exit status. */
import { runCli } from './run-cli.js';

const stop = new AbortController();
for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => stop.abort());

process.exitCode = await runCli(process.argv.slice(2), {
  out: (text) => process.stdout.write(text),
  err: (text) => process.stderr.write(text),
  interactive: process.stderr.isTTY === true,
  colour: process.stdout.isTTY === true && !process.env['NO_COLOR'],
  signal: stop.signal,
});
