/** The verdict: pass, marginal, fail or unmeasurable against the delivery, with reasons in numbers and what to change first. */
export {
  assumedDelivery,
  DEFAULT_DELIVERY,
  resolveDelivery,
  shakeGuidance,
  type ShakeGuidance,
} from './delivery.js';
export { PARALLAX_SEEN } from './residual.js';
export { MEASURABLE, type ClipFactsForJudge } from './measurable.js';
export { judge, type JudgeInput } from './verdict.js';
export { lensToFrameWith } from './advice.js';
