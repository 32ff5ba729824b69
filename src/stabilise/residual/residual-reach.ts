/**
 * How far the picture moves when the camera turns or moves: RMS over the delivered part of the frame and over the depths
 * of the scene, analysis px, from small changes on the six axes (radians, translation unit).
 *
 * Motion field of Longuet-Higgins & Prazdny 1980, Proc. R. Soc. Lond. B 208, for a point of inverse depth rho seen at
 * (x, y), in the signs of this project: across  -f ((1 + x^2) pan + x y tilt + y roll + rho (lateral - x axial)) and
 * likewise down; its moments over a rectangle of even brightness and over the mean and spread of rho are closed forms.
 * Lens distortion is left out: it changes the size of a small motion by its own share only.
 */
import type { Camera, PictureSize } from '../../optics/index.js';
import type { SceneDepth } from '../../motion/index.js';
import { AXES, type Axis } from '../../run/index.js';

/** Mean squares over the picture; px^2 per radian^2, and px^2 per length^2 where inverse depths are in 1/length. */
export interface PictureReach {
  readonly focalPx: number;
  /** px per radian, RMS over the picture. */
  readonly pan: number;
  readonly tilt: number;
  readonly roll: number;
  /** RMS distance from the middle over the focal length: what an axial move has for a lever. */
  readonly axialArm: number;
  /** Mean over the picture of 1 + x^2 and of 1 + y^2: how turn and shift go together. */
  readonly panWithLateral: number;
  readonly tiltWithVertical: number;
}

/** One value per axis and frame; an axis that is missing does not move. */
export type ChangeSeries = Partial<Readonly<Record<Axis, Readonly<Float64Array>>>>;

/**
 * The reach of a camera over the part of its frame that is delivered.
 *
 * @param pxScale px of the delivery per px of the camera
 */
export function pictureReach(camera: Camera, delivery: PictureSize, pxScale: number): PictureReach {
  const f = camera.focalPx;
  const halfX = delivery.widthPx / pxScale / 2 / f;
  const halfY = delivery.heightPx / pxScale / 2 / f;
  const x2 = halfX ** 2 / 3;
  const y2 = halfY ** 2 / 3;
  const x4 = halfX ** 4 / 5;
  const y4 = halfY ** 4 / 5;
  return {
    focalPx: f,
    pan: f * Math.sqrt(1 + 2 * x2 + x4 + x2 * y2),
    tilt: f * Math.sqrt(1 + 2 * y2 + y4 + x2 * y2),
    roll: f * Math.sqrt(x2 + y2),
    axialArm: Math.sqrt(x2 + y2),
    panWithLateral: 1 + x2,
    tiltWithVertical: 1 + y2,
  };
}

/** px per unit of lateral or vertical move, RMS over the depths. */
export function pxPerMove(reach: PictureReach, depth: SceneDepth): number {
  return reach.focalPx * Math.hypot(depth.meanInverse, depth.sdInverse);
}

/**
 * Mean square of the picture motion of each frame, px^2.
 *
 * Turns and moves act together: pan to the right and a move to the right shift the picture the same way.
 *
 * @param change columns of equal length
 * @param depth null: moves count for nothing
 * @returns length of the columns
 */
export function pictureMeanSquares(
  change: ChangeSeries,
  reach: PictureReach,
  depth: SceneDepth | null,
): Float64Array {
  const n = AXES.reduce((most, axis) => Math.max(most, change[axis]?.length ?? 0), 0);
  const out = new Float64Array(n);
  const f2 = reach.focalPx ** 2;
  const near = depth?.meanInverse ?? 0;
  const meanSquare = near ** 2 + (depth?.sdInverse ?? 0) ** 2;
  for (let t = 0; t < n; t++) {
    const pan = change.pan?.[t] ?? 0;
    const tilt = change.tilt?.[t] ?? 0;
    const roll = change.roll?.[t] ?? 0;
    const lateral = change.lateral?.[t] ?? 0;
    const vertical = change.vertical?.[t] ?? 0;
    const axial = change.axial?.[t] ?? 0;
    const turned = (reach.pan * pan) ** 2 + (reach.tilt * tilt) ** 2 + (reach.roll * roll) ** 2;
    const moved = meanSquare * (lateral ** 2 + vertical ** 2 + (reach.axialArm * axial) ** 2);
    const together =
      2 * near * (reach.panWithLateral * pan * lateral + reach.tiltWithVertical * tilt * vertical);
    out[t] = Math.max(0, turned + f2 * (moved + together));
  }
  return out;
}
