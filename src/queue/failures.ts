/** Which failures of a measurement may pass when it is tried again, and how a failure is written beside its job. */
import { EXIT, TrundleError } from '../run/index.js';
import { queueTexts } from '../texts/index.js';

/** Codes that stand for the clip elsewhere, and here for a machine or a network that may be well again. */
const MAY_PASS: readonly string[] = [
  'clip-not-fetched',
  'clip-missing',
  'place-not-allowed',
  'ffmpeg-missing',
  'ffmpeg-broke-off',
  'memory-short',
  'output-unwritable',
  'worker-ended',
];

/** What this worker may not read, or does not find where its map leads: another one may, so it costs the clip no try. */
export class NotForThisWorker extends TrundleError {}

/** A clip whose stretch was given up, and which is given up by that. The message is the line of the stretch. */
export class StretchGivenUp extends Error {
  override readonly name = 'StretchGivenUp';
}

/** Whether trying again would only give the same: the clip, the settings or the version will not do. */
export function isFinal(error: unknown): boolean {
  if (error instanceof StretchGivenUp) return true;
  if (!(error instanceof TrundleError) || MAY_PASS.includes(error.code)) return false;
  return error.exitStatus === EXIT.clipUnusable || error.exitStatus === EXIT.wrongArguments;
}

/** A failure as it is told: a sentence and a stable code. */
export interface ToldFailure {
  readonly sentence: string;
  readonly code: string;
}

/** The failure in one line, which `readFailure` reads. */
export function writeFailure(error: unknown): string {
  if (error instanceof TrundleError) return `${error.message} [${error.code}]`;
  if (error instanceof StretchGivenUp) return error.message;
  const [line] = (error instanceof Error ? error.message : String(error)).split('\n');
  return `${line} [fault]`;
}

/** Reads a line that `writeFailure` wrote; the one that the engine writes itself is put into our words, any other is its own sentence. */
export function readFailure(line: string): ToldFailure {
  if (/stalled more than/.test(line)) return { sentence: queueTexts.endedTooOften, code: 'worker-ended' };
  const [, sentence = line, code = 'fault'] = /^(.*) \[([a-z-]+)\]$/s.exec(line) ?? [];
  return { sentence, code };
}
