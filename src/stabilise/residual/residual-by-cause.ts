/**
 * What stabilisation leaves in a clip, cause by cause: from its motion (radians, translation unit), the corrections taken
 * and the times of exposure and readout (seconds), to px of the delivery and minutes of arc.
 */
import type { Camera } from '../../optics/index.js';
import type { Motion } from '../../motion/index.js';
import { blurPulse } from './blur-pulse.js';
import { leftOf, together, type CauseFrames } from './residual-frames.js';
import { anglesLeft } from './residual-path.js';
import { pictureReach, type PictureReach } from './residual-reach.js';
import { wobbleOfCorrectedRows, wobbleOfWholeFrames } from './residual-readout.js';
import { translationLeft } from './residual-translation.js';
import type { BlurLeft, Left, Residual } from './residual-types.js';
import type { AngularVibration } from '../types.js';
import type { VibrationBand } from '../path/vibration-at.js';
import { arcMinutesPerPx, type ViewedPicture } from './viewing.js';

/** Times of one frame that turn motion into blur and wobble. */
export interface FrameTimes {
  /** Null when unknown. */
  readonly exposureS: number | null;
  /** From the first row to one past the last; null when unknown. */
  readonly readoutS: number | null;
}

/** What a residual is made from. */
export interface ResidualInput {
  readonly motion: Motion;
  /** Vibration in the motion's own band, whatever the smoothing of the target path. */
  readonly band: VibrationBand;
  /** Angular vibration taken out: measured path minus target path, radians, length n. */
  readonly correctionsVibration: AngularVibration;
  /** Camera of the analysis frames. */
  readonly camera: Camera;
  /** px of the delivery per px of the camera, zoom included: the zoom enlarges what is left, too. */
  readonly pxScale: number;
  readonly times: FrameTimes;
  /** Whether every row is turned by its own angles, rather than each frame as one. */
  readonly rowsCorrected: boolean;
  readonly delivery: ViewedPicture;
}

/**
 * What is left, cause by cause.
 *
 * Translation is judged in the motion's own band, the target path above the lower edge of that band: a path that follows
 * more of the shake leaves more. The ends of the clip count for nothing, as in the motion. With fewer frames than ends the
 * whole clip counts; without frames all is zero. Never NaN.
 *
 * @example residualOf({ motion, band, correctionsVibration, camera, pxScale, times, rowsCorrected: true, delivery }).total?.rmsPx
 */
export function residualOf(input: ResidualInput): Residual {
  const { motion, band, camera, pxScale, delivery, times } = input;
  const reach = pictureReach(camera, delivery, pxScale);
  const arcMinPerPx = arcMinutesPerPx(delivery);
  const left = (cause: CauseFrames): Left => leftOf(cause, pxScale, arcMinPerPx);
  const known = (cause: CauseFrames | null): Left | null => (cause === null ? null : left(cause));

  const translation = translationLeft(motion, band, reach);
  const { path, tracking } = anglesLeft(motion, input.correctionsVibration, reach);
  const { readout, readoutWholeFrames } = readoutLeft(input, reach);
  const total =
    translation && together([translation.all, path, tracking, ...(readout === null ? [] : [readout])]);
  return {
    status: translation === null ? 'notObservable' : translation.atMost ? 'atMost' : 'value',
    total: known(total),
    causes: {
      translation: known(translation && translation.all),
      parallax: known(translation && translation.parallax),
      path: left(path),
      readout: known(readout),
      readoutWholeFrames: known(readoutWholeFrames),
      tracking: left(tracking),
      blur: times.exposureS === null ? null : blurLeft(input, reach, times.exposureS, arcMinPerPx),
    },
  };
}

interface ReadoutLeft {
  readonly readout: CauseFrames | null;
  readonly readoutWholeFrames: CauseFrames | null;
}

function readoutLeft(
  { motion, band, times, rowsCorrected }: ResidualInput,
  reach: PictureReach,
): ReadoutLeft {
  const { readoutS } = times;
  if (readoutS === null) return { readout: null, readoutWholeFrames: null };
  const readoutWholeFrames = wobbleOfWholeFrames(motion, band, reach, readoutS);
  const readout = rowsCorrected ? wobbleOfCorrectedRows(motion, reach, readoutS) : readoutWholeFrames;
  return { readout, readoutWholeFrames };
}

function blurLeft(
  { motion, pxScale }: ResidualInput,
  reach: PictureReach,
  exposureS: number,
  arcMinPerPx: number,
): BlurLeft | null {
  const pulse = blurPulse(motion, reach, exposureS);
  if (pulse === null) return null;
  const pulsePx = pulse.range * pxScale;
  return {
    ...leftOf({ rms: pulse.rms, p95: pulse.p95, squares: null }, pxScale, arcMinPerPx),
    pulsePx,
    pulseArcMin: pulsePx * arcMinPerPx,
  };
}
