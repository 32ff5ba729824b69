/** Follows points through a clip: track table, frame events, tracking noise. */
export * from './types.js';
export { trackFrames } from './track-frames.js';
export { TRACKING_DEFAULTS, type FollowedFrame, type Refine, type TrackingOptions } from './options.js';
export { trackingNoisePx } from './tracking-noise.js';
