/**
 * The last steps of a piece: an adjusted scene is straightened where the lens bends lines, brought to the middle row of each
 * frame where the sensor is read row by row, and its covariances are taken.
 */
import {
  cameraWith,
  foundK1,
  recheckDistortion,
  type DistortionOutcome,
  type DistortionSettings,
} from './distortion/distortion-outcome.js';
import { unbend } from './distortion/unbend.js';
import type { Observations } from './observations.js';
import { sigmaStartOf, type Piece } from './piece.js';
import { settleReadout, type ReadoutOutcome } from './rolling-shutter/readout-outcome.js';
import type { Scene } from './scene.js';
import type { DistortionReport } from './types.js';

/** What the search for a distortion has to know of a piece. */
export function lensSettings({ camera, clip, settings, lens }: Piece): DistortionSettings {
  const { rateHz } = clip;
  const { known: distortion, startK1 } = lens;
  return { camera, distortion, startK1, sigmaStart: sigmaStartOf(clip), rateHz, cutoffHz: settings.cutoffHz };
}

/**
 * Brings an adjusted scene to the middle rows and measures how sure it is; looks at the lens once more where the rows
 * blurred the first look. The scene is changed in place.
 *
 * @param straight what the first look at the lens left
 * @param lostFrames frames without a pose of their own
 */
export function settleScene(
  piece: Piece,
  scene: Scene,
  straight: DistortionOutcome,
  lostFrames: readonly number[],
  rotationOnly: boolean,
): ReadoutOutcome & DistortionOutcome {
  const { seen, camera, clip, settings, lens } = piece;
  const { timeS, rateHz } = clip;
  const { cutoffHz, readoutS, readoutGiven } = settings;
  const settle = (measured: Observations, bent: DistortionReport): ReadoutOutcome =>
    settleReadout(
      { measured, timeS, lostFrames, sigmaStart: sigmaStartOf(clip) },
      scene,
      cameraWith(camera, bent),
      { readoutS, readoutGiven, rateHz, cutoffHz, rotationOnly },
    );
  const { distortion } = straight;
  const outcome = settle(straight.observations, distortion);
  if (lens.known || outcome.readout.state !== 'corrected') return { ...outcome, distortion };
  const again = recheckDistortion(outcome.observations, scene, distortion, lensSettings(piece));
  if (!again) return { ...outcome, distortion };
  return { ...settle(unbend(seen, foundK1(again)), again), distortion: again };
}
