/**
 * Clips too long to be held at once: followed stretch by stretch, each of which is forgotten but for its path and its record. Stretches
 * may be followed one after the other, or by themselves, on several machines, and joined afterwards.
 */
import { breakable } from './breakable.js';
import { decodeGrey, type Tools } from './footage/index.js';
import { splitOptions, trackingOptions, type FollowPlan, type Followed } from './follow-plan.js';
import type { MeasureHooks } from './measure-request.js';
import { StretchSplitter, type CameraShown, type SolvedStretch } from './motion/index.js';
import { cameraForFrame } from './optics/index.js';
import { TrundleError, type Warning } from './run/index.js';
import { decodeTexts, trackingTexts } from './texts/index.js';
import { joinTrackings, trackFrames, withoutTracks, type Tracking } from './tracking/index.js';
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

/** A part of a clip that is followed by itself. */
export interface Stretch {
  readonly inS: number;
  /** First moment left out; undefined for what lies at the end of the clip. */
  readonly outS: number | undefined;
  /** Frames of the clip before those that no other stretch before it has, and how many it shares with that one. */
  readonly framesBefore: number;
  readonly framesShared: number;
  /** Frames of the whole clip. */
  readonly framesInAll: number;
}

/** What a stretch leaves behind: some numbers a frame. */
export interface StretchRecord {
  /** Without its tracks. */
  readonly tracking: Tracking;
  readonly solved: SolvedStretch;
  /** What was met while decoding it. */
  readonly warnings: readonly Warning[];
  readonly contrastGain: number;
}

/** The frames measured together: stretches that hang on one another. */
interface Chain {
  readonly splitter: StretchSplitter;
  readonly trackings: Tracking[];
}

/** Frames that two stretches must share to hang on one another. */
const FEWEST_SHARED = 8;

/**
 * The stretches of a range, even ones, so that the last is no scrap; empty where the range may be held at once.
 *
 * @param plan its `reading` says the range
 */
export function planStretches({ facts, reading }: FollowPlan, limits = STRETCH_LIMITS): Stretch[] {
  const inS = reading.inS ?? 0;
  const outS = Math.min(reading.outS ?? Infinity, facts.durationS > 0 ? facts.durationS : Infinity);
  const frames = Math.round((outS - inS) * facts.fps);
  if (!Number.isFinite(frames) || frames <= limits.atOnce) return [];
  const count = Math.ceil(frames / limits.stretch);
  const edgeS = (k: number): number => inS + ((outS - inS) * k) / count;
  return Array.from({ length: count }, (_, k) => ({
    inS: Math.max(inS, edgeS(k) - (k > 0 ? limits.shared / facts.fps : 0)),
    outS: k === count - 1 ? reading.outS : edgeS(k + 1),
    framesBefore: Math.round((frames * k) / count),
    framesShared: k > 0 ? limits.shared : 0,
    framesInAll: frames,
  }));
}

/**
 * Follows and solves one stretch by itself.
 *
 * @param shown what other stretches have shown of the camera, given the frames of this one
 * @returns null for a later stretch of which nothing is there: the clip ends earlier than it states, or is destroyed there
 * @throws TrundleError as decoding and tracking do
 */
export async function followStretch(
  plan: FollowPlan,
  stretch: Stretch,
  shown: (tracking: Tracking) => CameraShown,
  hooks: MeasureHooks,
  tools: Tools,
): Promise<StretchRecord | null> {
  const { request, facts, seed } = plan;
  const { rig = {} } = request;
  const { onProgress = () => {} } = hooks;
  const { inS, outS, framesBefore, framesShared, framesInAll } = stretch;
  const warnings: Warning[] = [];
  let contrastGain = 1;
  const reading = {
    ...plan.reading,
    ...{ inS, outS },
    onWarning: (warning: Warning) => warnings.push(warning),
    onStart: (record: { readonly contrastGain: number }) => (contrastGain = record.contrastGain),
  };
  // Frames that the stretch before it has, too, are no news.
  const done = (count: number): number =>
    Math.min(framesBefore + Math.max(count - framesShared, 0), framesInAll);
  const tracking = await unlessPastEnd(framesBefore > 0, () =>
    trackFrames(decodeGrey(request.clip, facts, reading, tools), {
      ...trackingOptions(plan, hooks),
      onFrame: (count) => onProgress('track', done(count), framesInAll),
      ...watchTracking(hooks, (frame) => cameraForFrame(rig, facts, frame).camera),
    }),
  );
  if (tracking === null) return null;
  const { camera } = cameraForFrame(rig, facts, tracking.table);
  const splitter = new StretchSplitter(camera, splitOptions(request, facts, seed), shown(tracking));
  const from = (100 * framesBefore) / framesInAll;
  const share = Math.max(0, tracking.table.frameCount - framesShared) / framesInAll;
  const solved = await breakable(request.clip, hooks.signal, () =>
    splitter.solve(tracking.table, {
      interCoded: tracking.interCoded,
      trackNoisePx: tracking.noisePx,
      onProgress: (part, total) => onProgress('split', Math.round(from + (100 * share * part) / total), 100),
    }),
  );
  return { tracking: withoutTracks(tracking), solved, warnings, contrastGain };
}

/** Joins the records of stretches as they come in, in order of time. */
export class StretchJoiner {
  readonly #plan: FollowPlan;
  readonly #chains: Chain[] = [];
  readonly #told = new Set<string>();
  #contrastGain = 1;

  constructor(plan: FollowPlan) {
    this.#plan = plan;
  }

  /** What the stretches before these frames have shown of the camera: nothing past a cut. */
  shownTo(tracking: Tracking): CameraShown {
    return this.#chainFor(tracking).splitter.shown;
  }

  /** Takes the record of the next stretch; warnings that every stretch finds anew are told once. */
  add({ tracking, solved, warnings, contrastGain }: StretchRecord): void {
    for (const warning of warnings) this.#tell(warning);
    this.#contrastGain = contrastGain;
    const { splitter, trackings } = this.#chainFor(tracking);
    splitter.take(solved);
    trackings.push(tracking);
  }

  /** Says that from this stretch on nothing of the clip is there. What the stretches before told is kept. */
  endBefore({ framesBefore, framesInAll }: Stretch): void {
    const { request, facts } = this.#plan;
    const missing = framesInAll - framesBefore;
    const text = decodeTexts.endsEarly(`"${request.clip}"`, `${(missing / facts.fps).toFixed(3)} s`, missing);
    const inS = this.#plan.reading.inS ?? 0;
    this.#tell({ code: 'clip-truncated', text, atS: inS + framesBefore / facts.fps });
  }

  /** What was found, on the longest part without a cut. @throws TrundleError 'interrupted' */
  async finish(signal: AbortSignal | undefined): Promise<Followed> {
    const [longest] = this.#chains
      .map(({ splitter, trackings }) => ({ splitter, tracking: joinTrackings(trackings) }))
      .sort((a, b) => b.tracking.table.frameCount - a.tracking.table.frameCount);
    const { splitter, tracking } = longest;
    const { request, facts } = this.#plan;
    const motion = await breakable(request.clip, signal, () => splitter.finish(tracking.interCoded));
    const { assumed } = cameraForFrame(request.rig ?? {}, facts, tracking.table);
    const warnings = breakWarnings(this.#chains, tracking);
    return { tracking: { ...tracking, warnings }, motion, assumed, contrastGain: this.#contrastGain };
  }

  #tell(warning: Warning): void {
    if (!this.#told.has(warning.code)) this.#plan.reading.onWarning?.(warning);
    this.#told.add(warning.code);
  }

  /** The chain that a stretch hangs on, or a new one: past a cut, or where nothing could be followed, no path leads on. */
  #chainFor({ table }: Tracking): Chain {
    const last = this.#chains.at(-1);
    if (last) {
      const before = last.trackings.at(-1);
      if (before === undefined) return last;
      const latestS = before.table.timeS.at(-1) ?? -Infinity;
      const shared = table.timeS.findIndex((timeS) => timeS > latestS);
      if ((shared < 0 ? table.frameCount : shared) >= FEWEST_SHARED) return last;
    }
    const { request, facts, seed } = this.#plan;
    const { camera } = cameraForFrame(request.rig ?? {}, facts, table);
    const chain = {
      splitter: new StretchSplitter(camera, splitOptions(request, facts, seed)),
      trackings: [],
    };
    this.#chains.push(chain);
    return chain;
  }
}

async function unlessPastEnd(isLater: boolean, follow: () => Promise<Tracking>): Promise<Tracking | null> {
  try {
    return await follow();
  } catch (error) {
    const isGone = error instanceof TrundleError && ['clip-too-short', 'decode-failed'].includes(error.code);
    if (isLater && isGone) return null;
    throw error;
  }
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
