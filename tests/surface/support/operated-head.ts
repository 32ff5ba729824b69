/** What an operator at the head does to a made-up pass: pans and tilts of their own, slow and quick. */
import { gaussianRandom, seededRandom } from '../../../src/numerics/index.js';
import type { Motion } from '../../../src/motion/index.js';
import { motionOf } from './made-up-pass.js';

const RAD_PER_MDEG = Math.PI / 180e3;
/** Share of a hand's move that is kept from frame to frame: it changes within half a second. */
const KEPT = 0.9;

export interface Operator {
  readonly seed?: number;
  /** Size of the hand's moves, mdeg RMS: about half of it is above 0.8 Hz. */
  readonly tiltMdeg?: number;
  readonly panMdeg?: number;
  /** Steady pan through the pass, degrees from first to last frame. */
  readonly panThroughDeg?: number;
  /** Lens in front of the tilt axis, m. */
  readonly armM?: number;
}

/** The pass with an operator at its head. */
export function operated(motion: Motion, operator: Operator = {}): Motion {
  const { seed = 1, tiltMdeg = 30, panMdeg = 30, panThroughDeg = 0, armM = 0 } = operator;
  const { path, timeS, rateHz, travelM } = motion;
  const gaussian = gaussianRandom(seededRandom(seed + 104729));
  const hand = (sizeMdeg: number): Float64Array => {
    let state = 0;
    return timeS.map(() => {
      state = KEPT * state + Math.sqrt(1 - KEPT ** 2) * gaussian();
      return sizeMdeg * RAD_PER_MDEG * state;
    });
  };
  const tilt = hand(tiltMdeg);
  const pan = hand(panMdeg);
  const last = timeS.length - 1;
  return motionOf(
    {
      ...path,
      tilt: path.tilt.map((value, i) => value + tilt[i]),
      pan: path.pan.map((value, i) => value + pan[i] + ((panThroughDeg * i) / last) * 1000 * RAD_PER_MDEG),
      vertical: path.vertical.map((value, i) => value + armM * tilt[i]),
    },
    timeS,
    rateHz,
    travelM!,
  );
}
