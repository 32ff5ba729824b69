/** Follows points through a clip: track table, frame events, tracking noise. */
export * from './types.js';
export { trackFrames } from './track-frames.js';
export { joinTrackings, withoutTracks } from './join-trackings.js';
export { TRACKING_DEFAULTS, type FollowedFrame, type Refine, type TrackingOptions } from './options.js';
export { trackingNoisePx } from './tracking-noise.js';
export type { LightCourse } from './doubt/exposure-change.js';
export { compressionDoubts } from './doubt/compression-doubt.js';
export type { CopiedSteps } from './doubt/copied-steps.js';
export { exposureDoubts, greyCurveOf } from './doubt/exposure-doubt.js';
