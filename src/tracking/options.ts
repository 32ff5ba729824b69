/** Settings of the tracker, completed once; lengths are stated at a picture width of 960 px and scaled with the width. */
import type { Points, TemplateSize } from '../vision/index.js';

/** When tracks are refined against a template: as the move asks for it, on every frame, or on none. */
export type Refine = 'auto' | 'always' | 'never';

/** One frame as the tracker left it. Arrays are lent for the time of the call: what is to last has to be copied. */
export interface FollowedFrame {
  /** Seconds from the start of the clip, from the container. */
  readonly timeS: number;
  readonly widthPx: number;
  readonly heightPx: number;
  /** Length widthPx heightPx, row by row, 0 black. */
  readonly grey: Uint8Array;
  /** Points of the frame before that were found again, and where each lies in this one, px; empty in the first frame. */
  readonly before: Points;
  readonly after: Points;
}

/** What a caller may set. */
export interface TrackingOptions {
  /** Seed of the dither; the same clip and seed give the same tracks, bit for bit. */
  readonly seed?: number;
  /** Tracks held alive at once. */
  readonly targetTracks?: number;
  /** Worker threads that follow points; the result does not depend on it. */
  readonly threads?: number;
  /** Half-width of the uniform dither of new starts, px. Zero brings back a sub-pixel bias that all tracks share. */
  readonly ditherPx?: number;
  /**
   * Whether places found by Lucas-Kanade are refined against an affine template of each track. 'auto' does so where the
   * picture changes its scale, as in a push-in, where frame-to-frame matching drifts.
   */
  readonly refine?: Refine;
  /** Size that the frames are going to have, where it is known: the workers then start while the first frame is decoded. */
  readonly expected?: { readonly widthPx: number; readonly heightPx: number };
  /** Size of the upright picture in the pixels of the file; that of the frames when missing. */
  readonly stored?: { readonly widthPx: number; readonly heightPx: number };
  /** Called after each frame with the number of frames done. */
  readonly onFrame?: (count: number) => void;
  /** Shown each frame in turn while the workers are at the next one, so that a short look at it costs no time. */
  readonly onFollowed?: (frame: FollowedFrame) => void;
  /** Called at the end with the largest memory of any worker's image engine, bytes. */
  readonly onEngineHeap?: (bytes: number) => void;
  /** Stops the work; the promise then rejects with TrundleError 'interrupted'. */
  readonly signal?: AbortSignal;
}

/** Defaults of TrackingOptions. */
export const TRACKING_DEFAULTS = {
  seed: 1,
  targetTracks: 280,
  threads: 2,
  ditherPx: 0.5,
  refine: 'auto' as Refine,
} as const;

/** TrackingOptions with every default filled in. */
export type ResolvedTrackingOptions = TrackingOptions & {
  readonly seed: number;
  readonly targetTracks: number;
  readonly threads: number;
  readonly ditherPx: number;
  readonly refine: Refine;
};

/** Fills in the defaults. @throws RangeError naming the option that is out of range */
export function resolveTrackingOptions(options: TrackingOptions): ResolvedTrackingOptions {
  const resolved = { ...TRACKING_DEFAULTS, ...options };
  if (!Number.isInteger(resolved.threads) || resolved.threads < 1) {
    throw new RangeError(`threads: expected a whole number from 1, got ${resolved.threads}`);
  }
  if (!Number.isInteger(resolved.targetTracks) || resolved.targetTracks < 1) {
    throw new RangeError(`targetTracks: expected a whole number from 1, got ${resolved.targetTracks}`);
  }
  if (!(resolved.ditherPx >= 0 && resolved.ditherPx <= 2)) {
    throw new RangeError(`ditherPx: expected 0 to 2, got ${resolved.ditherPx}`);
  }
  if (!['auto', 'always', 'never'].includes(resolved.refine)) {
    throw new RangeError(`refine: expected auto, always or never, got ${resolved.refine}`);
  }
  return resolved;
}

/** Width at which the lengths below were tuned, px. */
const TUNED_WIDTH_PX = 960;

/** Every length that depends on the size of the picture, px. */
export interface Scale {
  readonly blurSigmaPx: number;
  readonly windowPx: number;
  readonly levels: number;
  /** Levels that do when a point lies near its prediction, and how near that is. */
  readonly fineLevels: number;
  readonly fineReachPx: number;
  readonly blockPx: number;
  /** Largest distance between a point and where it comes back to when followed forth and back. */
  readonly returnErrorPx: number;
  /** Smallest distance of a new start from any track. */
  readonly spacingPx: number;
  /** Tracks end this close to the border. */
  readonly trackMarginPx: number;
  /** Starts keep this far from the border. */
  readonly startMarginPx: number;
  readonly template: TemplateSize;
  /** Largest distance between where Lucas-Kanade and where the template puts a point. */
  readonly templateReachPx: number;
  /** Unit of a shift that means something, for the judgement of repeats: 1 at 960 px. */
  readonly unitPx: number;
}

/** Distance of the rows of a template, px at the tuned width. */
const TEMPLATE_ROW_STEP = 2;

/** Lengths for a picture width; below half the tuned width they stop shrinking, or windows would hold no texture. */
export function scaleFor(widthPx: number): Scale {
  const factor = Math.max(0.5, widthPx / TUNED_WIDTH_PX);
  const windowPx = 2 * Math.round((21 * factor - 1) / 2) + 1;
  // Three halvings above the base at 960 px reach about 30 px of motion; each doubling of the width needs one more.
  const levels = Math.max(2, 3 + Math.round(Math.log2(factor)));
  const half = (windowPx - 1) / 2;
  const template = { halfPx: Math.round(12 * factor), rowStepPx: Math.max(1, TEMPLATE_ROW_STEP * factor) };
  return {
    blurSigmaPx: factor,
    windowPx,
    levels,
    fineLevels: Math.max(1, levels - 2),
    // Measured on textures of many kinds: the two finest levels are as sure as all four up to 8 px, and fail at 12 px.
    fineReachPx: 6 * factor,
    blockPx: 2 * Math.round((7 * factor - 1) / 2) + 1,
    returnErrorPx: 0.4 * factor,
    spacingPx: Math.max(5, 0.01 * widthPx),
    trackMarginPx: half,
    // A template is cut between the pixels, half a pixel off by dither, and its slopes take half a pixel more.
    startMarginPx: Math.max(half, template.halfPx) + 3,
    template,
    templateReachPx: 1.5 * factor,
    unitPx: factor,
  };
}

/**
 * Frames after which a track ends: chained matching drifts, so long tracks are worth less than fresh ones. Templates do
 * not drift, yet with them too shorter lives erred less on coded push-ins (by 7 % against none, 4 % against 70 frames):
 * what a template took over from a coded frame stays with its track.
 */
export const LIFE_FRAMES = 45;

/** Share of the target that may be missing before new starts are looked for. */
export const TOP_UP_SHARE = 0.04;

/** Tracks seen on fewer frames than this are left out of the table. */
export const LEAST_FRAMES = 6;
