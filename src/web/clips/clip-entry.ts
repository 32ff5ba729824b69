/** A clip as the page is told of it: facts of its file, and the settings of the rig file beside it. */
import fs from 'node:fs/promises';
import path from 'node:path';
import { probeClip, type ClipFacts, type Tools } from '../../footage/index.js';
import { parseRigFile, TrundleError } from '../../run/index.js';
import { settingsOfRig } from '../../settings/index.js';
import { clipTexts } from '../../texts/index.js';
import type { DeliveryPresets } from '../../judge/index.js';
import type { ClipEntry, Settings } from '../api.js';
import { WebProblem } from '../server/problem.js';
import type { ClipRecord } from './clip-index.js';

/** A rig file is some hundred bytes; what is larger is something else. */
const MOST_RIG_BYTES = 256 * 1024;

/**
 * Facts of a file as footage/ reads them, its failures in the name that people know.
 * @throws TrundleError as `probeClip`; WebProblem 415 `not-a-clip` for one picture
 */
export async function factsOf(file: string, name: string, tools: Tools): Promise<ClipFacts> {
  let facts: ClipFacts;
  try {
    facts = await probeClip(file, tools);
  } catch (error) {
    if (!(error instanceof TrundleError)) throw error;
    throw new TrundleError(error.code, error.message.replaceAll(file, name), { cause: error });
  }
  if (facts.frameCount === 1) throw new WebProblem(415, 'not-a-clip', clipTexts.onePicture(name));
  return facts;
}

/** The entry. */
export function clipEntry(record: ClipRecord, facts: ClipFacts, rig: Settings | null): ClipEntry {
  return {
    id: record.id,
    name: record.name,
    origin: record.origin,
    sizeBytes: record.sizeBytes,
    widthPx: facts.widthPx,
    heightPx: facts.heightPx,
    fps: facts.fps,
    fpsFraction: facts.fpsFraction,
    variableRate: facts.variableRate,
    durationS: facts.durationS,
    frameCount: facts.frameCount,
    codec: facts.codec,
    timecodeStart: facts.timecodeStart,
    rig,
  };
}

/**
 * Settings of the rig file beside a clip, NAME.rig.json; null where there is none that can be read.
 * @param mayRead whether a real path may be read from
 */
export async function rigBeside(
  clip: string,
  presets: DeliveryPresets,
  mayRead: (real: string) => boolean,
): Promise<Settings | null> {
  const beside = `${clip.slice(0, clip.length - path.extname(clip).length)}.rig.json`;
  try {
    const real = await fs.realpath(beside);
    const found = await fs.stat(real);
    // A pipe would be waited for without end.
    if (!mayRead(real) || !found.isFile() || found.size > MOST_RIG_BYTES) return null;
    return settingsOfRig(parseRigFile(await fs.readFile(real, 'utf8'), path.basename(beside)), presets);
  } catch {
    // A rig file that cannot be read is as none: the form says what is not given.
    return null;
  }
}
