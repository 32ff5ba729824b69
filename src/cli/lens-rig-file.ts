/** Puts a calibrated lens into a rig file, which keeps everything else it holds. */
import fs from 'node:fs/promises';
import { rigLens, type LensCalibration } from '../lens-calibration.js';
import { TrundleError, parseRigFile } from '../run/index.js';
import { writeWhole } from './write-whole.js';

/**
 * Reads a rig file that is to be updated; checked in full, so that a long calibration does not end at a file that is wrong.
 * @returns its text, or null when there is no such file yet
 * @throws TrundleError `rig-invalid`, or `rig-unreadable` when it is there and cannot be read
 */
export async function readRigToUpdate(file: string): Promise<string | null> {
  let text: string;
  try {
    text = await fs.readFile(file, 'utf8');
  } catch (cause) {
    if ((cause as NodeJS.ErrnoException).code === 'ENOENT') return null;
    throw new TrundleError(
      'rig-unreadable',
      `The rig file "${file}" cannot be read; give the path of a JSON file.`,
      { cause },
    );
  }
  parseRigFile(text, file);
  return text;
}

/** The text of a rig file with the lens in it: in the group `rig` where the file has one, else at its top. */
export function withLens(text: string | null, lens: LensCalibration): string {
  const whole = (text === null ? {} : JSON.parse(text)) as Record<string, unknown>;
  const { rig } = whole;
  const isGrouped = typeof rig === 'object' && rig !== null;
  // A name may also stand at the top of a file with groups; it would win over the new one.
  const rest = Object.fromEntries(Object.entries(whole).filter(([name]) => !(name in rigLens(lens))));
  const updated = isGrouped ? { ...rest, rig: { ...rig, ...rigLens(lens) } } : { ...whole, ...rigLens(lens) };
  return `${JSON.stringify(updated, null, 2)}\n`;
}

/** Writes the lens into a rig file, new or old. @throws TrundleError as reading and writing do */
export async function updateRigFile(file: string, lens: LensCalibration): Promise<void> {
  await writeWhole(file, withLens(await readRigToUpdate(file), lens));
}
