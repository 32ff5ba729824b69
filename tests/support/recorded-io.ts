/** Runs a command line in this process and records what it prints, as a terminal without a person would see it. */
import { runCli } from '../../src/cli/run-cli.js';

/** What a command line gave. */
export interface CliResult {
  readonly status: number;
  readonly out: string;
  readonly err: string;
}

/** Runs the words and waits for the end. */
export async function runWords(...words: string[]): Promise<CliResult> {
  let out = '';
  let err = '';
  const status = await runCli(words, {
    out: (text) => (out += text),
    err: (text) => (err += text),
    interactive: false,
    colour: false,
    signal: new AbortController().signal,
  });
  return { status, out, err };
}
