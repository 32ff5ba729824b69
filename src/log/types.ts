/** What the log takes in and gives out: an entry to keep, the line of a list, the whole of a kept run. */
import type { PassSheet, RunDocument, RunSeries } from '../run/index.js';
import type { NAME_FILTERS } from './query.js';

/** A measured run to be kept. */
export interface LogEntry {
  readonly run: RunDocument;
  /** What it was measured with, as `settingsKey` gives it; a run without one is not found by `runOf`. */
  readonly settingsKey?: string | null;
  /** Of the same measurement; null when there is none. */
  readonly series: RunSeries | null;
  /** Where its report was written, absolute; null for none. */
  readonly reportFolder: string | null;
  /** The picture of the report, JPEG. */
  readonly picture: Uint8Array | null;
  /** A small one to list it by, JPEG. */
  readonly thumbnail: Uint8Array | null;
}

/** What became of an entry. */
export interface Kept {
  readonly id: number;
  /** Runs whose report folder was this one: their files were replaced, their data stay. */
  readonly replaced: readonly number[];
  /** True where a run of the same clip and settings was there and this one was not kept beside it. */
  readonly already?: true;
}

/** A run as it is listed; figures as in its document, null where they are not known. */
export interface LogRow {
  readonly id: number;
  /** When it was measured, ISO 8601 in UTC. */
  readonly createdAt: string;
  readonly clipFile: string;
  readonly clipSha256: string;
  /** From where to where the clip was measured, seconds from its start. */
  readonly rangeS: readonly [number, number];
  /** The sheet of the pass as it stands now. */
  readonly pass: PassSheet;
  readonly speedMps: number | null;
  readonly focalLengthMm: number | null;
  /** What it was judged for. */
  readonly delivery: {
    readonly name: string | null;
    readonly widthPx: number;
    readonly heightPx: number;
    /** Limits, per cent of the width and px RMS; null where a document of another version does not tell them. */
    readonly maxCropPercent: number | null;
    readonly maxResidualPx: number | null;
  };
  readonly grade: RunDocument['verdict']['grade'];
  /** Codes of the doubts that stand beside the verdict, those that weigh most first. */
  readonly doubts: readonly string[];
  readonly cropPercent: number;
  /** False when a frame needs more than half of the width. */
  readonly coverable: boolean;
  /** Shake left after stabilising, px RMS of the delivery. */
  readonly residualPx: number | null;
  /** Vibration, degrees RMS; null below the noise floor too. */
  readonly panRmsDeg: number | null;
  readonly tiltRmsDeg: number | null;
  readonly rollRmsDeg: number | null;
  /** Class of the floor between joints and bumps (ISO 8608 letters). */
  readonly surfaceClass: string | null;
  readonly toolVersion: string;
  /** False when the document is of another version than this program reads: it is listed, but not opened. */
  readonly readable: boolean;
  /** Where its report is; null when there is none or another run's has taken its place. */
  readonly reportFolder: string | null;
  readonly hasSeries: boolean;
}

/** What there is in a log to look for. */
export interface LogOverview {
  readonly runs: number;
  /** By the conditions that are a name, in the order of the alphabet, as they were written. */
  readonly names: Readonly<Record<(typeof NAME_FILTERS)[number], readonly string[]>>;
  readonly tags: readonly string[];
}

/** A kept run as a whole. */
export interface LoggedRun {
  readonly row: LogRow;
  /** With the sheet as it stands now. */
  readonly run: RunDocument;
  readonly series: RunSeries | null;
  readonly picture: Uint8Array | null;
  readonly thumbnail: Uint8Array | null;
}

/** Entries of the sheet to be changed; null takes an entry off. Tags are changed by `tag`. */
export type SheetChange = {
  readonly [Name in keyof Omit<PassSheet, 'tags'>]?: PassSheet[Name] | null;
};
