/** Foretold against found on a pass that was rendered stabilised: its crop, and the shake left in its picture. */
import { exactCrop } from '../../src/stabilise/index.js';
import { cameraOf } from '../../src/synth/index.js';
import type { SecondLook } from './measured-again.js';
import { shownWindow, type ProvedPass } from './proof-passes.js';
import { truePictureMotion } from './true-picture.js';
import { trueCorrections } from './true-turns.js';

/** Crop in per cent of the width; shake in px RMS of the delivery. */
export interface ProofFigures {
  readonly cropForetold: number;
  /** Of the true path, its rows read when they were, the same smoothing. */
  readonly cropNeeded: number;
  readonly leftForetoldPx: number;
  /** By points that are followed in the rendered clip. */
  readonly leftFollowedPx: number;
  /** By points of the scene, true poses, and the corrections that were taken. */
  readonly leftTruePx: number;
}

/** The figures of a pass and of a second look at its rendered clip. */
export function proofFigures({ clip, measured, record }: ProvedPass, seen: SecondLook): ProofFigures {
  const { motion, stabilisation: plan } = measured;
  const { delivery, residual } = plan;
  const options = clip.truth.settings;
  const window = shownWindow(measured);
  const truePx = truePictureMotion({
    options,
    corrections: plan.corrections,
    camera: motion.camera,
    ...window,
    cutoffHz: motion.bandHz[0],
    trimFrames: motion.trimFrames,
  });
  const needed = exactCrop(
    trueCorrections(clip.truth, plan.smoothingS ?? NaN),
    cameraOf(options),
    delivery.heightPx / delivery.widthPx,
  );
  return {
    cropForetold: plan.cropPercent,
    cropNeeded: needed.cropPercent,
    leftForetoldPx: residual.total?.rmsPx ?? NaN,
    leftFollowedPx: (seen.rmsPx * delivery.widthPx) / record.stabilised.widthPx,
    leftTruePx: (truePx * delivery.widthPx) / window.widthPx,
  };
}
