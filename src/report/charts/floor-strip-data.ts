/** What the strip of a run is drawn from: heights of the wheel lines in mm by place in m, bumps worst first, the row of joints. */
import type { AlongRun } from './distance-axis.js';

/** A wheel line, or the mean of both where they are not known apart. */
export interface StripLine {
  readonly id: 'left' | 'right' | 'mean';
  /** Height and half of its 95 % band, mm, at each of `distanceM`; empty where no profile is known. */
  readonly heightMm: readonly number[];
  readonly bandMm: readonly number[];
}

/** A joint, step, bump or dip. */
export interface StripBump {
  /** Its number in the list; empty for one that has none in the drawing. */
  readonly mark: string;
  readonly atM: number;
  readonly kind: 'joint' | 'step' | 'bump' | 'dip';
  readonly wheelLine: 'left' | 'right' | 'both' | 'unknown';
  /** Height of the mean, + up, and under each wheel line where they are known apart, mm. */
  readonly heightMm: number;
  readonly leftMm: number | null;
  readonly rightMm: number | null;
  /** As the list tells it. */
  readonly words: string;
}

/** What the strip shows. */
export interface FloorStripData extends AlongRun {
  /** Ascending, m. */
  readonly distanceM: readonly number[];
  /** Left and right, or the mean alone. */
  readonly lines: readonly StripLine[];
  /** Worst first. */
  readonly bumps: readonly StripBump[];
  readonly joints: { readonly firstM: number; readonly spacingM: number; readonly count: number } | null;
}
