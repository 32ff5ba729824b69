/**
 * The path of the lens along the directions of travel (ahead, to the left over the wheels, up), radians and metres, from the path in
 * the camera's own axes; nothing is high-passed.
 */
import type { Motion } from '../../motion/index.js';
import { rms } from '../../numerics/index.js';
import type { Axis } from '../../run/index.js';
import { deckFromCamera, levelled, turnedSd, type Pair } from './deck-kinematics.js';
import type { Travel } from './travel.js';

/** A column and the standard deviation of its noise per frame. */
export interface NoisySeries {
  readonly values: Float64Array;
  /** With the error that tracks share, as coding makes it. */
  readonly noiseSd: number;
  /** Without it: that error may as well be movement that coding took away. */
  readonly leastNoiseSd: number;
}

/** How the lens looks against the travel. */
export interface LensDirection {
  /** Lens azimuth against travel, + to the right. */
  readonly azimuthRad: number;
  /** Lens tilt against travel, + up. */
  readonly tiltRad: number;
}

/** The lens in the frames of a pass. */
export interface LensPath {
  /** Turn of the lens about the axles and about the travel: the deck's pitch and roll if the head is rigid. */
  readonly pitchRad: NoisySeries;
  readonly rollRad: NoisySeries;
  /** Null where translation is not known in metres. */
  readonly way: {
    /** Across the travel, right of it; along it; and up, plumb. */
    readonly lateralM: NoisySeries;
    readonly forwardM: NoisySeries;
    readonly verticalM: NoisySeries;
  } | null;
}

/** Whether translation of the camera is known in metres. */
export function hasMetricTranslation(motion: Motion): boolean {
  return (
    motion.mode === 'full' &&
    motion.translationUnit === 'm' &&
    motion.observable !== 'no' &&
    motion.axes.vertical.status !== 'notObservable'
  );
}

/** Reads the lens's path along the travel; frames of the moving stretch. */
export function lensPath(motion: Motion, direction: LensDirection, travel: Travel): LensPath {
  const { azimuthRad, tiltRad } = direction;
  const of = (axis: Axis): NoisySeries => cameraSeries(motion, axis, travel);
  const [pitchRad, rollRad] = turned([of('tilt'), of('roll')], azimuthRad, deckFromCamera);
  if (!hasMetricTranslation(motion)) return { pitchRad, rollRad, way: null };
  // Without a usable axial series the lens counts as level: its part in the height is then small against its noise.
  const tilted = motion.axes.axial.status === 'notObservable' ? 0 : tiltRad;
  const [vertical, axial] = turned([of('vertical'), of('axial')], tilted, levelled);
  const [lateralM, forwardM] = turned([of('lateral'), axial], azimuthRad, deckFromCamera);
  const verticalM = { ...vertical, values: plumb(vertical.values, pitchRad.values, travel.placeM) };
  return { pitchRad, rollRad, way: { lateralM, forwardM, verticalM } };
}

function cameraSeries(motion: Motion, axis: Axis, { fromFrame, toFrame }: Travel): NoisySeries {
  const leastNoiseSd = rms(motion.noiseSd[axis].slice(fromFrame, toFrame));
  return {
    values: motion.path[axis].slice(fromFrame, toFrame),
    noiseSd: leastNoiseSd * sharedErrorFactor(motion, axis),
    leastNoiseSd,
  };
}

/** Floor with the shared error over floor without: how much the white part understates the noise of an axis. */
function sharedErrorFactor(motion: Motion, axis: Axis): number {
  const { floor, plainFloor } = motion.axes[axis];
  return plainFloor > 0 && Number.isFinite(floor) ? Math.max(1, floor / plainFloor) : 1;
}

function turned(
  [first, second]: readonly [NoisySeries, NoisySeries],
  angleRad: number,
  turn: (pair: Pair, angleRad: number) => Pair,
): [NoisySeries, NoisySeries] {
  const values = turn([first.values, second.values], angleRad);
  const noise = turnedSd([first.noiseSd, second.noiseSd], angleRad);
  const least = turnedSd([first.leastNoiseSd, second.leastNoiseSd], angleRad);
  return [
    { values: values[0], noiseSd: noise[0], leastNoiseSd: least[0] },
    { values: values[1], noiseSd: noise[1], leastNoiseSd: least[1] },
  ];
}

/**
 * Height along the plumb line from height along the lens's own upright, which leans as the lens pitches: a nose that is up turns a
 * part of the way ahead into way down, dz = dy + pitch ds. On long waves that part is as large as the heave itself.
 */
function plumb(upM: Float64Array, pitchRad: Float64Array, placeM: Float64Array): Float64Array {
  const middle = pitchRad.reduce((sum, value) => sum + value, 0) / pitchRad.length;
  const out = Float64Array.from(upM);
  let regained = 0;
  for (let i = 1; i < out.length; i++) {
    regained += ((pitchRad[i - 1] + pitchRad[i]) / 2 - middle) * (placeM[i] - placeM[i - 1]);
    out[i] += regained;
  }
  return out;
}
