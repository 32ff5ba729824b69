/** Asks ffprobe one question about a clip. */
import { execFile } from 'node:child_process';
import { promisify } from 'node:util';
import { ffmpegPath } from './clip-path.js';
import { probeLimits } from './input-limits.js';
import { toolEnvironment } from './tool-environment.js';
import type { Tools } from './types.js';

const run = promisify(execFile);
const WITHIN_MS = 120_000;

/** What ffprobe answered. */
export interface ProbeAnswer {
  readonly stdout: string;
  /** What it said when it gave up; null when it answered. */
  readonly failure: string | null;
  /** What it complained of, whether or not it answered. */
  readonly said: string;
}

/**
 * Runs ffprobe on the clip, held to `probeLimits`; never throws for what it says.
 *
 * @param withinMs when the answer counts as a failure
 */
export async function askFfprobe(
  file: string,
  question: readonly string[],
  tools: Pick<Tools, 'ffprobe'>,
  withinMs = WITHIN_MS,
): Promise<ProbeAnswer> {
  const command = ['-v', 'error', ...probeLimits(), ...question, '-i', ffmpegPath(file)];
  try {
    const { stdout, stderr } = await run(tools.ffprobe.path, command, {
      maxBuffer: 256 * 1024 * 1024,
      timeout: withinMs,
      windowsHide: true,
      env: toolEnvironment(),
    });
    return { stdout, failure: null, said: stderr };
  } catch (error) {
    const failure = (error as { stderr?: string }).stderr || String(error);
    return { stdout: '', failure, said: failure };
  }
}
