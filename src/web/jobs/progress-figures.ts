/** How far a job is, how fast and how long it will take still: share of the whole, frames a second over the last seconds, seconds left for the whole of it. */
import type { JobOrder, JobStage } from '../api.js';

/**
 * Shares of the stages in the time of a job. Measured on the tiled corridor (6 s of 1280x720, two cores that others used too): reading
 * 11 to 17 %, tracking 48 to 57 %, split 19 %, judging 10 %, writing 3 to 4 %. Frames make most of the time, so what comes after them is
 * foretold from theirs. A proof is nearly all rendering.
 */
const SHARES: Readonly<Record<JobOrder['kind'], readonly (readonly [JobStage, number])[]>> = {
  measure: [
    ['probe', 0.12],
    ['track', 0.54],
    ['split', 0.19],
    ['judge', 0.11],
    ['write', 0.04],
  ],
  proof: [
    ['probe', 0.05],
    ['render', 0.95],
  ],
};

/** Stages that count frames. */
const COUNTS_FRAMES: readonly JobStage[] = ['track', 'render'];
/** Frames a second are told over this long, ms. */
const WINDOW_MS = 3000;
/** A rate over less than this is chance, ms. */
const LEAST_MS = 500;
/** What is told follows what is found within about this long, ms. */
const SETTLING_MS = 4000;
/** Before any frame nobody knows how long the first stage takes; a short clip is read within this time, ms. */
const FIRST_STAGE_MS = 6000;
/** A stage that counts nothing is taken to be this far at most. */
const FURTHEST = 0.95;

/** Steps in which the share is told: fine enough for a bar, and pages are not written to all the time. */
const SHARE_STEPS = 200;

/** The figures of a running job. */
export class ProgressFigures {
  readonly #now: () => number;
  readonly #shares: readonly (readonly [JobStage, number])[];
  #stage: JobStage | null = null;
  /** When the first word on the stage came, and how far it was then. */
  #sinceMs = 0;
  #from = 0;
  #done = 0;
  #total: number | null = null;
  /** Frames done at moments of the last seconds. */
  #marks: (readonly [ms: number, done: number])[] = [];
  /** How long the frames of the job take, or took, in ms; null before that can be told. */
  #framesMs: number | null = null;
  #leftMs: number | null = null;
  #toldMs = 0;
  #share = 0;

  /** @param now a clock that only goes forward, ms */
  constructor(kind: JobOrder['kind'], now: () => number = () => performance.now()) {
    this.#shares = SHARES[kind];
    this.#now = now;
  }

  /** Notes how far a stage is. */
  note(stage: JobStage, done: number, total: number | null): void {
    const now = this.#now();
    if (stage !== this.#stage) {
      // The frames took as long as they took, whatever was foretold.
      if (this.#countsFrames && this.#done > 0) this.#framesMs = now - this.#sinceMs;
      this.#stage = stage;
      this.#sinceMs = now;
      this.#from = done;
      this.#marks = [];
    }
    this.#done = done;
    this.#total = total;
    if (!this.#countsFrames) return;
    this.#marks.push([now, done]);
    while (this.#marks[0][0] < now - WINDOW_MS) this.#marks.shift();
    const spentMs = now - this.#sinceMs;
    if (total !== null && done > this.#from && spentMs >= LEAST_MS)
      this.#framesMs = (spentMs * Math.max(total, done)) / (done - this.#from);
  }

  /** How far the whole job is, 0 to 1, in small steps; never goes back, and is 1 only when it has ended. */
  share(): number {
    const at = this.#shares.findIndex(([stage]) => stage === this.#stage);
    const before = this.#shares.slice(0, Math.max(0, at)).reduce((sum, [, share]) => sum + share, 0);
    const found = before + this.#ofStage(this.#now()) * (this.#shares[at]?.[1] ?? 0);
    const told = Math.floor(SHARE_STEPS * Math.min(found, 1 - 1 / SHARE_STEPS) + 1e-9) / SHARE_STEPS;
    this.#share = Math.max(this.#share, told);
    return this.#share;
  }

  /** Frames a second; null outside of stages that count frames, and before there is a rate. */
  framesPerS(): number | null {
    const [first] = this.#marks;
    const last = this.#marks.at(-1);
    if (!first || !last || last[0] - first[0] < LEAST_MS) return null;
    return (1000 * (last[1] - first[1])) / (last[0] - first[0]);
  }

  /** Seconds left for the whole job, in whole ones; null when it cannot be told yet. Goes down with time and follows corrections slowly. */
  leftS(): number | null {
    const now = this.#now();
    const foundMs = this.#foundMs(now);
    if (foundMs === null) return null;
    if (this.#leftMs === null) this.#leftMs = foundMs;
    else {
      const passedMs = now - this.#toldMs;
      const expectedMs = Math.max(0, this.#leftMs - passedMs);
      this.#leftMs = expectedMs + (foundMs - expectedMs) * (1 - Math.exp(-passedMs / SETTLING_MS));
    }
    this.#toldMs = now;
    return Math.max(1, Math.round(this.#leftMs / 1000));
  }

  get #countsFrames(): boolean {
    return this.#stage !== null && COUNTS_FRAMES.includes(this.#stage);
  }

  #foundMs(now: number): number | null {
    const msPerShare = this.#msPerShare;
    if (msPerShare === null) return null;
    const at = this.#shares.findIndex(([stage]) => stage === this.#stage);
    const laterMs = this.#shares.slice(at + 1).reduce((sum, [, share]) => sum + share * msPerShare, 0);
    const stageMs = (this.#shares[at]?.[1] ?? 0) * msPerShare;
    return laterMs + (1 - this.#ofStage(now)) * stageMs;
  }

  /** What the whole job takes, ms; null before the frames tell. */
  get #msPerShare(): number | null {
    const frames = this.#shares.find(([stage]) => COUNTS_FRAMES.includes(stage))?.[1] ?? 1;
    return this.#framesMs === null ? null : this.#framesMs / frames;
  }

  /** How far the stage is, 0 to 1: by its steps, or by the time it should take. */
  #ofStage(now: number): number {
    if (this.#total !== null && this.#total > 0) return Math.min(1, this.#done / this.#total);
    const share = this.#shares.find(([stage]) => stage === this.#stage)?.[1] ?? 0;
    const stageMs = this.#msPerShare === null ? FIRST_STAGE_MS : share * this.#msPerShare;
    return Math.min(FURTHEST, (now - this.#sinceMs) / stageMs);
  }
}
