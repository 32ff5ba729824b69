/**
 * What the server of the local page and the page say to each other: paths, JSON shapes, events. Types only, so that both sides are held to
 * them; times in seconds, sizes in bytes, moments as ISO 8601 in UTC.
 *
 * Every path below needs the access token (a cookie set by the address that is printed at the start). Failures are
 * `application/problem+json` (RFC 9457) in the shape of `Problem`.
 *
 * | method and path | body | answer |
 * |---|---|---|
 * | GET /api/about | | About |
 * | GET /api/setups | | SavedSetup[] newest first |
 * | DELETE /api/setups/:id | | 204 |
 * | PUT /api/clips?name=FILE | the file, raw | ClipEntry, 201 |
 * | GET /api/folders/:id?path=PATH | | FolderListing |
 * | POST /api/clips/from-folder | { folder, path } | ClipEntry, 201 |
 * | GET /api/clips/:id | | ClipEntry |
 * | DELETE /api/clips/:id | | 204; a copy that no run uses goes |
 * | GET /api/clips/:id/posters | | Posters |
 * | GET /api/clips/:id/posters/:n | | JPEG |
 * | GET /api/clips/:id/frame?at=S&width=PX | | JPEG of the frame shown then |
 * | GET /api/jobs | | Job[] in order |
 * | POST /api/jobs | JobOrder | Job, 201 |
 * | DELETE /api/jobs/:id | | 204; stops one that waits or runs, else takes it off the list |
 * | GET /api/events | | server-sent events, see `PageEvents` |
 * | GET /api/runs?NAME=VALUE... | | RunList; names are the filters of the log, `text` and `limit` among them |
 * | GET /api/runs/:id | | StoredRun |
 * | PATCH /api/runs/:id | RunChange | RunRow |
 * | POST /api/runs/remove | { ids } | { removed: ids } |
 * | GET /api/runs/:id/thumbnail | | JPEG, 404 when none was kept |
 * | GET /api/runs/:id/picture | | JPEG, 404 when none was kept |
 * | GET /api/runs/:id/report | | ReportParts |
 * | GET /api/runs/:id/files/:name | | a file of the run folder, made anew where it is gone; ?paper= for report.pdf |
 * | GET /api/runs/:id/frames | | FramePack; making starts with the first question |
 * | GET /api/runs/:id/frames/:n | | JPEG |
 * | POST /api/runs/:id/clip | { clip } | FramePack; tells where the clip of an older run is |
 * | GET /api/comparison?runs=1,2&by=setup | | ComparisonParts; by and units may be missing: what differs, and the units of the first run |
 * | GET /api/comparison/page?runs=1,2&by=setup | | the comparison as one HTML file; by and units as above |
 */
import type { LogRow } from '../log/in-browser.js';
import type { ResolvedDelivery, RunDocument, RunSeries } from '../run/index.js';

/** A failure, RFC 9457. `code` is stable, `detail` one plain sentence for the person at the page. */
export interface Problem {
  readonly type: 'about:blank';
  readonly title: string;
  readonly status: number;
  readonly detail: string;
  readonly code: string;
}

/** What the page has to know before anything else. */
export interface About {
  readonly version: string;
  /** Folders of this machine that clips may be taken from. */
  readonly folders: readonly AllowedFolder[];
  readonly maxUploadBytes: number;
  /** Where report folders go. */
  readonly reportsFolder: string;
  /** Deliveries by name. */
  readonly deliveries: Readonly<Record<string, ResolvedDelivery>>;
  /** Sensor formats by name, width in mm. */
  readonly sensors: Readonly<Record<string, number>>;
  /** Measurements that run at once. */
  readonly atOnce: number;
  /** True when only this machine can reach the page. */
  readonly loopback: boolean;
}

/** A folder that clips may be taken from, with everything below it. */
export interface AllowedFolder {
  readonly id: string;
  /** Last part of its path. */
  readonly name: string;
  readonly path: string;
}

/** What is in a folder: folders first, then files that may be clips, by name. */
export interface FolderListing {
  readonly folder: AllowedFolder;
  /** From the allowed folder, with slashes; empty for itself. */
  readonly path: string;
  readonly folders: readonly string[];
  readonly clips: readonly {
    readonly name: string;
    readonly sizeBytes: number;
    readonly modifiedAt: string;
    /** A rig file lies beside it. */
    readonly hasRig: boolean;
  }[];
  /** More were left out. */
  readonly more: number;
}

/** Settings of a measurement as typed, by the names of `SETTING_NAMES` in settings/ ("focal": "35mm"); what is missing is not given. */
export type Settings = Readonly<Record<string, string>>;

/** Settings that were measured with before, the newest first. */
export interface SavedSetup {
  readonly id: string;
  /** In a few words. */
  readonly name: string;
  readonly usedAt: string;
  readonly settings: Settings;
}

/** A clip that the server can read. */
export interface ClipEntry {
  readonly id: string;
  readonly name: string;
  /** upload: a copy in the data folder; folder: where it lies. */
  readonly origin: 'upload' | 'folder';
  readonly sizeBytes: number;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly fps: number;
  /** Exact, like "24000/1001". */
  readonly fpsFraction: string;
  readonly variableRate: boolean;
  readonly durationS: number;
  readonly frameCount: number;
  readonly codec: string;
  /** Null when the file has none: then it counts from 00:00:00:00. */
  readonly timecodeStart: string | null;
  /** Settings of the rig file beside it; null when there is none. */
  readonly rig: Settings | null;
}

/** Small frames along a clip, to find in and out by. */
export interface Posters {
  readonly widthPx: number;
  readonly heightPx: number;
  /** When each is shown, seconds from the start of the clip. */
  readonly atS: readonly number[];
}

/** Work that is asked for. */
export type JobOrder =
  | { readonly kind: 'measure'; readonly clip: string; readonly settings: Settings }
  | {
      readonly kind: 'proof';
      /** Of the log. */
      readonly run: number;
      readonly layout: 'alone' | 'beside' | 'above' | 'split';
      readonly window: 'centred' | 'offCentre' | 'moving';
    };

/** Where a measurement is: those of the line, then writing the report, or rendering a proof. */
export type JobStage = 'probe' | 'track' | 'split' | 'judge' | 'write' | 'render';

/** A piece of work and how far it is. */
export interface Job {
  readonly id: string;
  readonly kind: JobOrder['kind'];
  readonly state: 'queued' | 'running' | 'done' | 'failed' | 'cancelled';
  readonly clip: string | null;
  readonly clipName: string;
  readonly settings: Settings;
  /** Jobs before it; 0 when it is its turn. */
  readonly ahead: number;
  readonly stage: JobStage | null;
  /** Frames, or steps of the stage. */
  readonly done: number;
  readonly total: number | null;
  /** How far the whole job is, 0 to 1; never goes back. */
  readonly share: number;
  /** Frames a second over the last few seconds; null outside of stages that count frames. */
  readonly framesPerS: number | null;
  /** Seconds left for the whole job; null when it cannot be told yet. */
  readonly leftS: number | null;
  readonly queuedAt: string;
  /** It was being worked on when the program ended, and begins from the start again. */
  readonly isAnew: boolean;
  readonly startedAt: string | null;
  readonly endedAt: string | null;
  /** The run of the log that came of it, or that a proof is of. */
  readonly run: number | null;
  readonly grade: RunDocument['verdict']['grade'] | null;
  /** The headline of the verdict, or where the proof is. */
  readonly sentence: string | null;
  readonly problem: Problem | null;
}

/** What a measurement sees while it works: a small grey frame with the points that are followed. */
export interface Look {
  readonly job: string;
  readonly timeS: number;
  /** Size of the frame that the points count in, px. */
  readonly widthPx: number;
  readonly heightPx: number;
  /** data: URI, JPEG. */
  readonly picture: string;
  /** x and y in turn, px. */
  readonly points: readonly number[];
}

/** Rough angles of the camera as they come, degrees from the first frame on; the measurement refines them. */
export interface Trace {
  readonly job: string;
  /** Place of the first of these samples in the whole trace; 0 begins it anew. */
  readonly from: number;
  readonly timeS: readonly number[];
  readonly panDeg: readonly number[];
  readonly tiltDeg: readonly number[];
  readonly rollDeg: readonly number[];
}

/** Names of the server-sent events with their data. On connecting: all jobs, then look and trace so far of those that run. */
export interface PageEvents {
  readonly jobs: readonly Job[];
  readonly job: Job;
  /** A job was taken off the list. */
  readonly gone: { readonly job: string };
  readonly look: Look;
  readonly trace: Trace;
  /** The log changed: a run was kept, described or removed. */
  readonly log: { readonly runs: readonly number[] };
}

/** A run as the log lists it. */
export interface RunRow extends LogRow {
  /** The server knows where its clip is. */
  readonly clipKnown: boolean;
}

/** Runs that a question to the log finds, newest first. */
export interface RunList {
  readonly runs: readonly RunRow[];
  /** In the log, whatever was asked. */
  readonly all: number;
  /** Names that occur in the log, for the filters: entry of the sheet -> names. */
  readonly names: Readonly<Record<string, readonly string[]>>;
  readonly tags: readonly string[];
}

/** A run as a whole, for questions in the browser. */
export interface StoredRun {
  readonly row: RunRow;
  readonly run: RunDocument;
  /** Null when it was kept without. */
  readonly series: RunSeries | null;
  /** Its clip, to measure it again; null where the server does not know where it is. */
  readonly clip: string | null;
}

/** Changes of the sheet: null takes an entry off. */
export interface RunChange {
  readonly sheet?: Readonly<Record<string, string | number | null>>;
  readonly addTags?: readonly string[];
  readonly removeTags?: readonly string[];
}

/** Parts of the report that do not depend on what is asked in the page: markup of our own, everything from outside escaped. */
export interface ReportParts {
  /** Advice of the verdict: what else to do than what is done first. */
  readonly advice: string;
  /** The contents and all sections from the reasons to the cautions. */
  readonly sections: string;
  readonly units: RunDocument['units'];
}

/** The comparison as parts of a page. */
export interface ComparisonParts {
  readonly title: string;
  /** Answer, contents and sections. */
  readonly body: string;
  readonly units: RunDocument['units'];
  /** What the runs could be grouped by, and what they are. */
  readonly by: string;
}

/** Small frames of the measured stretch, one for each sample of the run, to play in the browser. */
export interface FramePack {
  /** missing: the clip is not where it was, or is another now. */
  readonly state: 'making' | 'ready' | 'missing' | 'failed';
  /** Frames that can be asked for: 0 .. count - 1; while they are made, those so far. */
  readonly count: number;
  /** 0 until the first is made. */
  readonly widthPx: number;
  readonly heightPx: number;
  /** The sample that each frame is for, seconds from the start of the clip; of all there will be, also while they are made. */
  readonly timeS: readonly number[];
  /** Why there are none, in a sentence. */
  readonly reason: string | null;
}
