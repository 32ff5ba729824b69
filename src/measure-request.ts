/** What a caller may ask of a measurement, and how it can follow and stop it. */
import type { Tools } from './footage/index.js';
import type { Delivery, Rig } from './run/index.js';

/** What to measure, and what is known about the rig and the delivery. */
export interface MeasureRequest {
  /** Path of the clip. */
  readonly clip: string;
  readonly rig?: Rig;
  readonly delivery?: Delivery;
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
  /** Seed of every random choice; the same seed gives the same figures, bit for bit. */
  readonly seed?: number | undefined;
}

/** What goes on while measuring. */
export type Stage = 'probe' | 'track' | 'split' | 'judge';

/** Hooks of a measurement: progress and a way to stop it. */
export interface MeasureHooks {
  readonly onProgress?: (stage: Stage, done: number, total: number | null) => void;
  readonly signal?: AbortSignal;
  /** Worker threads of the tracker; 2 unless set. The figures do not depend on it. */
  readonly threads?: number;
  /** FFmpeg to use; looked for when missing. */
  readonly tools?: Tools;
}
