/** How far a batch is: what is done, what runs, what waits, and about how long it will take still. */
import type { Stage } from '../measure-request.js';
import type { BatchClip, BatchWatcher, ClipOutcome } from './batch.js';

/** Shares of the stages in the time of a measurement, as the queue of the local page measured them; reading and tracking come first. */
const STAGES: Readonly<Record<Stage, readonly [from: number, share: number]>> = {
  probe: [0, 0.12],
  track: [0.12, 0.54],
  split: [0.66, 0.19],
  judge: [0.85, 0.11],
};
/** Before this share of all work is done nobody can tell how long the rest takes. */
const LEAST_SHARE = 0.02;

/** A clip that is being measured. */
export interface ClipUnderWay {
  readonly clip: BatchClip;
  readonly stage: Stage;
  /** Of the frames or steps of the stage, 0..1; null where it counts none. */
  readonly stageShare: number | null;
}

/** How far it is. */
export interface BatchState {
  /** Clips that came until now. */
  readonly found: number;
  readonly measured: number;
  /** Passed by: the log has them, or another clip of the batch is the same. */
  readonly passedBy: number;
  readonly failed: number;
  readonly underWay: readonly ClipUnderWay[];
  readonly waiting: number;
  /** Seconds that all that came will take still; null where that cannot be told. */
  readonly leftS: number | null;
}

/** Keeps count; the work of a clip is taken to go with its size in bytes. */
export class HowFar implements BatchWatcher {
  readonly #now: () => number;
  readonly #waiting = new Map<string, BatchClip>();
  readonly #underWay = new Map<string, ClipUnderWay>();
  readonly #counts = { found: 0, measured: 0, passedBy: 0, failed: 0 };
  #measuredBytes = 0;
  #beganMs: number | null = null;
  /** Time in which something was measured, up to the last moment at which nothing was, ms. */
  #busyMs = 0;

  /** @param now a clock that only goes forward, ms */
  constructor(now: () => number = () => performance.now()) {
    this.#now = now;
  }

  found(clips: readonly BatchClip[]): void {
    this.#counts.found += clips.length;
    for (const clip of clips) this.#waiting.set(clip.path, clip);
  }

  begun(clip: BatchClip): void {
    this.#waiting.delete(clip.path);
    this.#beganMs ??= this.#now();
    this.#underWay.set(clip.path, { clip, stage: 'probe', stageShare: null });
  }

  progress(clip: BatchClip, stage: Stage, done: number, total: number | null): void {
    if (!this.#underWay.has(clip.path)) return;
    const stageShare = total !== null && total > 0 ? Math.min(1, done / total) : null;
    this.#underWay.set(clip.path, { clip, stage, stageShare });
  }

  ended(clip: BatchClip, { kind }: ClipOutcome): void {
    this.#waiting.delete(clip.path);
    this.#underWay.delete(clip.path);
    if (kind === 'measured') this.#measuredBytes += clip.sizeBytes;
    this.#counts[kind === 'kept' || kind === 'same' ? 'passedBy' : kind]++;
    if (this.#underWay.size > 0 || this.#beganMs === null) return;
    this.#busyMs += this.#now() - this.#beganMs;
    this.#beganMs = null;
  }

  /** How far it is now. */
  state(): BatchState {
    const underWay = [...this.#underWay.values()];
    return { ...this.#counts, underWay, waiting: this.#waiting.size, leftS: this.#leftS(underWay) };
  }

  #leftS(underWay: readonly ClipUnderWay[]): number | null {
    let doneBytes = this.#measuredBytes;
    let leftBytes = 0;
    for (const { clip, stage, stageShare } of underWay) {
      const [from, share] = STAGES[stage];
      const done = clip.sizeBytes * (from + share * (stageShare ?? 0));
      doneBytes += done;
      leftBytes += clip.sizeBytes - done;
    }
    for (const { sizeBytes } of this.#waiting.values()) leftBytes += sizeBytes;
    if (leftBytes === 0 || doneBytes < LEAST_SHARE * (doneBytes + leftBytes)) return null;
    const spentMs = this.#busyMs + (this.#beganMs === null ? 0 : this.#now() - this.#beganMs);
    return (spentMs / 1000) * (leftBytes / doneBytes);
  }
}
