/** What the motion room hands on: the camera's path on six axes, split into intended move and vibration. */
import type { Camera } from '../optics/index.js';
import type { Axis, SixAxes, Warning } from '../run/index.js';

/** Whether translation can be told from rotation in this clip at all. */
export type Observability = 'yes' | 'flagged' | 'no';

/** The measured vibration on one axis. Radians for angles; for translation the unit of `Motion.translationUnit`. */
export interface AxisEstimate {
  readonly status: 'value' | 'wide' | 'below' | 'notObservable';
  /** De-biased RMS in the band, ends left out; null when notObservable. */
  readonly rms: number | null;
  /** RMS as measured, noise included. */
  readonly rawRms: number;
  /** 99.5 minus 0.5 percentile. */
  readonly peakToPeak: number;
  readonly maximum: number;
  /** Noise floor in the band (1 sigma, RMS), error shared by regions of coded pictures included. */
  readonly floor: number;
  /** The part of the floor that is independent from track to track: what was taken off the measured power. */
  readonly plainFloor: number;
  readonly ci95: readonly [number, number] | null;
  /** Upper bound, always given: "below X" prints it. */
  readonly below: number;
}

/** Why pan and lateral, tilt and vertical could not be told apart. */
export type UnsplitCause = 'flatScene' | 'noTravel' | 'shortTracks';

/** One thing to change for the next pass. */
export interface SplitChange {
  readonly code: string;
  readonly text: string;
}

/**
 * What can be said where they could not: pan and tilt of the motion then are equivalents that take in what lateral and
 * vertical motion there is, as the turn that shifts the picture as much at the mean inverse depth.
 */
export interface Unsplit {
  readonly cause: UnsplitCause;
  /** Upper bounds (97.5 %) if all of it were angular, rad. */
  readonly ifAllAngular: { readonly panRad: number; readonly tiltRad: number };
  /** ... and if all of it were translation, in translationUnit. */
  readonly ifAllTranslation: { readonly lateral: number; readonly vertical: number };
  readonly change: readonly SplitChange[];
}

/** How well the clip tells translation from rotation. */
export interface Separation {
  /** Correlations of the errors, mean over the frames that count; null when rotation-only. */
  readonly correlation: { readonly panLateral: number; readonly tiltVertical: number } | null;
  /** Fisher information of the pose of each sample, 36 a sample, row-major, order of AXES; rad and translationUnit. */
  readonly information: Float64Array;
  /** Null when the split holds. */
  readonly unsplit: Unsplit | null;
}

/** How far away the scene is, as the tracks saw it; inverse depths in 1/translationUnit. */
export interface SceneDepth {
  readonly median: number;
  readonly meanInverse: number;
  readonly sdInverse: number;
}

/** What is known of a sensor that is read row by row from top to bottom, and what was done about it. */
export interface ReadoutReport {
  /** Where the readout time comes from: told by the crew, found in the clip, or nowhere. */
  readonly source: 'given' | 'found' | 'none';
  /** Time from the first row to one past the last, seconds; null when not known, or found but vague (see ci95S). */
  readonly readoutS: number | null;
  /** 95 % interval of a readout that was looked for, seconds; null when it was given or there was no need to look. */
  readonly ci95S: readonly [number, number] | null;
  /** notNeeded: no readout that is possible here could matter; notMeasurable: one could, but none stands out. */
  readonly state: 'corrected' | 'notNeeded' | 'notMeasurable';
  /** Relative fall of the robust cost when the motion within the frames is modelled, 0..1; null when not looked for. */
  readonly costFall: number | null;
}

/** What is known of a lens that bends straight lines, and what was done about it. */
export interface DistortionReport {
  /** Where the distortion comes from: told by the crew, found in the clip, or nowhere. */
  readonly source: 'given' | 'found' | 'none';
  /** Radial distortion of the third order, points over the focal length; null when not known. */
  readonly k1: number | null;
  /** 95 % interval of a k1 that was looked for; null when there was no need to look, or the lens bends more than k1 can. */
  readonly ci95: readonly [number, number] | null;
  /**
   * notNeeded: no k1 that is possible here could matter; notMeasurable: one could, but none stands out (source none), or the
   * strongest that is possible is not enough (source found).
   */
  readonly state: 'corrected' | 'notNeeded' | 'notMeasurable';
  /** Relative fall of the robust cost when lines may bend, 0..1; null when not looked for, or nothing fits without. */
  readonly costFall: number | null;
  /** Largest change of each axis' RMS within the interval, as a share of it; null when not looked for. */
  readonly rmsShare: Readonly<Record<Axis, number>> | null;
}

/** An axis whose figure stands but should not be relied upon, and why, in words for a reader. */
export interface UnreliableAxis {
  readonly axis: Axis;
  readonly reason: string;
}

/** The camera's motion over a clip: series, figures with their uncertainty, and what could not be told. */
export interface Motion {
  /** Seconds, length n, evenly spaced at rateHz. */
  readonly timeS: Float64Array;
  readonly rateHz: number;
  /** Largest shift of a time stamp made by resampling to an even rate, seconds. */
  readonly resampleShiftS: number;
  readonly mode: 'full' | 'rotationOnly';
  /** Cumulative series from frame 0: path = intended + vibration. */
  readonly path: SixAxes;
  readonly intended: SixAxes;
  readonly vibration: SixAxes;
  /** Standard deviation per frame of each axis of the path (white part). */
  readonly noiseSd: SixAxes;
  readonly translationUnit: 'm' | 'medianDepth';
  readonly travelM: number | null;
  /** Null when rotation-only. */
  readonly depth: SceneDepth | null;
  readonly axes: Readonly<Record<Axis, AxisEstimate>>;
  readonly bandHz: readonly [number, number];
  /** Samples at each end that are left out of every statistic. */
  readonly trimFrames: number;
  /** Strongest parallax between two frames over the noise of the tracks; 1.3-1.5 for a camera that only turns. */
  readonly parallaxP: number;
  readonly observable: Observability;
  readonly observableReason: string | null;
  readonly separation: Separation;
  /** Share of the squared travel that runs along the lens, 0..1. */
  readonly alongLens: number;
  readonly angularShare: { readonly value: number | null; readonly ci95: readonly [number, number] | null };
  /** Robust residual of the adjustment, analysis px per axis. */
  readonly sigmaPx: number;
  /** Share of tracks that the adjustment kept. */
  readonly keptShare: number;
  /** Live tracks and kept tracks in each frame of the table. */
  readonly tracksPerFrame: Int32Array;
  readonly inliersPerFrame: Int32Array;
  /**
   * Of each observation of the track table: 1 where the adjustment kept it, 0 where it did not (moved by itself, lost, or seen too
   * shortly to take part). Empty for a motion that was read back: the table is gone then.
   */
  readonly keptObservations: Uint8Array;
  readonly readout: ReadoutReport;
  readonly distortion: DistortionReport;
  /** The camera that the figures hold for: the one given, with the distortion that was found. */
  readonly camera: Camera;
  readonly unreliable: readonly UnreliableAxis[];
  readonly warnings: readonly Warning[];
}
