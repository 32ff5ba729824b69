/**
 * Cropping, distortion and stability of a stabilised clip, numbers without unit from 0 to 1, as papers on stabilisation
 * compare clips: from the motion of the camera, the corrections and the zoom.
 *
 * Defined after Liu, Yuan, Tan & Sun 2013, "Bundled camera paths for video stabilization", ACM Transactions on Graphics
 * 32(4). The definitions here are from memory, in line with how later papers tell them; where these differ, each figure
 * says what is taken. They rank results against each other and are no measure of what a viewer sees.
 */
import { mean, realFft } from '../../numerics/index.js';
import { multiply3, type Camera } from '../../optics/index.js';
import type { Motion } from '../../motion/index.js';
import { correctionHomographies } from '../crop/exact-crop.js';
import type { AngularVibration } from '../types.js';

/** Lowest frequencies that count as steady: the 2nd to the 6th of the spectrum, the 1st being the mean. */
const STEADY_BINS = [1, 5] as const;
/** A path that moves less than this, px or radians squared and summed over the clip, stands still. */
const STILL = 1e-18;

/** The three figures of a clip; 1 is best. */
export interface SteadinessFigures {
  /** Side of the picture kept, mean over the frames. */
  readonly croppingLinear: number;
  /** Area of the picture kept, mean over the frames; some papers give this one. */
  readonly croppingArea: number;
  /** Least over the frames. */
  readonly distortion: number;
  /** The lesser of shift and turn. */
  readonly stability: number;
}

/** A clip before and after. */
export interface Steadiness {
  readonly before: SteadinessFigures;
  readonly after: SteadinessFigures;
}

/** What the figures are made from. */
export interface SteadinessInput {
  readonly motion: Motion;
  /** Angular vibration taken out, radians, length n. */
  readonly correctionsVibration: AngularVibration;
  /** Static zoom. */
  readonly zoom: number;
  /** Camera of the analysis frames. */
  readonly camera: Camera;
}

/**
 * The three figures of a clip as it is and as stabilised.
 *
 * The path of the picture is its shift in px at the mean inverse depth, turns and moves together, and its roll in radians;
 * moves count for nothing where the depth is unknown. All frames count. A clip without frames has figures of 1.
 */
export function steadinessOf(input: SteadinessInput): Steadiness {
  const { motion, correctionsVibration: taken, zoom, camera } = input;
  const none = motion.timeS.map(() => 0);
  const homographies = zoomedHomographies(taken, zoom, camera);
  return {
    before: {
      croppingLinear: 1,
      croppingArea: 1,
      distortion: 1,
      stability: pathStability(motion, { pan: none, tilt: none, roll: none }, camera),
    },
    after: {
      ...croppingRatio(homographies),
      distortion: distortionValue(homographies),
      stability: pathStability(motion, taken, camera),
    },
  };
}

/**
 * Cropping ratio: one over the scale of the homography from input to output, mean over the frames.
 *
 * @param homographies row-major 3x3 each, px from the middle of the picture; the scale is the root of the determinant of
 *   the affine part, so the ratio is linear, and its square that of areas; 1 without frames
 */
export function croppingRatio(homographies: Readonly<Float64Array>): {
  readonly croppingLinear: number;
  readonly croppingArea: number;
} {
  const areas = affineParts(homographies).map(([a, b, c, d]) => 1 / Math.abs(a * d - b * c));
  if (areas.length === 0) return { croppingLinear: 1, croppingArea: 1 };
  return { croppingLinear: mean(areas.map(Math.sqrt)), croppingArea: mean(areas) };
}

/**
 * Distortion value: the ratio of the smaller to the larger eigenvalue, in size, of the affine part of each homography;
 * the least over the frames. 1: no direction is stretched more than another.
 *
 * @param homographies as in `croppingRatio`; 1 without frames
 */
export function distortionValue(homographies: Readonly<Float64Array>): number {
  return affineParts(homographies).reduce((least, part) => Math.min(least, eigenvalueRatio(part)), 1);
}

/**
 * Stability score of one path: share of the energy of its spectrum, the mean left out, that lies in the 2nd to 6th lowest
 * frequencies (the mean is the 1st). Plain Fourier transform of the whole path, no window, no trend taken off.
 *
 * @param columns series of equal length whose energies are added: one, or shifts across and down
 * @returns 1 for a path that stands still or has fewer than 3 samples
 */
export function stabilityScore(columns: readonly Readonly<Float64Array>[]): number {
  let steady = 0;
  let all = 0;
  for (const column of columns) {
    const n = column.length;
    if (n < 3) return 1;
    const middle = mean(column);
    const { re, im } = realFft(Float64Array.from(column, (value) => value - middle));
    for (let k = 1; k < re.length; k++) {
      // Bins stand for their negative frequency as well, but for the one at half the rate.
      const energy = (2 * k === n ? 1 : 2) * (re[k] ** 2 + im[k] ** 2);
      all += energy;
      if (k >= STEADY_BINS[0] && k <= STEADY_BINS[1]) steady += energy;
    }
  }
  return all > STILL ? steady / all : 1;
}

function pathStability(motion: Motion, taken: AngularVibration, camera: Camera): number {
  const { path, depth } = motion;
  const near = depth?.meanInverse ?? 0;
  const f = camera.focalPx;
  const across = path.pan.map((pan, t) => -f * (pan - taken.pan[t] + near * path.lateral[t]));
  const down = path.tilt.map((tilt, t) => f * (tilt - taken.tilt[t] + near * path.vertical[t]));
  const turn = path.roll.map((roll, t) => roll - taken.roll[t]);
  return Math.min(stabilityScore([across, down]), stabilityScore([turn]));
}

/** The warps of a clip with the zoom, in px from the middle of the picture. */
function zoomedHomographies(taken: AngularVibration, zoom: number, camera: Camera): Float64Array {
  const fromMiddle = Float64Array.of(1, 0, camera.centreXPx, 0, 1, camera.centreYPx, 0, 0, 1);
  const enlarge = Float64Array.of(
    zoom,
    0,
    -zoom * camera.centreXPx,
    0,
    zoom,
    -zoom * camera.centreYPx,
    0,
    0,
    1,
  );
  const warps = correctionHomographies(taken, camera);
  const out = new Float64Array(warps.length);
  for (let at = 0; at < warps.length; at += 9) {
    out.set(multiply3(enlarge, multiply3(warps.subarray(at, at + 9), fromMiddle)), at);
  }
  return out;
}

type Affine = readonly [number, number, number, number];

/** Upper left 2x2 of each homography, scaled to a last element of 1. */
function affineParts(homographies: Readonly<Float64Array>): Affine[] {
  return Array.from({ length: homographies.length / 9 }, (_, t) => {
    const at = 9 * t;
    const scale = homographies[at + 8];
    return [0, 1, 3, 4].map((k) => homographies[at + k] / scale) as unknown as Affine;
  });
}

/** Sizes of the eigenvalues, smaller over larger; a pair of complex ones is equal in size. */
function eigenvalueRatio([a, b, c, d]: Affine): number {
  const half = (a + d) / 2;
  const determinant = a * d - b * c;
  const inside = half * half - determinant;
  if (inside <= 0) return 1;
  const first = Math.abs(half + Math.sqrt(inside));
  const second = Math.abs(half - Math.sqrt(inside));
  return Math.min(first, second) / Math.max(first, second);
}
