/**
 * A long clip measured by stretches that are jobs of their own, in any order and on any machine, and joined to the run of the whole.
 *
 * The first stretch comes first: what it shows of lens and readout is told to the others, as it is when they are followed in a row.
 */
import { gunzipSync, gzipSync } from 'node:zlib';
import { findTools } from './footage/index.js';
import { planFollowing } from './follow-plan.js';
import {
  followStretch,
  planStretches,
  STRETCH_LIMITS,
  StretchJoiner,
  type StretchLimits,
  type StretchRecord,
} from './follow-stretches.js';
import { measureFollowed, type Measured } from './measure.js';
import type { MeasureHooks, MeasureRequest } from './measure-request.js';
import { NOTHING_SHOWN, type CameraShown } from './motion/index.js';
import { TrundleError } from './run/index.js';
import { fromTypedJson, toTypedJson } from './typed-json.js';

/** Of the bytes of a record; rises when what is in them changes. */
const RECORD_FORMAT = 'trundle-stretch/1';

/** How a clip is measured. */
export interface StretchPlan {
  /** Stretches; 0 for a clip that is measured at once. */
  readonly count: number;
  /** Frames of the range as the clip states them; 0 for a clip that is measured at once. */
  readonly frames: number;
}

/**
 * How many stretches a clip is measured in, and how long it is.
 *
 * @throws TrundleError when the clip or the range cannot be used
 */
export async function stretchPlan(
  request: MeasureRequest,
  hooks: MeasureHooks = {},
  limits: StretchLimits = STRETCH_LIMITS,
): Promise<StretchPlan> {
  const { plan } = await planFollowing(request, hooks.tools ?? (await findTools()), hooks.signal);
  const stretches = planStretches(plan, limits);
  return { count: stretches.length, frames: stretches[0]?.framesInAll ?? 0 };
}

/** How many stretches a clip is measured in; 0 for a clip that is measured at once. @throws as `stretchPlan` */
export async function countStretches(
  request: MeasureRequest,
  hooks: MeasureHooks = {},
  limits: StretchLimits = STRETCH_LIMITS,
): Promise<number> {
  return (await stretchPlan(request, hooks, limits)).count;
}

/**
 * Measures one stretch by itself.
 *
 * @param number of the stretch, from 0
 * @param first record of the stretch of number 0; null for that one itself
 * @returns its record as bytes, which `measureJoined` takes
 * @throws TrundleError as `measure`; RangeError when there is no such stretch
 */
export async function measureStretch(
  request: MeasureRequest,
  number: number,
  first: Uint8Array | null,
  hooks: MeasureHooks = {},
  limits: StretchLimits = STRETCH_LIMITS,
): Promise<Uint8Array> {
  const tools = hooks.tools ?? (await findTools());
  const { plan } = await planFollowing(request, tools, hooks.signal);
  const stretches = planStretches(plan, limits);
  if (!(number in stretches))
    throw new RangeError(`stretch: expected one of ${stretches.length}, counted from 0, got ${number}`);
  const shown = shownBy(first === null ? null : unpackRecord(first));
  return packRecord(await followStretch(plan, stretches[number], () => shown, hooks, tools));
}

/**
 * Joins the stretches to the run of the whole clip.
 *
 * @param records of all stretches, in their order
 * @throws TrundleError as `measure`, and `stretch-unreadable` for a record of another version or a damaged one; RangeError when records
 * are missing
 */
export async function measureJoined(
  request: MeasureRequest,
  records: readonly Uint8Array[],
  hooks: MeasureHooks = {},
  limits: StretchLimits = STRETCH_LIMITS,
): Promise<Measured> {
  const tools = hooks.tools ?? (await findTools());
  return measureFollowed(request, hooks, tools, (plan) => {
    const stretches = planStretches(plan, limits);
    if (records.length !== stretches.length || records.length === 0)
      throw new RangeError(`records: expected those of ${stretches.length} stretches, got ${records.length}`);
    const joiner = new StretchJoiner(plan);
    for (const [k, stretch] of stretches.entries()) {
      const record = unpackRecord(records[k]);
      if (record === null) {
        joiner.endBefore(stretch);
        break;
      }
      joiner.add(record);
    }
    return joiner.finish(hooks.signal);
  });
}

/** What a stretch shows of the camera to the others. */
function shownBy(record: StretchRecord | null): CameraShown {
  const path = record?.solved.path;
  return path ? { distortion: path.distortion, readoutS: path.readout.readoutS } : NOTHING_SHOWN;
}

function packRecord(record: StretchRecord | null): Uint8Array {
  return gzipSync(toTypedJson({ format: RECORD_FORMAT, record }));
}

function unpackRecord(bytes: Uint8Array): StretchRecord | null {
  let read: { readonly format?: unknown; readonly record?: unknown } | null;
  try {
    read = fromTypedJson(gunzipSync(bytes).toString('utf8')) as typeof read;
  } catch (cause) {
    throw unreadable(cause);
  }
  if (read?.format !== RECORD_FORMAT || read.record === undefined) throw unreadable(undefined);
  return read.record as StretchRecord | null;
}

function unreadable(cause: unknown): TrundleError {
  return new TrundleError(
    'stretch-unreadable',
    'What was measured of a stretch of the clip cannot be read: it was written by another version of this program, or is damaged; measure the stretch again.',
    { cause },
  );
}
