/** Runs a command line in this process and records what it prints, as a terminal without a person would see it. */
import { runCli } from '../../src/cli/run-cli.js';

/** What a command line gave. */
export interface CliResult {
  readonly status: number;
  readonly out: string;
  readonly err: string;
}

/** Who sits at the terminal; nobody unless told. */
export interface Watcher {
  readonly interactive?: boolean;
  readonly signal?: AbortSignal;
  /** Told of every message on standard error. */
  readonly onErr?: (text: string) => void;
}

/** Runs the words and waits for the end. */
export function runWords(...words: string[]): Promise<CliResult> {
  return runWordsWith({}, ...words);
}

/** As `runWords`, with somebody who watches. */
export async function runWordsWith(watcher: Watcher, ...words: string[]): Promise<CliResult> {
  const { interactive = false, signal = new AbortController().signal, onErr = () => {} } = watcher;
  let out = '';
  let err = '';
  const status = await runCli(words, {
    out: (text) => (out += text),
    err: (text) => {
      err += text;
      onErr(text);
    },
    interactive,
    colour: false,
    signal,
  });
  return { status, out, err };
}
