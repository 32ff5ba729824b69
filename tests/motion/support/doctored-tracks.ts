/**
 * What lens and camera can do to the picture of an honest simulated pass: zoom, breathe, slide the picture under the lens or turn it
 * against the shake. Pixels at the pass's own size.
 */
import { poseSeries, vibrationOf } from '../../../src/motion/index.js';
import { rotationFromVector } from '../../../src/optics/index.js';
import type { SimulatedPass } from './simulated-tracks.js';

/** The pass with each point of each frame somewhere else. */
function moved(
  pass: SimulatedPass,
  place: (t: number, x: number, y: number) => readonly [number, number],
): SimulatedPass {
  const { table, camera } = pass;
  const xPx = new Float64Array(table.xPx.length);
  const yPx = new Float64Array(table.yPx.length);
  table.obsFrame.forEach((t, o) => {
    const [x, y] = place(
      t,
      (table.xPx[o] - camera.centreXPx) / camera.focalPx,
      (table.yPx[o] - camera.centreYPx) / camera.focalPx,
    );
    xPx[o] = camera.centreXPx + camera.focalPx * x;
    yPx[o] = camera.centreYPx + camera.focalPx * y;
  });
  return { ...pass, table: { ...table, xPx, yPx } };
}

/** The pass with a focal length that changes: `logFocalAt` gives its logarithm over that of the camera. */
export function withFocal(pass: SimulatedPass, logFocalAt: (timeS: number) => number): SimulatedPass {
  const factors = pass.table.timeS.map((s) => Math.exp(logFocalAt(s)));
  return moved(pass, (t, x, y) => [x * factors[t], y * factors[t]]);
}

/** Fast part of a true turn, tilt, pan and roll as turns about x, y and z (rad), 3 per frame. */
export function fastTurn(
  { rotations, centres }: Pick<SimulatedPass, 'rotations' | 'centres'>,
  rateHz: number,
  aboveHz: number,
): Float64Array {
  const { pan, tilt, roll } = vibrationOf(poseSeries(rotations, centres), rateHz, aboveHz).vibration;
  return Float64Array.from(
    { length: 3 * pan.length },
    (_, k) => -[tilt, pan, roll][k % 3][Math.floor(k / 3)],
  );
}

/** The picture slides under the lens, as a floating lens or sensor does, and takes off `share` of pan and tilt above `aboveHz`. */
export function withSlidingPicture(pass: SimulatedPass, share: number, aboveHz = 1): SimulatedPass {
  const w = fastTurn(pass, rateOf(pass), aboveHz);
  return moved(pass, (t, x, y) => [x - share * w[3 * t + 1], y + share * w[3 * t]]);
}

/** The picture is turned against the shake, as a camera does that knows its own turns: `share` of them above `aboveHz`. */
export function withTurnedPicture(pass: SimulatedPass, share: number, aboveHz = 1): SimulatedPass {
  const w = fastTurn(pass, rateOf(pass), aboveHz);
  const frames = pass.table.timeS.keys();
  const back = Array.from(frames, (t) =>
    rotationFromVector(-share * w[3 * t], -share * w[3 * t + 1], -share * w[3 * t + 2]),
  );
  return moved(pass, (t, x, y) => {
    const r = back[t];
    const z = r[6] * x + r[7] * y + r[8];
    return [(r[0] * x + r[1] * y + r[2]) / z, (r[3] * x + r[4] * y + r[5]) / z];
  });
}

const rateOf = ({ table: { timeS } }: SimulatedPass): number => 1 / (timeS[1] - timeS[0]);
