/** The split of a clip's motion into angular and translational, intended move and vibration, with its uncertainty. */
export * from './types.js';
export { splitMotion } from './split-motion.js';
export {
  NOTHING_SHOWN,
  StretchSplitter,
  type CameraShown,
  type SolvedStretch,
} from './stretches/split-stretches.js';
export { SPLIT_DEFAULTS, type SplitOptions } from './options.js';
export { poseSeries, vibrationOf, type SplitSeries } from './series.js';
export { roughTurn, type RoughTurn } from './rough-turn.js';
export { deckDoubt } from './doubt/deck-doubt.js';
export { focalEffectInWords } from './focal-effect.js';
export { motionSection, type SectionExtras } from './section.js';
export { parseMotionLog, type LogGap, type MotionLog } from './motion-log/parse.js';
export { compareMotionLog, type LogComparison } from './motion-log/compare-log.js';
export { focalFactor } from './motion-log/focal.js';
export { leastCoveredS } from './motion-log/video.js';
export { motionLogSection } from './motion-log/section.js';
export { restoreMotion, storeMotion } from './stored-motion.js';
