/**
 * From a clip to the motion of its camera: decoded, tracked and split at once, or, where it is too long to be held, stretch by stretch.
 */
import { breakable } from './breakable.js';
import { decodeGrey, type Tools } from './footage/index.js';
import { splitOptions, trackingOptions, type FollowPlan, type Followed } from './follow-plan.js';
import {
  followStretch,
  planStretches,
  STRETCH_LIMITS,
  StretchJoiner,
  type StretchLimits,
} from './follow-stretches.js';
import type { MeasureHooks } from './measure-request.js';
import { splitMotion } from './motion/index.js';
import { cameraForFrame } from './optics/index.js';
import { trackFrames } from './tracking/index.js';
import { watchTracking } from './watch-tracking.js';

/**
 * Follows a clip.
 *
 * @param limits from which length on it is done stretch by stretch
 * @throws TrundleError as decoding and tracking do
 */
export async function followClip(
  plan: FollowPlan,
  hooks: MeasureHooks,
  tools: Tools,
  limits: StretchLimits = STRETCH_LIMITS,
): Promise<Followed> {
  const stretches = planStretches(plan, limits);
  if (stretches.length === 0) return followAtOnce(plan, hooks, tools);
  const joiner = new StretchJoiner(plan);
  for (const stretch of stretches) {
    const record = await followStretch(plan, stretch, (tracking) => joiner.shownTo(tracking), hooks, tools);
    if (record === null) {
      joiner.endBefore(stretch);
      break;
    }
    joiner.add(record);
  }
  return joiner.finish(hooks.signal);
}

async function followAtOnce(plan: FollowPlan, hooks: MeasureHooks, tools: Tools): Promise<Followed> {
  const { request, facts, reading, seed } = plan;
  const { rig = {} } = request;
  const { onProgress = () => {} } = hooks;
  let contrastGain = 1;
  const onStart = (record: { readonly contrastGain: number }): void => {
    contrastGain = record.contrastGain;
  };
  const { inS = 0, outS = Infinity } = reading;
  const lengthS = Math.min(outS, facts.durationS > 0 ? facts.durationS : Infinity) - inS;
  const expected = Number.isFinite(lengthS) ? Math.round(lengthS * facts.fps) : null;
  const tracking = await trackFrames(decodeGrey(request.clip, facts, { ...reading, onStart }, tools), {
    ...trackingOptions(plan, hooks),
    onFrame: (count) => onProgress('track', count, expected),
    ...watchTracking(hooks, (frame) => cameraForFrame(rig, facts, frame).camera),
  });
  const { camera, assumed } = cameraForFrame(rig, facts, tracking.table);
  const motion = await breakable(request.clip, hooks.signal, () =>
    splitMotion(tracking.table, camera, {
      ...splitOptions(request, facts, seed),
      interCoded: tracking.interCoded,
      trackNoisePx: tracking.noisePx,
      onProgress: (done, total) => onProgress('split', done, total),
    }),
  );
  return { tracking, motion, assumed, contrastGain };
}
