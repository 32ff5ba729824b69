/** What is followed and what comes of it: what following at once and following stretch by stretch have in common. */
import {
  decodedSize,
  probeClip,
  requireMeasurable,
  type ClipFacts,
  type DecodeOptions,
  type Tools,
} from './footage/index.js';
import { DEFAULT_SEED, type MeasureHooks, type MeasureRequest } from './measure-request.js';
import type { Motion, SplitOptions } from './motion/index.js';
import { parseFrameRate, parsePointS, type Assumption, type Warning } from './run/index.js';
import { clipFactTexts } from './texts/index.js';
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

/**
 * Looks at a clip and reads what range of it is asked for.
 *
 * @returns the plan, and the warnings so far: those of following are added to them
 * @throws TrundleError when the clip or the range cannot be used
 */
export async function planFollowing(
  request: MeasureRequest,
  tools: Tools,
  signal: AbortSignal | undefined,
): Promise<{ readonly plan: FollowPlan; readonly warnings: Warning[] }> {
  const warnings: Warning[] = [];
  const { clip, inPoint, outPoint, analysisWidthPx, seed = DEFAULT_SEED } = request;
  const facts = await probeClip(clip, tools, signal);
  requireMeasurable(clip, facts);
  const rate = parseFrameRate(facts.fpsFraction);
  const point = (text: string): number => parsePointS(text, rate, facts.timecodeStart);
  const inS = inPoint === undefined ? undefined : point(inPoint);
  const outS = outPoint === undefined ? undefined : point(outPoint);
  if (outS !== undefined && outS > facts.durationS + 0.5 / facts.fps)
    warnings.push({
      code: 'out-beyond-end',
      text: clipFactTexts.outBeyondEnd(`${facts.durationS.toFixed(2)} s`),
      atS: facts.durationS,
    });
  const onWarning = (warning: Warning): number => warnings.push(warning);
  return {
    plan: { request, facts, seed, reading: { inS, outS, analysisWidthPx, signal, onWarning } },
    warnings,
  };
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
  return { seed, threads, stored, expected: decodedSize(facts, reading), ...(signal && { signal }) };
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
