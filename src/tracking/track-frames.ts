/** Follows points through the grey frames of a clip and gives the table of tracks, in analysis pixels. */
import type { FrameType, GreyFrame } from '../footage/index.js';
import { mean } from '../numerics/index.js';
import { assert } from '../run/index.js';
import { FrameComparer, LEVEL_BANDS, type FrameLook } from './frame-differences.js';
import { findCuts, longestStretch } from './cuts.js';
import { copiedSteps } from './doubt/copied-steps.js';
import { lightCourse } from './doubt/exposure-change.js';
import { lightStep, type LightStep } from './doubt/light-step.js';
import type { FrameRecord } from './frame-record.js';
import { LiveTracks, type ObservationLog } from './live-tracks.js';
import {
  resolveTrackingOptions,
  scaleFor,
  type FollowedFrame,
  type ResolvedTrackingOptions,
  type TrackingOptions,
} from './options.js';
import type { Points } from '../vision/index.js';
import type { Followed, Relight, TrackPoints } from './protocol.js';
import { findFreezes, findRepeats } from './repeats.js';
import { PullAhead } from './pull-ahead.js';
import { RefineSwitch } from './scale-change.js';
import { Replenisher } from './top-up.js';
import { buildTrackTable, coverageOf, liveCounts } from './track-table.js';
import { trackingNoisePx } from './tracking-noise.js';
import type { FrameEvents, FrameLevels, Tracking } from './types.js';
import { trackingWarnings } from './warnings.js';
import { WorkerPool } from './worker-pool.js';

/**
 * Tracks corners through a clip: blurred by 1 px (at 960 px width, as all lengths here), min-eigenvalue corners spread
 * over a 16 x 9 grid, uniform dither on every start, pyramidal Lucas-Kanade from frame to frame, kept when the way back
 * ends within 0.4 px, ended after 45 frames, and topped up when more than 4 % are missing. Where the picture changes its
 * scale (or as `refine` says) each place is refined against a template of 25 x 25 px, every second row, cut at the start of the track, under
 * affine deformation, gain and offset; a track ends when its template moves it by more than 1.5 px or does not fit.
 *
 * The table covers the longest stretch between hard cuts, without repeated frames; `events` counts decoded frames.
 * A clip on which nothing can be followed gives an empty table and warnings, not an exception. Time stamps may be
 * uneven. The same frames and seed give the same result bit for bit, whatever the number of threads.
 *
 * @param frames decoded frames in order, all of one size; read one ahead
 * @throws TrundleError 'interrupted' when the signal fires
 * @throws RangeError when an option is out of range or a frame changes size
 * @throws Error when a worker dies; whatever the source of the frames throws
 * @remarks Method: Shi and Tomasi, CVPR 1994 (corners); Bouguet 2000 (pyramidal Lucas-Kanade); Kalal, Mikolajczyk and
 * Matas, ICPR 2010 (forward-backward check); Baker and Matthews, IJCV 2004 (templates); the dither and the limits are our own, from rendered clips with known motion.
 */
export async function trackFrames(
  frames: AsyncIterable<GreyFrame>,
  options: TrackingOptions = {},
): Promise<Tracking> {
  const settings = resolveTrackingOptions(options);
  const { threads, signal, expected } = settings;
  const source = new PullAhead(frames, signal);
  let pool: WorkerPool | undefined;
  // Its failure is told once it is wanted, after one of the source, and not at all when it is not.
  const early = expected && WorkerPool.start({ threads, ...expected, signal });
  early?.catch(() => undefined);
  try {
    const first = await source.take();
    if (!first)
      return summarise(
        { widthPx: 0, heightPx: 0, records: [], lights: [], types: [], log: emptyLog() },
        settings,
      );
    const { widthPx, heightPx } = first;
    const scale = scaleFor(widthPx);
    const isExpected = expected?.widthPx === widthPx && expected.heightPx === heightPx;
    pool = await (isExpected ? early : WorkerPool.start({ threads, widthPx, heightPx, signal }));
    assert(pool, 'a pool was started for the size that was expected');
    const tracks = new LiveTracks(settings.seed, settings.ditherPx);
    const replenisher = new Replenisher(pool, settings.targetTracks, widthPx, heightPx, scale);
    const comparer = new FrameComparer(widthPx, heightPx);
    const templates = new RefineSwitch(settings.refine);
    const records: FrameRecord[] = [];
    const types: FrameType[] = [];
    const lights: (LightStep | null)[] = [];
    const { onFollowed } = settings;
    /** What is left to do for the frame before, and holds nobody up. */
    let aside = (): void => {};
    let last = first;
    let next: Seen | undefined = { frame: first, look: comparer.look(first.grey) };
    while (next) {
      const { frame, look }: Seen = next;
      if (frame.widthPx !== widthPx || frame.heightPx !== heightPx) {
        throw new RangeError(
          `frame ${frame.index}: expected ${widthPx} x ${heightPx} px as before, got ${frame.widthPx} x ${frame.heightPx}`,
        );
      }
      const k = records.length;
      const refined = templates.isOn;
      const before = tracks.points();
      const following = followInto(pool, frame.grey, look.relight, tracks, refined);
      // The workers are busy now: what this thread does by itself costs no time.
      const coming = seeNext(source, comparer);
      aside();
      const found = await following;
      const step = tracks.advance(k, found);
      const held = kept(before, found);
      const from = last;
      aside = () => {
        lights.push(lightStep(from, frame, held.before, held.after));
        onFollowed?.({ timeS: frame.timeS, widthPx, heightPx, grey: frame.grey, ...held });
        // The first frame stands for its own predecessor and is needed once more.
        if (from !== frame) from.release?.();
      };
      last = frame;
      records.push({ timeS: frame.timeS, look, step, refined });
      types.push(frame.type);
      templates.note(step.scaleRate);
      if (!templates.isOn) tracks.dropTemplates();
      await replenisher.topUp(tracks, k);
      settings.onFrame?.(records.length);
      next = await coming;
    }
    aside();
    settings.onEngineHeap?.(await pool.engineHeapBytes());
    return summarise({ widthPx, heightPx, records, lights, types, log: tracks.log }, settings);
  } finally {
    const unused = early?.catch(() => undefined).then((one) => (one === pool ? undefined : one?.close()));
    await Promise.all([pool?.close(), unused, source.stop()]);
  }
}

/** A frame with what it looks like beside the one before. */
interface Seen {
  readonly frame: GreyFrame;
  readonly look: FrameLook;
}

/** The next frame, looked at as soon as it is there; undefined at the end. */
function seeNext(source: PullAhead<GreyFrame>, comparer: FrameComparer): Promise<Seen | undefined> {
  const coming = source.take().then((frame) => frame && { frame, look: comparer.look(frame.grey) });
  // A failure is told when the frame is wanted; until then it is not an unhandled one.
  coming.catch(() => undefined);
  return coming;
}

const NO_TRACKS: TrackPoints = {
  tracks: new Int32Array(),
  points: { xPx: new Float32Array(), yPx: new Float32Array() },
};

/** Share of the points whose prediction may fail before no prediction in the frame is trusted. */
const UNPREDICTED_SHARE = 0.15;

/** Where the live tracks lie in the next frame. A sudden jerk of the camera makes the whole frame be searched thoroughly. */
async function followInto(
  pool: WorkerPool,
  grey: Uint8Array,
  relight: Relight | null,
  tracks: LiveTracks,
  refine: boolean,
): Promise<Followed> {
  const cut = refine ? tracks.takeUntemplated() : NO_TRACKS;
  const [points, predicted] = [tracks.points(), tracks.predictions()];
  const first = await pool.step({ grey, relight, cut, tracks: tracks.ids(), points, predicted, refine });
  let searched = 0;
  for (const one of first.searched) searched += one;
  return searched <= UNPREDICTED_SHARE * first.searched.length ? first : pool.again();
}

/** The points that came through the check, before and after. */
function kept(before: Points, found: Followed): Pick<FollowedFrame, 'before' | 'after'> {
  const held = (values: Float32Array): Float32Array => values.filter((_, i) => found.kept[i] !== 0);
  return {
    before: { xPx: held(before.xPx), yPx: held(before.yPx) },
    after: { xPx: held(found.xPx), yPx: held(found.yPx) },
  };
}

interface ClipTracks {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly records: readonly FrameRecord[];
  /** How the light on the points changed into each frame; null when too few tell. */
  readonly lights: readonly (LightStep | null)[];
  readonly types: readonly FrameType[];
  readonly log: ObservationLog;
}

function emptyLog(): ObservationLog {
  return { track: [], frame: [], xPx: [], yPx: [] };
}

/** Judges the frames, cuts the table out of the log and says what is wrong with the clip. */
function summarise(clip: ClipTracks, { targetTracks, stored }: ResolvedTrackingOptions): Tracking {
  const { widthPx, heightPx, records, lights, types, log } = clip;
  const cuts = findCuts(records);
  const stretch = longestStretch(records, cuts);
  const duplicates = findRepeats(records, cuts, widthPx ? scaleFor(widthPx).unitPx : 1);
  const events: FrameEvents = { cuts, duplicates, frozen: findFreezes(records, duplicates) };
  const isRepeat = new Set(duplicates);
  const kept: number[] = [];
  for (let k = stretch.from; k < stretch.to; k++) if (!isRepeat.has(k)) kept.push(k);
  const table = buildTrackTable(log, { widthPx, heightPx, frames: kept, timeS: records.map((r) => r.timeS) });
  const liveCount = liveCounts(table);
  const meanGrey = records.length ? mean(records.map((r) => r.look.meanGrey)) : 0;
  const contrastGrey = records.length ? mean(records.map((r) => r.look.contrastGrey)) : 0;
  return {
    table,
    events,
    liveCount,
    coverage: coverageOf(table),
    noisePx: trackingNoisePx(table),
    refinedShare: refinedShare(kept, liveCount, records),
    interCoded: interCoded(types),
    meanGrey,
    contrastGrey,
    levels: levelsOf(kept, records),
    copied: copiedSteps(table, {
      x: (stored?.widthPx ?? widthPx) / widthPx,
      y: (stored?.heightPx ?? heightPx) / heightPx,
    }),
    light: lightCourse(
      kept.map((k) => records[k].timeS),
      kept.map((k) => lights[k]),
    ),
    warnings: trackingWarnings({ records, events, stretch, liveCount, targetTracks, meanGrey, contrastGrey }),
  };
}

/** Brightness of the frames that the table holds. */
function levelsOf(kept: readonly number[], records: readonly FrameRecord[]): FrameLevels {
  const mean = new Float64Array(kept.length * LEVEL_BANDS);
  kept.forEach((frame, i) => mean.set(records[frame].look.bandGrey, i * LEVEL_BANDS));
  return { timeS: Float64Array.from(kept, (frame) => records[frame].timeS), bands: LEVEL_BANDS, mean };
}

/** Share of the observations of the table that lie in frames whose tracks were refined. */
function refinedShare(
  kept: readonly number[],
  liveCount: Int32Array,
  records: readonly FrameRecord[],
): number {
  let all = 0;
  let refined = 0;
  kept.forEach((frame, i) => {
    all += liveCount[i];
    if (records[frame].refined) refined += liveCount[i];
  });
  return all > 0 ? refined / all : 0;
}

/** True with any predicted frame, false when all are known to stand alone, null otherwise. */
function interCoded(types: readonly FrameType[]): boolean | null {
  if (types.some((type) => type === 'P' || type === 'B')) return true;
  return types.length === 0 || types.includes('?') ? null : false;
}
