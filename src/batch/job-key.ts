/**
 * The identity of a measurement: the bytes of the clip and everything that changes its figures. Two orders of the same key give the same
 * figures, so that one of them need not be carried out.
 *
 * Left out is what figures do not depend on: name and place of the clip, the sheet of the pass, units and paper of the report, threads.
 * Put in is the schema of the run document: runs of another version are measured anew. The way of writing a range counts ("2s" and "48f"
 * are two keys though they may be one range): it takes the clip to read it, and a clip that is measured twice costs less than a wrong
 * figure.
 */
import { createHash } from 'node:crypto';
import fs from 'node:fs/promises';
import { DEFAULT_SEED, type MeasureRequest } from '../measure-request.js';
import { readMotionLog } from '../read-motion-log.js';
import { readRun } from '../read-run.js';
import { ANALYSIS_WIDTH_PX } from '../footage/index.js';
import { SPLIT_DEFAULTS } from '../motion/index.js';
import { RUN_SCHEMA } from '../run/index.js';

/** Of a request what changes the figures by itself; other entries of it are let pass and left out of the key. */
export type JobSettings = Pick<
  MeasureRequest,
  'rig' | 'delivery' | 'stabilise' | 'inPoint' | 'outPoint' | 'analysisWidthPx' | 'cutoffHz' | 'seed'
>;

/** SHA-256 of what a request names by its place, each as 64 lower-case hex digits. */
export interface SettingsBesides {
  /** Of the bytes of the log of angular rates. */
  readonly motionLog?: string | undefined;
  /** Of the document of the other run. */
  readonly otherRun?: string | undefined;
  /** Of the documents of the other surfaces, in their order. */
  readonly otherSurfaces?: readonly string[] | undefined;
}

/**
 * The key of settings: SHA-256 of their canonical JSON, 64 lower-case hex digits. An entry that is undefined counts as one that is missing,
 * and one that is given as what it would be anyway as the same.
 *
 * @param besides what the request names by its place; `settingsKeyOf` reads it
 * @throws TypeError on a number that is not finite
 */
export function settingsKey(settings: JobSettings, besides: SettingsBesides = {}): string {
  return sha256(
    canonicalJson({
      schema: RUN_SCHEMA,
      rig: settings.rig ?? {},
      delivery: settings.delivery ?? {},
      stabilise: settings.stabilise ?? {},
      in: settings.inPoint?.trim(),
      out: settings.outPoint?.trim(),
      analysisWidthPx: settings.analysisWidthPx ?? ANALYSIS_WIDTH_PX,
      cutoffHz: settings.cutoffHz ?? SPLIT_DEFAULTS.cutoffHz,
      seed: settings.seed ?? DEFAULT_SEED,
      besides: { ...besides, otherSurfaces: besides.otherSurfaces ?? [] },
    }),
  );
}

/**
 * The key of the settings of a request, with what stands in the files and runs that it names.
 *
 * @throws TrundleError `motion-log-unreadable`, `motion-log-invalid`, `run-unreadable`, `run-invalid`, as `measure` would
 */
export async function settingsKeyOf(request: MeasureRequest): Promise<string> {
  const { motionLogFile, otherRun, otherSurfaces = [] } = request;
  return settingsKey(request, {
    motionLog: motionLogFile === undefined ? undefined : await motionLogSha256(motionLogFile),
    otherRun: otherRun === undefined ? undefined : await documentSha256(otherRun),
    otherSurfaces: await Promise.all(otherSurfaces.map(documentSha256)),
  });
}

/**
 * The key of a job: SHA-256 over the clip and the settings, 64 lower-case hex digits.
 *
 * @param clipSha256 of the bytes of the clip, as `clip.sha256` of a run document
 * @param settings as `settingsKey` gives it
 * @throws RangeError on what is no SHA-256 in lower-case hex digits
 */
export function jobKey(clipSha256: string, settings: string): string {
  for (const [name, sum] of Object.entries({ clipSha256, settings }))
    if (!/^[0-9a-f]{64}$/.test(sum))
      throw new RangeError(`${name} must be 64 lower-case hex digits, got "${sum}"`);
  return sha256(`${clipSha256}\n${settings}\n`);
}

/** Read as `measure` reads it, so that what will not do is told by the same sentence. */
async function motionLogSha256(file: string): Promise<string> {
  await readMotionLog(file);
  return sha256(await fs.readFile(file));
}

async function documentSha256(place: string): Promise<string> {
  return sha256(canonicalJson(await readRun(place)));
}

/** JSON with the entries of every record in the order of their names; those that are undefined are left out. */
function canonicalJson(value: unknown): string {
  return JSON.stringify(value, (_name, part: unknown) => {
    if (typeof part === 'number' && !Number.isFinite(part))
      throw new TypeError(`settings hold finite numbers only, got ${part}`);
    if (typeof part !== 'object' || part === null || Array.isArray(part)) return part;
    return Object.fromEntries(Object.entries(part).sort(([a], [b]) => (a < b ? -1 : 1)));
  });
}

function sha256(content: string | Uint8Array): string {
  return createHash('sha256').update(content).digest('hex');
}
