/**
 * From a clip to the motion of its camera: decoded, tracked and split at once, or, where it is too long to be held, stretch by stretch,
 * each of which is forgotten but for its path before the next is looked at.
 */
import { breakable } from './breakable.js';
import { decodedSize, decodeGrey, type ClipFacts, type DecodeOptions, type Tools } from './footage/index.js';
import type { MeasureHooks, MeasureRequest } from './measure-request.js';
import { splitMotion, StretchSplitter, type Motion, type SplitOptions } from './motion/index.js';
import { cameraForFrame } from './optics/index.js';
import { TrundleError, type Assumption, type Warning } from './run/index.js';
import { decodeTexts, trackingTexts } from './texts/index.js';
import {
  joinTrackings,
  trackFrames,
  withoutTracks,
  type Tracking,
  type TrackingOptions,
} from './tracking/index.js';
import { watchTracking } from './watch-tracking.js';

/** How long a clip may be to be held at once, and how it is cut where it is longer; frames. */
export interface StretchLimits {
  readonly atOnce: number;
  readonly stretch: number;
  /** What neighbours share: some seconds, in which either path is to be sure of itself. */
  readonly shared: number;
}

/** Six minutes at 25 frames/s are held at once, in about a gigabyte; longer clips go by stretches of four minutes. */
export const STRETCH_LIMITS: StretchLimits = { atOnce: 9000, stretch: 6000, shared: 250 };

/** What is followed: a range of a clip, and what is known of it. */
export interface FollowPlan {
  readonly request: MeasureRequest;
  readonly facts: ClipFacts;
  readonly reading: DecodeOptions;
  readonly seed: number;
}

/** What was found. */
export interface Followed {
  readonly tracking: Tracking;
  readonly motion: Motion;
  /** What of the camera had to be assumed. */
  readonly assumed: readonly Assumption[];
}

/** The frames measured together: stretches that hang on one another. */
interface Chain {
  readonly splitter: StretchSplitter;
  readonly trackings: Tracking[];
}

/** Frames that two stretches must share to hang on one another. */
const FEWEST_SHARED = 8;

/**
 * Follows a clip.
 *
 * @param limits from which length on it is done stretch by stretch
 * @throws TrundleError as decoding and tracking do
 */
export async function followClip(
  plan: FollowPlan,
  hooks: MeasureHooks,
  tools: Tools,
  limits: StretchLimits = STRETCH_LIMITS,
): Promise<Followed> {
  const { facts, reading } = plan;
  const inS = reading.inS ?? 0;
  const outS = Math.min(reading.outS ?? Infinity, facts.durationS > 0 ? facts.durationS : Infinity);
  const frames = Math.round((outS - inS) * facts.fps);
  return frames > limits.atOnce && Number.isFinite(frames)
    ? followLong(plan, { inS, outS, frames }, hooks, tools, limits)
    : followAtOnce(plan, frames, hooks, tools);
}

async function followAtOnce(
  plan: FollowPlan,
  expected: number,
  hooks: MeasureHooks,
  tools: Tools,
): Promise<Followed> {
  const { request, facts, reading, seed } = plan;
  const { rig = {} } = request;
  const { onProgress = () => {} } = hooks;
  const tracking = await trackFrames(decodeGrey(request.clip, facts, reading, tools), {
    ...trackingOptions(plan, hooks),
    onFrame: (count) => onProgress('track', count, Number.isFinite(expected) ? expected : null),
    ...watchTracking(hooks, (frame) => cameraForFrame(rig, facts, frame).camera),
  });
  const { camera, assumed } = cameraForFrame(rig, facts, tracking.table);
  const motion = await breakable(request.clip, hooks.signal, () =>
    splitMotion(tracking.table, camera, {
      ...splitOptions(request, facts, seed),
      interCoded: tracking.interCoded,
      trackNoisePx: tracking.noisePx,
      onProgress: (done, total) => onProgress('split', done, total),
    }),
  );
  return { tracking, motion, assumed };
}

async function followLong(
  plan: FollowPlan,
  { inS, outS, frames }: { readonly inS: number; readonly outS: number; readonly frames: number },
  hooks: MeasureHooks,
  tools: Tools,
  limits: StretchLimits,
): Promise<Followed> {
  const { request, facts, reading, seed } = plan;
  const { rig = {} } = request;
  const { onProgress = () => {} } = hooks;
  const watch = watchTracking(hooks, (frame) => cameraForFrame(rig, facts, frame).camera);
  const warned = onceEach(reading.onWarning);
  const chains: Chain[] = [];
  let assumed: readonly Assumption[] = [];
  // Even stretches, so that the last is no scrap.
  const count = Math.ceil(frames / limits.stretch);
  const edgeS = (k: number): number => inS + ((outS - inS) * k) / count;
  for (let k = 0; k < count; k++) {
    const range = {
      inS: Math.max(inS, edgeS(k) - (k > 0 ? limits.shared / facts.fps : 0)),
      outS: k === count - 1 ? reading.outS : edgeS(k + 1),
    };
    const before = Math.round((frames * k) / count);
    // Frames that the stretch before it has, too, are no news.
    const again = k > 0 ? limits.shared : 0;
    const tracking = await unlessPastEnd(k, () =>
      trackFrames(decodeGrey(request.clip, facts, { ...reading, ...range, onWarning: warned }, tools), {
        ...trackingOptions(plan, hooks),
        onFrame: (done) => onProgress('track', Math.min(before + Math.max(done - again, 0), frames), frames),
        ...watch,
      }),
    );
    if (tracking === null) {
      // What the stretches before told is kept; what is lost is told once.
      const missing = frames - before;
      const text = decodeTexts.endsEarly(
        `"${request.clip}"`,
        `${(missing / facts.fps).toFixed(3)} s`,
        missing,
      );
      warned({ code: 'clip-truncated', text, atS: edgeS(k) });
      break;
    }
    const shown = cameraForFrame(rig, facts, tracking.table);
    ({ assumed } = shown);
    const chain = chainFor(chains, tracking, () => {
      const splitter = new StretchSplitter(shown.camera, splitOptions(request, facts, seed));
      return { splitter, trackings: [] };
    });
    await breakable(request.clip, hooks.signal, () =>
      chain.splitter.add(tracking.table, {
        interCoded: tracking.interCoded,
        trackNoisePx: tracking.noisePx,
        onProgress: (done, total) => onProgress('split', Math.round((100 * (k + done / total)) / count), 100),
      }),
    );
    chain.trackings.push(withoutTracks(tracking));
  }
  const [longest] = chains
    .map(({ splitter, trackings }) => ({ splitter, tracking: joinTrackings(trackings) }))
    .sort((a, b) => b.tracking.table.frameCount - a.tracking.table.frameCount);
  const { splitter, tracking } = longest;
  const motion = await breakable(request.clip, hooks.signal, () => splitter.finish(tracking.interCoded));
  return { tracking: { ...tracking, warnings: breakWarnings(chains, tracking) }, motion, assumed };
}

function trackingOptions(
  { facts, reading, seed }: FollowPlan,
  { threads = 2, signal }: MeasureHooks,
): TrackingOptions {
  const { storedWidthPx, storedHeightPx, rotationDeg } = facts;
  const stored =
    rotationDeg % 180 === 0
      ? { widthPx: storedWidthPx, heightPx: storedHeightPx }
      : { widthPx: storedHeightPx, heightPx: storedWidthPx };
  return { seed, threads, stored, expected: decodedSize(facts, reading), ...(signal && { signal }) };
}

/** What is known of the whole clip. */
function splitOptions({ rig = {}, cutoffHz }: MeasureRequest, facts: ClipFacts, seed: number): SplitOptions {
  return {
    seed,
    cutoffHz,
    travelM: rig.travelM,
    speedMps: rig.speedMps,
    readoutS: rig.readoutMs === undefined ? undefined : rig.readoutMs / 1000,
    distortionGiven: rig.lensDistortion !== undefined,
    sourceWidthPx: facts.widthPx,
  };
}

/** The record of a stretch; null for a later one of which nothing is there: the clip ends earlier than it states, or is destroyed there. */
async function unlessPastEnd(k: number, follow: () => Promise<Tracking>): Promise<Tracking | null> {
  try {
    return await follow();
  } catch (error) {
    const isGone = error instanceof TrundleError && ['clip-too-short', 'decode-failed'].includes(error.code);
    if (k > 0 && isGone) return null;
    throw error;
  }
}

/** The chain that the stretch hangs on, or a new one: past a cut, or where nothing could be followed, no path leads on. */
function chainFor(chains: Chain[], { table }: Tracking, begin: () => Chain): Chain {
  const last = chains.at(-1);
  const latestS = last?.trackings.at(-1)?.table.timeS.at(-1) ?? -Infinity;
  const shared = table.timeS.findIndex((timeS) => timeS > latestS);
  const isHangingOn = last !== undefined && (shared < 0 ? table.frameCount : shared) >= FEWEST_SHARED;
  if (isHangingOn) return last;
  const chain = begin();
  chains.push(chain);
  return chain;
}

/** Warnings of the frames that are measured; of cuts in all of the clip. */
function breakWarnings(chains: readonly Chain[], { table, warnings }: Tracking): Warning[] {
  const isCut = ({ code }: Warning): boolean => code === 'cut';
  const cut = chains.flatMap(({ trackings }) => trackings.flatMap((one) => one.warnings)).find(isCut);
  const seconds = (timeS: number | undefined): string => `${(timeS ?? 0).toFixed(2)} s`;
  const range = trackingTexts.range(seconds(table.timeS.at(0)), seconds(table.timeS.at(-1)));
  const others = warnings.filter((warning) => !isCut(warning));
  if (cut?.atS === undefined || cut.atS === null) return others;
  const text = trackingTexts.cutsOfLong(seconds(cut.atS), range);
  return [{ code: 'cut', text, atS: cut.atS }, ...others];
}

/** Passes on the first warning of each code: every stretch of a clip finds the same anew. */
function onceEach(tell: ((warning: Warning) => void) | undefined): (warning: Warning) => void {
  const told = new Set<string>();
  return (warning) => {
    if (!told.has(warning.code)) tell?.(warning);
    told.add(warning.code);
  };
}
