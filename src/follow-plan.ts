/** What is followed and what comes of it: what following at once and following stretch by stretch have in common. */
import { ANALYSIS_WIDTH_PX, analysisSize, type ClipFacts, type DecodeOptions } from './footage/index.js';
import type { MeasureHooks, MeasureRequest } from './measure-request.js';
import type { Motion, SplitOptions } from './motion/index.js';
import type { Assumption } from './run/index.js';
import type { Tracking, TrackingOptions } from './tracking/index.js';

/** What is followed: a range of a clip, and what is known of it. */
export interface FollowPlan {
  readonly request: MeasureRequest;
  readonly facts: ClipFacts;
  readonly reading: DecodeOptions;
  readonly seed: number;
}

/** What was found. */
export interface Followed {
  readonly tracking: Tracking;
  readonly motion: Motion;
  /** What of the camera had to be assumed. */
  readonly assumed: readonly Assumption[];
  /** Factor by which the decoder raised differences of grey. */
  readonly contrastGain: number;
}

/** How a clip, or a stretch of it, is tracked. */
export function trackingOptions(
  { facts, reading, seed }: FollowPlan,
  { threads = 2, signal }: MeasureHooks,
): TrackingOptions {
  const { storedWidthPx, storedHeightPx, rotationDeg } = facts;
  const stored =
    rotationDeg % 180 === 0
      ? { widthPx: storedWidthPx, heightPx: storedHeightPx }
      : { widthPx: storedHeightPx, heightPx: storedWidthPx };
  const expected = analysisSize(facts, reading.analysisWidthPx ?? ANALYSIS_WIDTH_PX);
  return { seed, threads, stored, expected, ...(signal && { signal }) };
}

/** What is known of the whole clip when its motion is split. */
export function splitOptions(
  { rig = {}, cutoffHz }: MeasureRequest,
  facts: ClipFacts,
  seed: number,
): SplitOptions {
  return {
    seed,
    cutoffHz,
    travelM: rig.travelM,
    speedMps: rig.speedMps,
    readoutS: rig.readoutMs === undefined ? undefined : rig.readoutMs / 1000,
    distortionGiven: rig.lensDistortion !== undefined,
    sourceWidthPx: facts.widthPx,
  };
}
