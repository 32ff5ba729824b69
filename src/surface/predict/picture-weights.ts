/**
 * What deck pitch and roll do to the delivered picture, px per radian: the lens sees them as tilt, which shifts the whole picture by
 * the focal length, and as roll, which turns it about its middle.
 *
 * With the lens at azimuth a: tilt = p cos a - q sin a, roll = q cos a + p sin a. A corner lies half of the diagonal out; over the
 * four corners the squares add. Angles alone: what near things do because the camera is carried is parallax. Own derivation.
 */
import type { ChannelWeights } from './model-power.js';
import type { PredictedView } from './types.js';

/** Weights on the powers of pitch and roll, px^2 / rad^2, for the mean square shift at a place in the picture. */
export function pictureWeights(
  view: PredictedView,
  azimuthRad: number,
  place: 'centre' | 'corner',
): ChannelWeights {
  const along = Math.cos(azimuthRad) ** 2;
  const tilt = view.focalPx ** 2;
  const roll = place === 'centre' ? 0 : (view.widthPx ** 2 + view.heightPx ** 2) / 4;
  // Below rounding of the cosine of 90 degrees a channel has no part.
  const weight = (value: number): number => (value < 1e-9 * (tilt + roll) ? 0 : value);
  return {
    pitch: weight(tilt * along + roll * (1 - along)),
    roll: weight(tilt * (1 - along) + roll * along),
    heave: 0,
  };
}

/** Largest shift in px at that place over series of deck pitch and roll; `rollRad` null counts as none. */
export function largestShiftPx(
  pitchRad: Float64Array,
  rollRad: Float64Array | null,
  view: PredictedView,
  azimuthRad: number,
  place: 'centre' | 'corner',
): number {
  const c = Math.cos(azimuthRad);
  const s = Math.sin(azimuthRad);
  const radiusPx = place === 'centre' ? 0 : Math.hypot(view.widthPx, view.heightPx) / 2;
  let largest = 0;
  pitchRad.forEach((p, i) => {
    const q = rollRad === null ? 0 : rollRad[i];
    const shift = Math.hypot(view.focalPx * (p * c - q * s), radiusPx * (q * c + p * s));
    largest = Math.max(largest, shift);
  });
  return largest;
}
