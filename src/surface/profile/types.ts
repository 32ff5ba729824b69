/** What the profile of a run is made of: the information that a pass holds on the heights under its wheels, metres. */

/** Pitch and heave see the mean of the left and right wheel track, deck roll sees left minus right. */
export type TrackSum = 'mean' | 'difference';

/** Levels of the floor's w = 2 spectrum, Gd(n0) in m^3: the prior of a profile. Null where the pass does not show that sum. */
export interface FloorLevels {
  readonly meanTrackM3: number | null;
  readonly differenceM3: number | null;
}

/** A stretch of a pass that is solved in one piece. */
export interface Stretch {
  /** First frame and one past the last, of the deck's columns. */
  readonly fromFrame: number;
  readonly toFrame: number;
  /** Part of the run that it answers for, metres; the stretches of a pass tile [rear axle at the first frame, front axle at the last]. */
  readonly answersM: readonly [number, number];
}

/**
 * What a stretch says of heights that are added to the rough floor: after the floor's own prior and the drift of the series are
 * integrated out, ln likelihood(h) = score . h - h' information h / 2 for heights h at the nodes.
 */
export interface StretchInformation {
  readonly track: TrackSum;
  readonly stretch: Stretch;
  /** Places of the n nodes, rising, metres: every place at which an axle was when a frame was taken. */
  readonly nodesM: Float64Array;
  /** Q = J - J (J + prior)^-1 J, n * n row-major, symmetric, 1/m^2. */
  readonly information: Float64Array;
  /** g - J m, length n, 1/m, with m the posterior mean of the floor. */
  readonly score: Float64Array;
}

/** Heights along the run, columns of equal length; what the passband holds, so without the longest and shortest waves. */
export interface SurfaceProfile {
  /**
   * Even steps of one frame's travel (of several where frames lie very dense, then at most 10 mm), metres, from the rear axle at the
   * first frame to the front axle at the last.
   */
  readonly distanceM: Float64Array;
  /** Mean of both wheel tracks, metres, + up, and the standard deviation of its error. */
  readonly heightM: Float64Array;
  readonly sdM: Float64Array;
  /** Each wheel line by itself; null without deck roll. */
  readonly sides: {
    readonly leftM: Float64Array;
    readonly rightM: Float64Array;
    /** Of the error of either line. */
    readonly sdM: Float64Array;
  } | null;
}
