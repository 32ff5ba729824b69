/** The verdict: pass, marginal, fail or unmeasurable against the delivery, with reasons in numbers and what to change first. */
export {
  assumedDelivery,
  DEFAULT_DELIVERY,
  deliveryByName,
  resolveDelivery,
  shakeGuidance,
  type ShakeGuidance,
} from './delivery.js';
export { DELIVERY_PRESETS, presetName, type DeliveryPreset, type DeliveryPresets } from './presets.js';
export { deliveriesFile, parseDeliveries } from './read-deliveries.js';
export { PARALLAX_SEEN } from './residual.js';
export { keepsFromPass } from './finding.js';
export { LONGER_TAKE_OVER_LIMIT } from './notes.js';
export { MEASURABLE, type ClipFactsForJudge } from './measurable.js';
export { judge, type JudgeInput } from './verdict.js';
export { lensToFrameWith } from './advice/wider.js';
export { passOfRun, type MeasuredPass, type StabiliseChoice } from './pass/measured-pass.js';
export { figuresOf, outcomeOf, type OutcomeSettings, type WayFigures } from './pass/outcome.js';
export { gradeAgainst, gradeFigures, type FigureGrade } from './pass/grade-figures.js';
export { isRefused, type ChangedMotion, type PassChange, type RefusedChange } from './changes/types.js';
export { ASSUMED_SPREADS, type ComparedPass, type Spreads } from './compare/types.js';
export { lanePlan, type LanePlanOptions } from './lanes/lane-plan.js';
export { laneName } from './lanes/lane-words.js';
export { focalPerWidthOf } from './lanes/picture-shake.js';
export { compareSetups, type CompareOptions, type SetupComparison } from './compare/compare-setups.js';
export { spreadsFromRepeats } from './compare/spreads-from-repeats.js';
export { leaningOf, rangeWords, ratioFigure } from './compare/ratio-words.js';
export { leansAmongMany } from './compare/ratio-entry.js';
export { placesOf } from './compare/pair-entry.js';
export { whatIf, type WhatIfExtras } from './what-if/what-if.js';
export type { WhatIfWish } from './what-if/wish.js';
export { outcomeOfFigures, type BareFigures } from './what-if/outcome-of-figures.js';
export { applyChange, applyChanges } from './changes/apply-changes.js';
export { LiveAsker, liveAnswer } from './live/live-asker.js';
export type { LiveAnswer, LiveExtras, LivePoint, LiveView } from './live/types.js';
