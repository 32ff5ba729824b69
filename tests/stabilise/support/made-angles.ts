/** Made-up paths of pan, tilt and roll in radians: a slow move with shake on top. */
import { gaussianRandom, seededRandom } from '../../../src/numerics/index.js';
import type { AngularVibration } from '../../../src/stabilise/index.js';

/** A path from formulas of the frame number; axes not given stay at 0. */
export function anglesOf(
  frames: number,
  formulas: Partial<Record<keyof AngularVibration, (t: number) => number>>,
): AngularVibration {
  const column = (axis: keyof AngularVibration): Float64Array =>
    Float64Array.from({ length: frames }, (_, t) => formulas[axis]?.(t) ?? 0);
  return { pan: column('pan'), tilt: column('tilt'), roll: column('roll') };
}

/** A pan that swings by `moveRad`, less of it in tilt and roll, and coloured shake of `shakeRad` on all three axes. */
export function shakenMove(
  frames: number,
  seed: number,
  { moveRad = 0.05, shakeRad = 0.001 }: { moveRad?: number; shakeRad?: number } = {},
): AngularVibration {
  const next = gaussianRandom(seededRandom(seed));
  const column = (share: number): Float64Array => {
    let shake = 0;
    return Float64Array.from({ length: frames }, (_, t) => {
      shake = 0.7 * shake + shakeRad * next();
      return share * moveRad * (Math.sin(t / 40) + t / 60) + shake;
    });
  };
  return { pan: column(1), tilt: column(0.25), roll: column(0.05) };
}

/** Target path of a correction: measured minus taken out. */
export function targetOf(path: AngularVibration, vibration: AngularVibration): AngularVibration {
  const column = (axis: keyof AngularVibration): Float64Array =>
    path[axis].map((value, t) => value - vibration[axis][t]);
  return { pan: column('pan'), tilt: column('tilt'), roll: column('roll') };
}
