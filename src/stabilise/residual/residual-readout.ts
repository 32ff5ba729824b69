/**
 * What is left of the turning within the frames of a sensor that is read row by row, analysis px: seconds of readout and
 * the angular vibration in radians in, f (theta(t + s) - theta(t)) over rows s seconds from mid-frame out.
 */
import { mean, rms } from '../../numerics/index.js';
import type { Motion } from '../../motion/index.js';
import { ANGULAR_AXES, type AngularAxis } from '../../run/index.js';
import { changeNoiseGain, changesWithinFrame } from '../turn/change-within-frame.js';
import { measuredCause, noiseCause, NOTHING_LEFT, type CauseFrames } from './residual-frames.js';
import type { PictureReach } from './residual-reach.js';
import { whiteVariance, withoutEnds, type VibrationBand } from '../path/vibration-at.js';

/** Midpoints of eight bands of rows, as shares of the readout from mid-frame. */
const ROW_BANDS = [-7 / 16, -5 / 16, -3 / 16, -1 / 16, 1 / 16, 3 / 16, 5 / 16, 7 / 16] as const;

/**
 * Row wobble that a stabiliser leaves which turns each frame as one: the vibration's change between mid-frame and each
 * row, noise taken off. The intended move leans the picture by a steady amount, which is no wobble.
 *
 * @param band vibration in the motion's own band
 */
export function wobbleOfWholeFrames(
  motion: Motion,
  band: VibrationBand,
  reach: PictureReach,
  readoutS: number,
): CauseFrames {
  const n = withoutEnds(motion.timeS, motion.trimFrames).length;
  if (readoutS === 0 || n === 0) return NOTHING_LEFT;
  const squares = new Float64Array(n);
  let meanSquare = 0;
  for (const { axis, change, power } of rowChangesOf(motion, band, readoutS)) {
    meanSquare += (reach[axis] ** 2 * power) / ROW_BANDS.length;
    for (let t = 0; t < n; t++) squares[t] += (reach[axis] * change[t]) ** 2 / ROW_BANDS.length;
  }
  return measuredCause(squares, Math.sqrt(meanSquare));
}

/** How one axis turns from mid-frame to one band of rows: no lens changes it. */
interface RowChange {
  readonly axis: AngularAxis;
  /** Radians, without the ends. */
  readonly change: Float64Array;
  /** Its mean square, noise off. */
  readonly power: number;
}

interface Known {
  readonly series: VibrationBand['series'];
  readonly readoutS: number;
  readonly changes: readonly RowChange[];
}

/** The same motion is looked at through many lenses; found once, forgotten with the motion. */
const known = new WeakMap<Motion, Known>();

function rowChangesOf(motion: Motion, { series }: VibrationBand, readoutS: number): readonly RowChange[] {
  const before = known.get(motion);
  if (before?.series === series && before.readoutS === readoutS) return before.changes;
  const spansS = ROW_BANDS.map((share) => share * readoutS);
  const changes = ANGULAR_AXES.flatMap((axis) =>
    changesWithinFrame(
      series[axis],
      motion.rateHz,
      spansS.map((spanS) => [0, spanS]),
    ).map((whole, row): RowChange => {
      const change = withoutEnds(whole, motion.trimFrames);
      const noise = whiteVariance(motion, axis) * changeNoiseGain(motion.rateHz, spansS[row]);
      return { axis, change, power: Math.max(0, rms(change) ** 2 - noise) };
    }),
  );
  known.set(motion, { series, readoutS, changes });
  return changes;
}

/**
 * What a stabiliser leaves that turns every row by its own angles: the noise which these changes carry. Vibration next to
 * half the frame rate, whose change within a frame no clip can tell, is left out.
 */
export function wobbleOfCorrectedRows(motion: Motion, reach: PictureReach, readoutS: number): CauseFrames {
  const gain = mean(ROW_BANDS.map((share) => changeNoiseGain(motion.rateHz, share * readoutS)));
  return noiseCause(ANGULAR_AXES.map((axis) => reach[axis] ** 2 * whiteVariance(motion, axis) * gain));
}
