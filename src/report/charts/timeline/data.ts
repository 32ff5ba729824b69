/** What the time line of the six axes is drawn from: plain arrays that survive JSON, in the units that are printed, time in seconds. */
import type { TimecodeBase } from '../timecode-at.js';

/** A series that is sampled evenly: `values[i]` stands at sample `i * every`. */
export interface EvenSeries {
  readonly every: number;
  readonly values: readonly number[];
}

/** One axis whose shake stands above its noise. */
export interface TimelineCurve {
  /** Samples that are stored, ascending; null when every one is. */
  readonly at: readonly number[] | null;
  /** Shake, one value for each stored sample. */
  readonly shake: readonly number[];
  readonly intended: EvenSeries;
  /** Noise floor, 1 sigma: drawn as a band of twice that to each side. */
  readonly noise: number;
  /** Half height of the scale; axes of one kind share it. */
  readonly reach: number;
}

/** One row. */
export interface TimelineAxis {
  readonly id: string;
  readonly name: string;
  readonly kind: 'angular' | 'translational';
  /** Unit of the curve, as printed. */
  readonly unit: string;
  /** What stands beside the name: the usual size, a bound, or that nothing can be seen. */
  readonly words: string;
  /** The same for a narrow drawing. */
  readonly shortWords: string;
  /** What a reading says where there is no curve. */
  readonly quietWords: string;
  /** Null where noise hides the shake or the clip does not show it: the row then says so and takes little height. */
  readonly curve: TimelineCurve | null;
}

/** Where the dolly was: from `fromS` on, one place for each step. */
export interface TimelinePlaces {
  readonly unit: string;
  readonly fromS: number;
  readonly stepS: number;
  /** Ascending. */
  readonly place: readonly number[];
}

/** Something on the floor, at the time when an axle of the dolly meets it. */
export interface TimelineMark {
  readonly atS: number;
  readonly axle: 'front' | 'rear';
  /** Its number in the list of the floor; empty draws the place alone. */
  readonly mark: string;
  readonly name: string;
}

/** The whole chart. */
export interface TimelineData {
  readonly label: string;
  readonly axes: readonly TimelineAxis[];
  /** Time of the first sample, samples a second, number of samples. */
  readonly fromS: number;
  readonly rateHz: number;
  readonly count: number;
  /** Samples at each end that no statistic uses: drawn dimmed. */
  readonly trimFrames: number;
  readonly clip: TimecodeBase;
  readonly places: TimelinePlaces | null;
  readonly marks: readonly TimelineMark[];
}

/** Id of the switch for the intended moves. */
export const MOVE = 'move';

/** Time of a sample. */
export function timeOf({ fromS, rateHz }: TimelineData, sample: number): number {
  return fromS + sample / rateHz;
}

/** The place at a time; the ends hold before and after. */
export function placeAt({ fromS, stepS, place }: TimelinePlaces, atS: number): number {
  const last = place.length - 1;
  const i = Math.max(0, Math.min(last, (atS - fromS) / stepS));
  const low = Math.min(last, Math.floor(i));
  const high = Math.min(last, low + 1);
  return place[low] + (i - low) * (place[high] - place[low]);
}

/** Largest absolute value of a series, 0 for an empty one. */
export function reachOf(values: ArrayLike<number>): number {
  let reach = 0;
  for (let i = 0; i < values.length; i++) reach = Math.max(reach, Math.abs(values[i]));
  return reach;
}
