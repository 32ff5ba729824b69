/** What a command line asks of the measurement of one clip: rig file and options joined, range, mode of stabilising. */
import fs from 'node:fs';
import path from 'node:path';
import type { ParsedArgs } from 'citty';
import type { MeasureRequest, Stage } from '../measure-request.js';
import { printable, TrundleError, parseRigFile, type RigFile } from '../run/index.js';
import { listOf, readSettings } from '../settings/index.js';
import { presetsFor, type DeliveryValues } from './delivery-options.js';
import type { Io } from './io.js';
import type { MEASURE_ARGS } from './measure-options.js';
import { OPTION_NAMING, settingsGiven } from './option-naming.js';
import type { PASS_ARGS } from './pass-options.js';
import type { UNITS_ARGS } from './report-options.js';
import type { STABILISE_ARGS } from './stabilise-options.js';

/** The stages of a measurement in words for a progress line. */
export const STAGE_WORDS: Readonly<Record<Stage, string>> = {
  probe: 'Reading the clip',
  track: 'Following features, frame',
  split: 'Splitting the motion, step',
  judge: 'Spectra, crop and floor',
};

type Values = Partial<ParsedArgs<typeof MEASURE_ARGS>> &
  Partial<ParsedArgs<typeof STABILISE_ARGS>> &
  DeliveryValues &
  Partial<ParsedArgs<typeof PASS_ARGS>> &
  Partial<ParsedArgs<typeof UNITS_ARGS>> & { readonly quiet?: boolean | undefined };

/**
 * The request for one clip. A rig file beside the clip is found by itself and told on `io.err`.
 * @throws TrundleError `argument-invalid`, `rig-invalid`, `rig-unreadable`, `delivery-invalid`, `delivery-unreadable`
 */
export function requestFor(clip: string, values: Values, io: Io): MeasureRequest {
  const file = readRigFile(values.rig, clip, (text) => (values.quiet ? undefined : io.err(text)));
  const read = readSettings(settingsGiven(values), {
    presets: presetsFor(values),
    file,
    naming: OPTION_NAMING,
  });
  if (file.rig.travelM !== undefined && read.rig.travelM === undefined && !values.quiet)
    io.err(
      `The travel in the rig file (${file.rig.travelM} m, of the whole clip) is left out: lengths go by the speed. Give --travel to measure by it.\n`,
    );
  return {
    clip,
    ...read,
    motionLogFile: values['motion-log'],
    otherRun: values.against,
    otherSurfaces: listOf(values['lay-over']),
  };
}

/** One report folder per clip, named after it; clips of the same name get a number. */
export function reportFolders(clips: readonly string[], outDir: string): Map<string, string> {
  const taken = new Set<string>();
  return new Map(
    clips.map((clip) => {
      const stem = path.basename(clip, path.extname(clip));
      // "...mp4" would be the folder above.
      const name = /^\.*$/.test(stem) ? 'clip' : stem;
      let folder = path.join(outDir, name);
      for (let i = 2; taken.has(folder); i++) folder = path.join(outDir, `${name}-${i}`);
      taken.add(folder);
      return [clip, folder];
    }),
  );
}

function readRigFile(given: string | undefined, clip: string, say: (text: string) => void): RigFile {
  const beside = `${clip.slice(0, clip.length - path.extname(clip).length)}.rig.json`;
  const file = given ?? (fs.existsSync(beside) ? beside : undefined);
  if (file === undefined) return { rig: {}, delivery: {}, pass: {} };
  let text: string;
  try {
    text = fs.readFileSync(file, 'utf8');
  } catch (error) {
    throw new TrundleError(
      'rig-unreadable',
      `The rig file "${file}" cannot be read; give the path of a JSON file.`,
      { cause: error },
    );
  }
  if (given === undefined) say(`Rig: ${printable(file)} (found beside the clip)\n`);
  return parseRigFile(text, file);
}
