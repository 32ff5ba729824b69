/** What the report room is given: a run document with the series, the plan and the frame that its charts show. */
import type { Motion } from '../motion/index.js';
import type { RunDocument, RunSeries } from '../run/index.js';
import type { WindowPlan } from './charts/index.js';

/** A colour picture, 8 bits a channel. */
export interface RgbPicture {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Length 3 widthPx heightPx, row by row, red green blue. */
  readonly rgb: Uint8Array;
  /** The file that it was read from, when it was one. */
  readonly jpeg?: Uint8Array;
}

/** Everything that one run folder is made from. */
export interface ReportBundle {
  readonly run: RunDocument;
  /** The motion at full precision, for questions asked later; belongs to `run`. */
  readonly series: RunSeries;
  readonly motion: Motion;
  /** Warps and zoom of the stabilisation; time stamps in seconds, one per warp. */
  readonly stabilisation: WindowPlan & { readonly timeS: Float64Array };
  /** A frame of the clip; null when none could be read. */
  readonly picture: RgbPicture | null;
  /** Where the frame was taken, seconds from the start of the clip. */
  readonly pictureAtS: number | null;
}

/** Where a report is read: as a file, beside the command line that wrote it, or on the local page, which has a form and sliders instead. */
export type Readers = 'file' | 'page';
