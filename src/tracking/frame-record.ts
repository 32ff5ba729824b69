/** One decoded frame as the tracker saw it: when, what it looked like, how the tracks moved into it. */
import type { FrameLook } from './frame-differences.js';
import type { StepFacts } from './live-tracks.js';

/** One decoded frame as the tracker saw it. */
export interface FrameRecord {
  /** Seconds, from the container. */
  readonly timeS: number;
  readonly look: FrameLook;
  readonly step: StepFacts;
  /** True when the tracks were brought into this frame by their templates. */
  readonly refined: boolean;
}
