/** Runs one FFmpeg process: raw bytes in or out as streams, its messages as lines, and a stop that leaves no process behind. */
import type { ChildProcess } from 'node:child_process';
import { PassThrough, type Readable } from 'node:stream';
import ffmpeg from 'fluent-ffmpeg';
import { TrundleError } from '../run/index.js';
import { quoted } from './clip-path.js';
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
  /** How the process broke off when neither it nor this program meant it to; null otherwise, and as long as it runs. */
  brokeOff(): BreakOff | null;
  /** Kills the process; harmless when it is gone already. */
  stop(): void;
}

/** A process that was ended by a signal from outside or by its own crash, or that gave no sign of life and was ended for that. */
export type BreakOff =
  | { readonly signal: string }
  | { readonly silentS: number }
  /** It never started: why. */
  | { readonly unstarted: string };

/** A silence of FFmpeg longer than this is no work any more, s: long seeks in large files stay below it. */
const SILENCE_S = 120;
/** An encoder that was given everything may move the whole file once more before it is done: so many times longer. */
const FINISHING = 10;
/** How often FFmpeg is looked at in that time. */
const LOOKS = 20;

/** Longest silence of FFmpeg and ffprobe that is waited through, s: TRUNDLE_FFMPEG_SILENCE_S where it is a number, else two minutes. */
export function silenceLimitS(): number {
  const set = Number(process.env['TRUNDLE_FFMPEG_SILENCE_S']);
  return set > 0 && Number.isFinite(set) ? set : SILENCE_S;
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
  // What formats and encoders there are, the driver would ask FFmpeg by processes of its own, which nobody could stop.
  Object.assign(command, { _checkCapabilities: answerNothing, availableEncoders: answerNoEncoders });
  giveLinesAlways(command as unknown as Spawning);

  let child: ChildProcess | undefined;
  let stopped = false;
  let silentS: number | null = null;
  let unstarted: string | null = null;
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
    child.once('error', ({ message }) => (unstarted = message));
    const end = endAfterSilence(child, plan, stdout, (seconds) => {
      silentS = seconds;
      kill();
    });
    child.once('exit', end).once('error', end);
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
    brokeOff() {
      if (silentS !== null) return { silentS };
      if (unstarted !== null) return { unstarted };
      const signal = stopped || !child ? null : signalOf(child);
      return signal === null ? null : { signal };
    },
    stop() {
      stopped = true;
      kill();
      if (!stdout.writableEnded) stdout.end();
    },
  };
}

function answerNothing(answer: (failure: null) => void): void {
  answer(null);
}

function answerNoEncoders(answer: (failure: null, encoders: object) => void): void {
  answer(null, {});
}

interface Lines {
  get(): string;
}
type OnEnd = (failure: Error | null, said?: Lines, complained?: Lines) => void;
interface Spawning {
  _spawnFfmpeg: (args: unknown, options: unknown, onProcess: unknown, onEnd: OnEnd) => void;
}
const NO_LINES: Lines = { get: () => '' };

/** The driver asks for what a process has said even where none could be started, and falls over that. */
function giveLinesAlways(command: Spawning): void {
  const spawn = command._spawnFfmpeg.bind(command);
  command._spawnFfmpeg = (args, options, onProcess, onEnd) =>
    spawn(args, options, onProcess, (failure, said = NO_LINES, complained = NO_LINES) =>
      onEnd(failure, said, complained),
    );
}

/**
 * Calls `tooLong` once a process has neither said, given nor taken anything for the longest silence. Waiting for this program, to read what
 * is there or to hand over a frame, is no silence; nor is the time in which this program, or the machine, sleeps.
 * @returns ends the watch
 */
function endAfterSilence(
  child: ChildProcess,
  { input, output }: JobPlan,
  stdout: PassThrough,
  tooLong: (seconds: number) => void,
): () => void {
  const limitS = silenceLimitS();
  let signs = -1;
  let silentLooks = 0;
  const look = (): void => {
    const pipes = [child.stdout, child.stderr] as unknown as readonly ({ bytesRead?: number } | null)[];
    const given = pipes.reduce((sum, pipe) => sum + (pipe?.bytesRead ?? 0), 0);
    const taken = child.stdin as unknown as { bytesWritten?: number; writableLength: number } | null;
    const now = given + (taken?.bytesWritten ?? 0) - (taken?.writableLength ?? 0);
    const isFed = typeof input === 'string' || input.readableEnded;
    const waitsForUs =
      (output === undefined && stdout.readableLength > 0) || (!isFed && taken?.writableLength === 0);
    silentLooks = waitsForUs || now !== signs ? 0 : silentLooks + 1;
    signs = now;
    const patience = output !== undefined && isFed ? FINISHING : 1;
    if (silentLooks > LOOKS * patience) tooLong(limitS * patience);
  };
  const timer = setInterval(look, (limitS * 1000) / LOOKS);
  return () => clearInterval(timer);
}

/** Statuses with which a shell that wraps FFmpeg tells that a signal ended it: 128 and the number of the signal. */
const SHELL_STATUS: Readonly<Record<number, string>> = {
  132: 'SIGILL',
  134: 'SIGABRT',
  135: 'SIGBUS',
  136: 'SIGFPE',
  137: 'SIGKILL',
  139: 'SIGSEGV',
  143: 'SIGTERM',
};

/** The signal that ended a process, also where a shell tells it for another one; null when none did. */
export function signalOf({
  exitCode,
  signalCode,
}: Pick<ChildProcess, 'exitCode' | 'signalCode'>): string | null {
  return signalCode ?? (exitCode === null ? null : (SHELL_STATUS[exitCode] ?? null));
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

/** @throws TrundleError 'ffmpeg-broke-off' when the process of a job broke off, whatever it has given until then */
export function refuseIfBrokenOff(job: Job, file: string): void {
  const how = job.brokeOff();
  if (how) throw brokenOff('FFmpeg', how, file);
}

/** Signals that a program raises itself, by a fault of its own. */
const CRASHES: readonly string[] = ['SIGSEGV', 'SIGABRT', 'SIGBUS', 'SIGILL', 'SIGFPE', 'SIGTRAP', 'SIGSYS'];

/** The failure of a program that broke off, with what to do about it. */
export function brokenOff(program: 'FFmpeg' | 'ffprobe', how: BreakOff, file: string): TrundleError {
  if ('unstarted' in how)
    return new TrundleError(
      'ffmpeg-broke-off',
      `${program} could not be started for ${quoted(file)} (${how.unstarted}); trundle check-setup tells which one is used and whether it runs.`,
    );
  const text =
    'silentS' in how
      ? `${program} gave no sign of life for ${how.silentS} s while working on ${quoted(file)} and was ended; check that the disk of the clip answers and run again (TRUNDLE_FFMPEG_SILENCE_S sets how long it may be silent, in seconds).`
      : CRASHES.includes(how.signal)
        ? `${program} crashed (${how.signal}) while working on ${quoted(file)}; run again, and if it crashes again, export the clip anew as MP4 or MOV, or name another FFmpeg with TRUNDLE_FFMPEG.`
        : `${program} was ended from outside (${how.signal}) while working on ${quoted(file)}, by the system for want of memory perhaps; close other programs and run again.`;
  return new TrundleError('ffmpeg-broke-off', text);
}

/** What a line of FFmpeg's messages complains of; null for a line that is no complaint. */
export function faultIn(line: string): string | null {
  const [found, , said] = /^.*\[(error|fatal|panic)\]\s*(.*)$/.exec(line) ?? [];
  return found === undefined || isLimitWord(line) ? null : said.trim();
}
