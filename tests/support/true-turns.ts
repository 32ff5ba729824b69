/** What a stabiliser would take out that knew the true path of a made-up pass, row by row, radians. */
import { multiply3 } from '../../src/optics/index.js';
import { poseSeries, vibrationOf } from '../../src/motion/index.js';
import { rotationVector } from '../../src/motion/rotation-steps.js';
import type { Corrections, RowChanges } from '../../src/stabilise/index.js';
import { makeCameraPath, type SynthTruth } from '../../src/synth/index.js';

/** Rows at which the true turn is taken: closer than a plan takes them. */
const KNOTS = 17;

/** The corrections of the true path at a smoothing, seconds. */
export function trueCorrections(truth: SynthTruth, smoothingS: number): Corrections {
  const path = poseSeries(truth.rotations, truth.centres);
  const { vibration } = vibrationOf(path, truth.fps, 1 / smoothingS);
  return { vibration, rows: truth.settings.readoutMs > 0 ? trueRows(truth) : null };
}

/** The turn from the middle row to each other row, from the poses at the moments at which they were read. */
function trueRows({ settings, timeS }: SynthTruth): RowChanges {
  const { poseAt } = makeCameraPath(settings);
  const column = (): Float64Array => new Float64Array(timeS.length * KNOTS);
  const rows = { knots: KNOTS, pan: column(), tilt: column(), roll: column() };
  timeS.forEach((atS, t) => {
    const back = transposed(poseAt(atS).rotation);
    for (let k = 0; k < KNOTS; k++) {
      const laterS = (settings.readoutMs / 1000) * (k / (KNOTS - 1) - 0.5);
      const [x, y, z] = rotationVector(multiply3(poseAt(atS + laterS).rotation, back));
      const at = t * KNOTS + k;
      rows.tilt[at] = -x;
      rows.pan[at] = -y;
      rows.roll[at] = -z;
    }
  });
  return rows;
}

function transposed(r: ArrayLike<number>): Float64Array {
  return Float64Array.of(r[0], r[3], r[6], r[1], r[4], r[7], r[2], r[5], r[8]);
}
