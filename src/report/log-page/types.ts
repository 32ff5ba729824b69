/** What the page of the log is made from: runs as the log lists them, newest first. */
import type { PassSheet, Units, VerdictSection } from '../../run/index.js';

/** A run as it is listed; figures as in its document, null where they are not known. */
export interface ListedRun {
  readonly id: number;
  /** ISO 8601 in UTC. */
  readonly createdAt: string;
  readonly clipFile: string;
  readonly pass: PassSheet;
  readonly speedMps: number | null;
  readonly focalLengthMm: number | null;
  readonly delivery: { readonly name: string | null; readonly widthPx: number; readonly heightPx: number };
  readonly grade: VerdictSection['grade'];
  /** Codes of the doubts that stand beside the verdict. */
  readonly doubts: readonly string[];
  readonly cropPercent: number;
  /** False when a frame needs more than half of the width. */
  readonly coverable: boolean;
  readonly residualPx: number | null;
  readonly surfaceClass: string | null;
  /** False when it was kept by another version of the program. */
  readonly readable: boolean;
}

/** A run and what the page shows of it besides. */
export interface ShownRun {
  readonly run: ListedRun;
  /** Where its report is, as an address the page can lead to; null when it is gone. */
  readonly reportHref: string | null;
  /** A small picture as a data URI; null for none. */
  readonly thumbnailUri: string | null;
}

/** The whole page. */
export interface LogPage {
  readonly runs: readonly ShownRun[];
  /** Runs that fit but are not on the page. */
  readonly more: number;
  /** What was asked for, in words; empty for the whole log. */
  readonly filter: string;
  /** The file of the log. */
  readonly file: string;
  /** Date and minute of a moment, as this place writes them. */
  readonly atMinute: (iso: string) => string;
  readonly units: Units;
}
