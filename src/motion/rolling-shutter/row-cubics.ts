/**
 * Motion within a frame as a cubic of the row time u (-1 at the upper edge of the picture, 1 at the lower one), and as
 * values at the edges of the row bands: from one to the other. Turn in rad, displacement in scene units.
 */
import { fourthDifferenceVibration } from '../../numerics/index.js';
import { RATE_NUMBERS, RATE_ORDER } from './row-equations.js';
import { edgeShare, ROW_BANDS, ROW_NUMBERS } from './row-motion.js';

/** Fewer frames than this have no fast part of their own. */
const FEWEST_FRAMES = 12;

/** Adds cubics to motion at the edges of the row bands, as a new column. */
export function withCubics(expected: Float64Array, cubics: Float64Array): Float64Array {
  const motion = expected.slice();
  for (let t = 0; ROW_NUMBERS * t < motion.length; t++) {
    for (let edge = 0; edge <= ROW_BANDS; edge++) {
      const u = 2 * edgeShare(edge);
      for (let k = 0, power = u; k < RATE_ORDER; k++, power *= u)
        for (let a = 0; a < 6; a++)
          motion[ROW_NUMBERS * t + 6 * edge + a] += power * cubics[RATE_NUMBERS * t + 6 * k + a];
    }
  }
  return motion;
}

/** The cubics a u + b u^2 + c u^3 nearest to the motion at the edges, RATE_NUMBERS per frame. */
export function nearestCubics(motion: Float64Array): Float64Array {
  const frames = motion.length / ROW_NUMBERS;
  const cubics = new Float64Array(RATE_NUMBERS * frames);
  // Odd and even powers do not mix on edges that lie evenly about the middle row.
  let s2 = 0;
  let s4 = 0;
  let s6 = 0;
  for (let edge = 0; edge <= ROW_BANDS; edge++) {
    const square = (2 * edgeShare(edge)) ** 2;
    s2 += square;
    s4 += square ** 2;
    s6 += square ** 3;
  }
  const determinant = s2 * s6 - s4 * s4;
  for (let t = 0; t < frames; t++) {
    for (let a = 0; a < 6; a++) {
      let m1 = 0;
      let m2 = 0;
      let m3 = 0;
      for (let edge = 0; edge <= ROW_BANDS; edge++) {
        const u = 2 * edgeShare(edge);
        const value = motion[ROW_NUMBERS * t + 6 * edge + a];
        m1 += u * value;
        m2 += u * u * value;
        m3 += u * u * u * value;
      }
      const at = RATE_NUMBERS * t + a;
      cubics[at] = (m1 * s6 - m3 * s4) / determinant;
      cubics[at + 6] = m2 / s4;
      cubics[at + 12] = (m3 * s2 - m1 * s4) / determinant;
    }
  }
  return cubics;
}

/**
 * The part of cubics that varies faster than the cut-off from frame to frame; frames that are not `used` get zeros, and
 * so do all when fewer than twelve are.
 *
 * The slow part looks like a sheared scene and says nothing of the readout.
 */
export function fastCubics(
  cubics: Float64Array,
  used: readonly number[],
  rateHz: number,
  cutoffHz: number,
): Float64Array {
  const fast = new Float64Array(cubics.length);
  if (used.length < FEWEST_FRAMES) return fast;
  for (let j = 0; j < RATE_NUMBERS; j++) {
    const column = Float64Array.from(used, (t) => cubics[RATE_NUMBERS * t + j]);
    const shake = fourthDifferenceVibration(column, rateHz, cutoffHz);
    used.forEach((t, k) => (fast[RATE_NUMBERS * t + j] = shake[k]));
  }
  return fast;
}
