/** Where the crew's own deliveries stand on disk, and reading and first writing of that file. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { deliveriesFile, DELIVERY_PRESETS, parseDeliveries, type DeliveryPresets } from '../judge/index.js';
import { dataFolder, isInDataFolder } from '../log/index.js';
import { TrundleError } from '../run/index.js';

/** The deliveries that names stand for. */
export interface KnownDeliveries {
  readonly presets: DeliveryPresets;
  /** File that was laid over the built-in ones; null when there is none. */
  readonly file: string | null;
}

/**
 * The file that is read when none is named: `deliveries.json` in the data folder.
 * @param dataDir the data folder; that of the user unless given
 */
export function usualDeliveriesFile(dataDir: string | undefined): string {
  const folder = dataDir ?? dataFolder(process.env, process.platform, os.homedir());
  return path.resolve(folder, 'deliveries.json');
}

/**
 * The built-in deliveries with the crew's file laid over them.
 *
 * @param given path of the file; the usual one when missing, which need not be there
 * @param dataDir the folder of the usual one; that of the user unless given
 * @throws TrundleError `delivery-unreadable`, `delivery-invalid`; `argument-invalid` where the data folder is none
 */
export function knownDeliveries(given: string | undefined, dataDir: string | undefined): KnownDeliveries {
  const file = given ?? usualDeliveriesFile(dataDir);
  if (given === undefined && !isInDataFolder(file)) return { presets: DELIVERY_PRESETS, file: null };
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
 * @param dataDir the folder of the usual one; that of the user unless given
 * @returns the path that was written
 * @throws TrundleError `output-unwritable`; a file that is there is left as it is; `argument-invalid` where the data folder is none
 */
export function writeDeliveries(given: string | undefined, dataDir: string | undefined): string {
  const file = given ?? usualDeliveriesFile(dataDir);
  if (given === undefined) isInDataFolder(file);
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
