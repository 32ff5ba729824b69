/** Reads FFmpeg's messages: time stamp in seconds and coding type of each frame in step with the raw bytes, and faults it met. */
import { faultIn } from './ffmpeg-job.js';
import type { FrameType } from './types.js';

/** What FFmpeg says of one frame. */
export interface FrameStamp {
  /** The container's time stamp; null when the stream carries none. */
  readonly timeS: number | null;
  readonly type: FrameType;
}

const FAULTS_KEPT = 20;

/** Complaints of the writing side, about time stamps that raw bytes do not carry anyway, are no faults of the clip. */
const ABOUT_WRITING = /^\[([\w#:]+\/)?rawvideo @/;

/**
 * Queues the lines of the `showinfo` filter, one per frame, for one reader.
 *
 * Time stamps are taken as whole ticks of the filter's time base: the seconds printed beside them have six digits
 * only, which is 10 ms after a quarter of an hour.
 */
export class ShowInfo {
  readonly faults: string[] = [];
  private readonly queue: FrameStamp[] = [];
  private waiting: ((stamp: FrameStamp | null) => void) | null = null;
  private ended = false;
  private tickS = NaN;
  private sawFrame = false;

  /** @param ignoreEarlyFaults leave out faults told before the first frame */
  constructor(private readonly ignoreEarlyFaults: boolean) {}

  /** Takes one line of FFmpeg's messages; lines of other kinds are passed over. */
  hear(line: string): void {
    if (line.startsWith('[Parsed_showinfo')) {
      this.hearFrame(line);
      return;
    }
    const fault = ABOUT_WRITING.test(line) ? null : faultIn(line);
    if (fault !== null && this.faults.length < FAULTS_KEPT) this.faults.push(fault);
  }

  /** No more lines will come. */
  end(): void {
    this.ended = true;
    this.waiting?.(null);
    this.waiting = null;
  }

  /** The next frame's stamp, waiting for it; null after the last. */
  next(): Promise<FrameStamp | null> {
    const queued = this.queue.shift();
    if (queued) return Promise.resolve(queued);
    if (this.ended) return Promise.resolve(null);
    return new Promise((resolve) => (this.waiting = resolve));
  }

  private hearFrame(line: string): void {
    const [, over, under] = /config in time_base:\s*(\d+)\/(\d+)/.exec(line) ?? [];
    if (under !== undefined) this.tickS = Number(over) / Number(under);
    const [, ticks, seconds] = /\bn:\s*\d+\s+pts:\s*(\S+)\s+pts_time:\s*(\S+)/.exec(line) ?? [];
    if (ticks === undefined) return;
    if (this.ignoreEarlyFaults && this.faults.length > 0 && !this.sawFrame) this.faults.length = 0;
    this.sawFrame = true;
    const exactS = Number(ticks) * this.tickS;
    const timeS = Number.isFinite(exactS) ? exactS : Number(seconds);
    const type = /\btype:([IPB])/.exec(line)?.[1] as FrameType | undefined;
    const stamp: FrameStamp = { timeS: Number.isFinite(timeS) ? timeS : null, type: type ?? '?' };
    if (this.waiting) {
      this.waiting(stamp);
      this.waiting = null;
    } else {
      this.queue.push(stamp);
    }
  }
}
