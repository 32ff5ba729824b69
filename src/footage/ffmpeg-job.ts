/** Runs one FFmpeg process: raw bytes in or out as streams, its messages as lines, and a stop that leaves no process behind. */
import type { ChildProcess } from 'node:child_process';
import { PassThrough, type Readable } from 'node:stream';
import ffmpeg from 'fluent-ffmpeg';
import { TrundleError } from '../run/index.js';
import { inputLimits, isLimitWord } from './input-limits.js';
import { shareToolEnvironment } from './tool-environment.js';
import type { Tools } from './types.js';

/** What to run; options are arguments one by one, never split. Each input is held to `inputLimits`. */
export interface JobPlan {
  readonly inputOptions: readonly string[];
  /** A path as `ffmpegPath` gives it, or a stream of bytes. */
  readonly input: string | Readable;
  /** Further inputs, numbered from 1. */
  readonly sideInputs?: readonly SideInput[];
  readonly outputOptions: readonly string[];
  /** A path as `ffmpegPath` gives it; without it the bytes come out of `stdout`. */
  readonly output?: string;
  /** Called for each line FFmpeg says. */
  readonly onLine?: (line: string) => void;
}

/** A file read beside the main input. */
export interface SideInput {
  /** As `ffmpegPath` gives it. */
  readonly path: string;
  readonly options: readonly string[];
}

/** A running FFmpeg. */
export interface Job {
  /** Raw bytes; reading slowly slows FFmpeg down. Ends when FFmpeg ends, however it ends. */
  readonly stdout: Readable;
  /** Settles once the process is gone and its last line was heard: null when all went well, else why not. */
  readonly said: Promise<string | null>;
  /** The same once its last byte has also come out, for which somebody has to read `stdout` or stop the job. */
  readonly done: Promise<string | null>;
  /** Kills the process; harmless when it is gone already. */
  stop(): void;
}

const ANSWERS: readonly string[] = ['-hide_banner', '-nostdin', '-nostats', '-loglevel', 'level+info'];
const alive = new Set<ChildProcess>();
let watchesExit = false;

/** Starts FFmpeg. Never throws for what FFmpeg says: see `done`. */
export function startFfmpeg(plan: JobPlan, tools: Tools): Job {
  // Not destroyed by itself: the driver takes the closing of this stream for a wish to kill FFmpeg.
  const stdout = new PassThrough({ autoDestroy: false });
  const command = ffmpeg({ stdoutLines: 40 });
  // The driver keeps one path for the whole process; setting it at each start keeps it right.
  command.setFfmpegPath(tools.ffmpeg.path);
  const kind = typeof plan.input === 'string' ? 'file' : 'pipe';
  command
    .input(plan.input)
    .inputOptions(...ANSWERS, ...inputLimits(kind, plan.inputOptions), ...plan.inputOptions);
  for (const { path, options } of plan.sideInputs ?? [])
    command.input(path).inputOptions(...inputLimits('file', options), ...options);
  command.output(plan.output ?? stdout).outputOptions('-y', ...plan.outputOptions);
  if (plan.onLine) command.on('stderr', plan.onLine);

  let child: ChildProcess | undefined;
  let stopped = false;
  let gone: Promise<void> = Promise.resolve();
  let drained: Promise<void> = Promise.resolve();
  const heard = new Promise<string | null>((resolve) => {
    command.on('end', () => resolve(null));
    command.on('error', (error: Error) => resolve(error.message));
  });
  const kill = () => {
    child?.kill('SIGKILL');
    // Bytes nobody will read would keep the pipe, and with it the event loop, open.
    child?.stdout?.destroy();
  };
  command.on('start', () => {
    child = (command as unknown as { ffmpegProc?: ChildProcess }).ffmpegProc;
    if (!child) return;
    gone = watch(child);
    if (plan.output === undefined) drained = untilDrained(child.stdout);
    if (stopped) kill();
  });
  const said = heard.then(async (message) => {
    await gone;
    return message;
  });
  // The driver calls a command ended when its process is, with the last bytes maybe still in the pipe.
  const done = said.then(async (message) => {
    await drained;
    if (!stdout.writableEnded) stdout.end();
    return message;
  });
  shareToolEnvironment();
  command.run();
  return {
    stdout,
    said,
    done,
    stop() {
      stopped = true;
      kill();
      if (!stdout.writableEnded) stdout.end();
    },
  };
}

/** Resolves when a pipe has given its last byte or was torn down. */
function untilDrained(pipe: Readable | null): Promise<void> {
  if (!pipe || pipe.readableEnded || pipe.destroyed) return Promise.resolve();
  return new Promise((resolve) => {
    pipe
      .once('end', resolve)
      .once('close', resolve)
      .once('error', () => resolve());
  });
}

/** Resolves when the process has left; should this program leave first, it takes the process with it. */
function watch(child: ChildProcess): Promise<void> {
  alive.add(child);
  if (!watchesExit) {
    watchesExit = true;
    process.once('exit', () => alive.forEach((one) => one.kill('SIGKILL')));
  }
  return new Promise((resolve) => {
    const leave = () => {
      alive.delete(child);
      resolve();
    };
    if (child.exitCode !== null || child.signalCode !== null) leave();
    else child.once('exit', leave).once('error', leave);
  });
}

/** Ties a job to an abort signal; the function given back unties it. */
export function stopOnAbort(job: Job, signal: AbortSignal | undefined): () => void {
  const stop = () => job.stop();
  if (signal?.aborted) stop();
  signal?.addEventListener('abort', stop, { once: true });
  return () => signal?.removeEventListener('abort', stop);
}

/** @throws TrundleError 'interrupted' when the signal has fired */
export function refuseIfAborted(signal: AbortSignal | undefined, file: string): void {
  if (signal?.aborted)
    throw new TrundleError('interrupted', `Stopped on request while working on "${file}".`);
}

/** What a line of FFmpeg's messages complains of; null for a line that is no complaint. */
export function faultIn(line: string): string | null {
  const [found, , said] = /^.*\[(error|fatal|panic)\]\s*(.*)$/.exec(line) ?? [];
  return found === undefined || isLimitWord(line) ? null : said.trim();
}
