/** What the tracking room hands on: the table of tracks and what happened to the frames. */
import type { Warning } from '../run/index.js';
import type { CopiedSteps } from './doubt/copied-steps.js';
import type { LightCourse } from './doubt/exposure-change.js';

/**
 * Tracks as columns. Observations are sorted by track, then by frame; track i owns the observations
 * trackStart[i] .. trackStart[i+1]-1. Positions are in analysis pixels, pixel centres on whole numbers.
 * Frames are the measured ones: the longest stretch between hard cuts, without repeated frames.
 */
export interface TrackTable {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly frameCount: number;
  /** Seconds, length frameCount, from the container. */
  readonly timeS: Float64Array;
  readonly trackCount: number;
  /** Length trackCount + 1. */
  readonly trackStart: Int32Array;
  /** Frame of each observation, 0-based. */
  readonly obsFrame: Int32Array;
  readonly xPx: Float64Array;
  readonly yPx: Float64Array;
}

/** What was seen on single frames while tracking; frames are counted as decoded, not as numbered in the table. */
export interface FrameEvents {
  /** First frame after each hard cut. */
  readonly cuts: readonly number[];
  /** Frames that repeat the one before (bit-identical or within coding noise); they are left out of the table. */
  readonly duplicates: readonly number[];
  /** Runs of repeats longer than 0.2 s: [first, last] frame. */
  readonly frozen: readonly (readonly [number, number])[];
}

/** How bright the picture was, over time and from top to bottom: light that flickers shows here and nowhere in the tracks. */
export interface FrameLevels {
  /** Seconds, one for each frame of the table. */
  readonly timeS: Float64Array;
  /** Number of bands of equal height, top first. */
  readonly bands: number;
  /** Mean grey level 0..255 of each band, as coded (not linear in light); frame after frame, length timeS.length * bands. */
  readonly mean: Float64Array;
}

/** The tracks of a clip and how well it could be followed. */
export interface Tracking {
  readonly table: TrackTable;
  readonly events: FrameEvents;
  /** Tracks of the table in each of its frames. */
  readonly liveCount: Int32Array;
  /** Share of a 16 x 9 grid that holds a track, mean over frames, 0..1. */
  readonly coverage: number;
  /** Tracking noise, px per axis, from third differences of the tracks in time: needs no motion model. */
  readonly noisePx: number | null;
  /** Share of the observations that were refined against affine templates, 0..1; the rest are Lucas-Kanade alone. */
  readonly refinedShare: number;
  /** True when any frame was predicted from another (P or B); null when the types are unknown. */
  readonly interCoded: boolean | null;
  /** Mean grey level and contrast (standard deviation) over the frames, 0..255. */
  readonly meanGrey: number;
  readonly contrastGrey: number;
  readonly levels: FrameLevels;
  /** The light on the places that were followed. */
  readonly light: LightCourse;
  /** Whether the picture moves in steps of the coder; null where its motion does not tell. */
  readonly copied: CopiedSteps | null;
  readonly warnings: readonly Warning[];
}
