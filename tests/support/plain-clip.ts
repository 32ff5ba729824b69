/** What a made-up motion says where nothing is special about the clip: no doubt, no distortion, no readout, a plain camera. */
import type { Motion } from '../../src/motion/index.js';

export const PLAIN_CLIP = {
  separation: { correlation: null, information: new Float64Array(0), unsplit: null },
  alongLens: 0,
  readout: { source: 'none', readoutS: null, ci95S: null, state: 'notNeeded', costFall: null },
  distortion: { source: 'none', k1: null, ci95: null, state: 'notNeeded', costFall: null, rmsShare: null },
  camera: {
    widthPx: 960,
    heightPx: 540,
    focalPx: 1000,
    centreXPx: 479.5,
    centreYPx: 269.5,
    distortion: null,
  },
  unreliable: [],
  warnings: [],
} as const satisfies Partial<Motion>;
