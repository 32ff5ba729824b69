/** A batch whose measuring is made up: clips are names, their bytes are what a table says, and a measurement ends when the test says so. */
import type {
  BatchClip,
  BatchMeans,
  ClipOutcome,
  KeptClip,
  ReadyClip,
  Running,
} from '../../../src/batch/batch.js';
import type { ClipFigures } from '../../../src/batch/index.js';
import { TrundleError } from '../../../src/run/index.js';

/** Figures of a clip that will do. */
export const FIGURES: ClipFigures = {
  ...{ grade: 'pass', isDoubted: false, cropPercent: 3.14, coverable: true },
  ...{ worst: { axis: 'roll', rmsDeg: 0.063 }, floorClass: 'A-2' },
};

/** A clip of 100 bytes. */
export function clipOf(relative: string, sizeBytes = 100): BatchClip {
  return { path: `cards/${relative}`, relative, sizeBytes };
}

/** One bunch and no more. */
export async function* bunch(...clips: BatchClip[]): AsyncGenerator<readonly BatchClip[]> {
  yield await Promise.resolve(clips);
}

/** The batch, and hands on it. */
export interface MadeUpBatch {
  readonly means: BatchMeans;
  /** Clips that were begun, in turn, by their relative names. */
  readonly begun: string[];
  /** The most that ran at the same time. */
  readonly most: () => number;
  readonly ended: [string, ClipOutcome['kind']][];
  readonly drain: AbortController;
  readonly giveUp: AbortController;
}

/** How it goes. */
export interface MadeUp {
  readonly atOnce?: number;
  /** Checksums by relative name; each its own unless given. */
  readonly sums?: Readonly<Record<string, string>>;
  /** Runs of the log by checksum. */
  readonly log?: ReadonlyMap<string, KeptClip>;
  /** What a measurement does, by relative name: ends in a moment unless given. */
  readonly acts?: Readonly<Record<string, 'fails' | 'waits'>>;
  readonly onBegun?: (batch: MadeUpBatch, relative: string) => void;
}

/** Makes one. */
export function madeUpBatch(given: MadeUp = {}): MadeUpBatch {
  const { atOnce = 2, sums = {}, log = new Map<string, KeptClip>(), acts = {}, onBegun } = given;
  const relativeOf = (path: string): string => path.replace('cards/', '');
  let running = 0;
  let most = 0;
  const [drain, giveUp] = [new AbortController(), new AbortController()];
  const batch: MadeUpBatch = {
    ...{ begun: [], ended: [], drain, giveUp, most: () => most },
    means: {
      ...{ atOnce, drain: drain.signal, giveUp: giveUp.signal },
      prepare: (clip) => Promise.resolve({ request: { clip: clip.path }, settingsKey: 'ab'.repeat(32) }),
      sha256Of(path) {
        if (path.endsWith('gone.mov'))
          return Promise.reject(
            new TrundleError('clip-missing', `There is no file "${path}"; check the path.`),
          );
        return Promise.resolve(sums[relativeOf(path)] ?? sumOf(path));
      },
      known: (sha256) => log.get(sha256) ?? null,
      placeOf: ({ relative }) => Promise.resolve(`reports/${relative}`),
      start({ clip }: ReadyClip, onProgress): Running {
        most = Math.max(most, ++running);
        batch.begun.push(clip.relative);
        onProgress('track', 1, 2);
        let stop = (): void => {};
        const ended = new Promise<Awaited<Running['ended']>>((resolve) => {
          const fail = (code: 'clip-unreadable' | 'interrupted'): void =>
            resolve({ kind: 'failed', failure: { code, sentence: 'It cannot be read.', status: 3 } });
          stop = () => fail('interrupted');
          if (acts[clip.relative] === 'fails') setTimeout(() => fail('clip-unreadable'), 5);
          else if (acts[clip.relative] !== 'waits')
            setTimeout(() => {
              const measured = { figures: FIGURES, sha256: '', run: 1, notices: [], document: null };
              resolve({ kind: 'measured', measured });
            }, 5);
        }).finally(() => running--);
        onBegun?.(batch, clip.relative);
        return { ended, stop: () => stop() };
      },
      watcher: {
        found: () => {},
        begun: () => {},
        progress: () => {},
        ended: ({ relative }, { kind }) => batch.ended.push([relative, kind]),
      },
    },
  };
  return batch;
}

function sumOf(text: string): string {
  return Buffer.from(text).toString('hex').padEnd(64, '0').slice(0, 64);
}
