/** Where the crew's own deliveries stand on disk, and reading and first writing of that file. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { deliveriesFile, DELIVERY_PRESETS, parseDeliveries, type DeliveryPresets } from '../judge/index.js';
import { dataFolder } from '../log/index.js';
import { TrundleError } from '../run/index.js';

/** The deliveries that names stand for. */
export interface KnownDeliveries {
  readonly presets: DeliveryPresets;
  /** File that was laid over the built-in ones; null when there is none. */
  readonly file: string | null;
}

/** The file that is read when none is named: `deliveries.json` in the user's data folder. */
export function usualDeliveriesFile(): string {
  return path.join(dataFolder(process.env, process.platform, os.homedir()), 'deliveries.json');
}

/**
 * The built-in deliveries with the crew's file laid over them.
 *
 * @param given path of the file; the usual one when missing, which need not be there
 * @throws TrundleError `delivery-unreadable`, `delivery-invalid`
 */
export function knownDeliveries(given: string | undefined): KnownDeliveries {
  const file = given ?? usualDeliveriesFile();
  if (given === undefined && !fs.existsSync(file)) return { presets: DELIVERY_PRESETS, file: null };
  let text: string;
  try {
    text = fs.readFileSync(file, 'utf8');
  } catch (cause) {
    throw new TrundleError(
      'delivery-unreadable',
      `The deliveries "${file}" cannot be read; give the path of a JSON file.`,
      { cause },
    );
  }
  return { presets: parseDeliveries(text, file), file };
}

/**
 * Writes the built-in deliveries as a file to edit; folders on the way to the usual one are made.
 *
 * @param given path of the file; the usual one when missing
 * @returns the path that was written
 * @throws TrundleError `output-unwritable`; a file that is there is left as it is
 */
export function writeDeliveries(given: string | undefined): string {
  const file = given ?? usualDeliveriesFile();
  try {
    if (given === undefined) fs.mkdirSync(path.dirname(file), { recursive: true });
    fs.writeFileSync(file, deliveriesFile(), { flag: 'wx' });
  } catch (cause) {
    const there = (cause as NodeJS.ErrnoException).code === 'EEXIST';
    throw new TrundleError(
      'output-unwritable',
      there
        ? `The file "${file}" is there already and is left as it is; give another name or move it away first.`
        : `The file "${file}" cannot be written; check that its folder exists, may be written to and has room.`,
      { cause },
    );
  }
  return file;
}
