/** Reads a motion log from disk and checks it against the stretch of the clip that it is meant for. */
import fs from 'node:fs/promises';
import { leastCoveredS, parseMotionLog, type MotionLog } from './motion/index.js';
import { TrundleError } from './run/index.js';

/** Larger files are refused: an hour at 1000 samples a second is a third of it. */
const MOST_BYTES = 400e6;

/**
 * Reads a motion log.
 *
 * @throws TrundleError `motion-log-unreadable` when there is no such file, or it is no text; `motion-log-invalid` on its content
 */
export async function readMotionLog(file: string): Promise<MotionLog> {
  let text: string;
  try {
    const { size } = await fs.stat(file);
    if (size > MOST_BYTES)
      throw new TrundleError(
        'motion-log-unreadable',
        `The motion log "${file}" is larger than ${MOST_BYTES / 1e6} MB; cut out the part around the clip.`,
      );
    text = await fs.readFile(file, 'utf8');
  } catch (error) {
    if (error instanceof TrundleError) throw error;
    throw new TrundleError(
      'motion-log-unreadable',
      `The motion log "${file}" cannot be read; give the path of a CSV file.`,
      { cause: error },
    );
  }
  if (text.slice(0, 4096).includes('\u0000'))
    throw new TrundleError(
      'motion-log-unreadable',
      `The motion log "${file}" is no text; save it as plain CSV.`,
    );
  return parseMotionLog(text, file);
}

/** Refuses a log that is too short for the clip. @throws TrundleError `motion-log-invalid` */
export function requireLength({ timeS }: MotionLog, clipS: number, file: string): void {
  const lastsS = timeS[timeS.length - 1] - timeS[0];
  const neededS = Math.min(leastCoveredS(clipS), Math.max(clipS - 0.1, 0));
  if (lastsS >= neededS) return;
  throw new TrundleError(
    'motion-log-invalid',
    `The motion log "${file}" lasts ${lastsS.toFixed(1)} s; for this clip of ${clipS.toFixed(1)} s it must last at least ${neededS.toFixed(1)} s.`,
  );
}
