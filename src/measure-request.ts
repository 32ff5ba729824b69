/** What a caller may ask of a measurement, and how it can follow and stop it. */
import type { Tools } from './footage/index.js';
import type { RoughTurn } from './motion/index.js';
import type { Delivery, PassSheet, Rig, Units } from './run/index.js';
import type { StabiliseWish } from './settings/index.js';

/** Of every random choice, unless another one is asked for. */
export const DEFAULT_SEED = 1;

/** What to measure, and what is known about the rig and the delivery. */
export interface MeasureRequest {
  /** Path of the clip. */
  readonly clip: string;
  readonly rig?: Rig;
  readonly delivery?: Delivery;
  /** What the crew writes on the sheet of this pass: floor, lane, setup and the like. */
  readonly pass?: PassSheet | undefined;
  /** How lengths, heights and speeds are shown in report and summary; metric unless set. */
  readonly units?: Units | undefined;
  /** In point as people write it: timecode, frames or seconds; the head of the clip when missing. */
  readonly inPoint?: string | undefined;
  /** Out point, the first frame left out; the end of the clip when missing. */
  readonly outPoint?: string | undefined;
  /** Width the pictures are analysed at, px; 960 unless set. */
  readonly analysisWidthPx?: number | undefined;
  /** Where intended move ends and vibration begins, Hz; 0.8 unless set. */
  readonly cutoffHz?: number | undefined;
  /** Path of a log of angular rates recorded on the camera (CSV), to compare the angles with. */
  readonly motionLogFile?: string | undefined;
  readonly stabilise?: StabiliseWish | undefined;
  /** Report folder of another run of the same rig at another speed or frame rate, to tell floor and wheels from machines. */
  readonly otherRun?: string | undefined;
  /** Report folders of other surfaces (boards, rail) that could be laid over this floor, to foretell the shake on them. */
  readonly otherSurfaces?: readonly string[] | undefined;
  /** Seed of every random choice; the same seed gives the same figures, bit for bit. */
  readonly seed?: number | undefined;
}

/** What goes on while measuring. */
export type Stage = 'probe' | 'track' | 'split' | 'judge';

/** How far a measurement is, as a process that does it tells another. */
export interface StageProgress {
  readonly kind: 'progress';
  readonly stage: Stage;
  readonly done: number;
  /** Null where nobody knows. */
  readonly total: number | null;
}

/** What the tracker has before it: a grey frame with the points that are followed. */
export interface TrackedLook {
  /** Seconds from the start of the clip. */
  readonly timeS: number;
  /** Size of the frame, which the points count in, px. */
  readonly widthPx: number;
  readonly heightPx: number;
  /** Length widthPx heightPx, row by row, 0 black; a copy. */
  readonly grey: Uint8Array;
  readonly xPx: Float32Array;
  readonly yPx: Float32Array;
}

/** Rough angles of the camera at one frame, from the first frame on; see `roughTurn`. */
export interface RoughAngles extends RoughTurn {
  /** Seconds from the start of the clip. */
  readonly timeS: number;
}

/** Hooks of a measurement: progress and a way to stop it. */
export interface MeasureHooks {
  readonly onProgress?: (stage: Stage, done: number, total: number | null) => void;
  /** Shown a frame while tracking, at most four times a second. The figures do not depend on it. */
  readonly onLook?: (look: TrackedLook) => void;
  /** Told the rough angles at every frame while tracking; where no turn can be told they stay as they were. */
  readonly onAngles?: (angles: RoughAngles) => void;
  readonly signal?: AbortSignal;
  /** Worker threads of the tracker; 2 unless set. The figures do not depend on it. */
  readonly threads?: number;
  /** FFmpeg to use; looked for when missing. */
  readonly tools?: Tools;
}
