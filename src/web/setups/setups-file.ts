/** The file of saved setups: written whole or not at all, and set aside when it cannot be read. */
import fs from 'node:fs/promises';
import path from 'node:path';
import { TrundleError } from '../../run/index.js';
import { SETTING_NAMES } from '../../settings/index.js';
import { writeWhole } from '../../write-whole.js';
import type { SavedSetup } from '../api.js';

const FORMAT = 'trundle-setups';
const VERSION = 1;

/**
 * The setups of the file, the newest first; none when it is not there. A file that is not what this version writes is moved to
 * `FILE.damaged-YYYYMMDDTHHMMSS`, so that nothing of it is overwritten.
 */
export async function readSetupsFile(file: string, now: Date): Promise<readonly SavedSetup[]> {
  let text: string;
  try {
    text = await fs.readFile(file, 'utf8');
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return [];
    throw error;
  }
  const setups = setupsIn(text);
  if (setups !== null) return setups;
  const stamp = now.toISOString().slice(0, 19).replace(/[-:]/g, '');
  await fs.rename(file, `${file}.damaged-${stamp}`);
  return [];
}

/** @throws TrundleError `output-unwritable` */
export async function writeSetupsFile(file: string, setups: readonly SavedSetup[]): Promise<void> {
  try {
    await fs.mkdir(path.dirname(file), { recursive: true });
    await writeWhole(file, `${JSON.stringify({ format: FORMAT, version: VERSION, setups }, null, 2)}\n`);
  } catch (cause) {
    throw new TrundleError(
      'output-unwritable',
      `The setups "${file}" cannot be written; check that the folder may be written to and has room.`,
      { cause },
    );
  }
}

function setupsIn(text: string): readonly SavedSetup[] | null {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return null;
  }
  if (!isRecord(value) || value['format'] !== FORMAT || value['version'] !== VERSION) return null;
  const { setups } = value;
  return Array.isArray(setups) && setups.every(isSetup) ? setups : null;
}

function isSetup(value: unknown): value is SavedSetup {
  if (!isRecord(value)) return false;
  const { id, name, usedAt, settings } = value;
  const known: readonly string[] = SETTING_NAMES;
  return (
    [id, name, usedAt].every((word) => typeof word === 'string') &&
    isRecord(settings) &&
    Object.entries(settings).every(([key, typed]) => known.includes(key) && typeof typed === 'string')
  );
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
