/** Asks ffprobe one question about a clip. */
import { execFile } from 'node:child_process';
import { promisify } from 'node:util';
import { TrundleError } from '../run/index.js';
import { ffmpegPath, quoted } from './clip-path.js';
import { brokenOff, refuseIfAborted, signalOf, silenceLimitS, type BreakOff } from './ffmpeg-job.js';
import { probeLimits } from './input-limits.js';
import { toolEnvironment } from './tool-environment.js';
import type { Tools } from './types.js';

const run = promisify(execFile);

/** What ffprobe answered. */
export interface ProbeAnswer {
  readonly stdout: string;
  /** What it said when it gave up; null when it answered. */
  readonly failure: string | null;
  /** What it complained of, whether or not it answered. */
  readonly said: string;
}

/** What ffprobe is, and what stops it. */
export type Prober = Pick<Tools, 'ffprobe'> & { readonly signal?: AbortSignal | undefined };

/**
 * Runs ffprobe on the clip, held to `probeLimits`; never throws for what it says.
 *
 * @param withinMs when a question that may go unanswered counts as failed; without it, silence is a failure of the machine
 * @throws TrundleError 'ffmpeg-broke-off' when it was killed, crashed or fell silent; 'interrupted'
 */
export async function askFfprobe(
  file: string,
  question: readonly string[],
  { ffprobe, signal }: Prober,
  withinMs?: number,
): Promise<ProbeAnswer> {
  const command = ['-v', 'error', ...probeLimits(), ...question, '-i', ffmpegPath(file)];
  try {
    const { stdout, stderr } = await run(ffprobe.path, command, {
      maxBuffer: 256 * 1024 * 1024,
      timeout: withinMs ?? silenceLimitS() * 1000,
      killSignal: 'SIGKILL',
      ...(signal && { signal }),
      windowsHide: true,
      env: toolEnvironment(),
    });
    return { stdout, failure: null, said: stderr };
  } catch (error) {
    refuseIfAborted(signal, file);
    const how = breakOffOf(error as ProbeError);
    // What was not answered in its time is left open, where it may be.
    if (how && !('silentS' in how && withinMs !== undefined)) throw brokenOff('ffprobe', how, file);
    const failure = (error as { stderr?: string }).stderr || String(error);
    return { stdout: '', failure, said: failure };
  }
}

interface ProbeError {
  readonly message: string;
  /** Whether this program ended it, for its silence. */
  readonly killed?: boolean;
  readonly signal?: string | null;
  /** The exit status, or the code of another failure. */
  readonly code?: number | string;
}

const TOO_MUCH = 'ERR_CHILD_PROCESS_STDIO_MAXBUFFER';

function breakOffOf({ killed, signal, code, message }: ProbeError): BreakOff | null {
  if (code === TOO_MUCH) return null;
  if (typeof code === 'string') return { unstarted: message };
  if (killed === true) return { silentS: silenceLimitS() };
  const ended = signalOf({
    exitCode: typeof code === 'number' ? code : null,
    signalCode: (signal ?? null) as NodeJS.Signals | null,
  });
  return ended === null ? null : { signal: ended };
}

/** What an answer in JSON holds. @throws TrundleError 'ffmpeg-missing' where it is none: then this is no ffprobe */
export function probedJson({ stdout }: ProbeAnswer, { ffprobe }: Prober): unknown {
  try {
    return JSON.parse(stdout);
  } catch (cause) {
    throw new TrundleError(
      'ffmpeg-missing',
      `${quoted(ffprobe.path)} does not answer as ffprobe does; name another with TRUNDLE_FFPROBE.`,
      { cause },
    );
  }
}
