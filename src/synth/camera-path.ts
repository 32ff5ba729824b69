/**
 * The camera's pose at any instant of a pass: intended move, slow wander, deck on its floor, its mount, machines, vibration.
 *
 * World axes are those of the camera at rest at time 0: x right, y down, z forward, metres. The small left rotation exp([w])
 * with w = (-tilt, -pan, -roll) is laid over the intended one; translations are displacements in the camera's own axes.
 */
import { seededRandom } from '../numerics/index.js';
import { multiply3, rotationFromAngles, rotationFromVector } from '../optics/index.js';
import type { Axis } from '../run/index.js';
import { makeMachines } from './causes/machine-lines.js';
import { makeRinging } from './causes/mount-ringing.js';
import { makeDeck, type DeckState, type RollingDeck } from './deck.js';
import { frameCountOf, frameTimeS, type SynthOptions } from './options.js';
import type { Pose } from './projected-surfaces.js';
import { makeVibration } from './vibration.js';

/** The path of one pass. */
export interface CameraPath {
  /** Frame times, seconds. */
  readonly timesS: Float64Array;
  /** Pose at any time; vibration, deck and wander included. */
  readonly poseAt: (timeS: number) => Pose;
  /** Way along the travel at any time, metres, 0 at time 0. */
  readonly travelAt: (timeS: number) => number;
  /** Intended place of the camera, without deck and vibration. */
  readonly intendedAt: (timeS: number) => readonly [number, number, number];
  /** Intended pan of the camera, radians; 0 except on an arc. */
  readonly intendedPanAt: (timeS: number) => number;
  readonly deck: RollingDeck | null;
}

const RADIANS = Math.PI / 180;
/** Slow changes of speed: frequency in Hz, share of the wander. Far below the vibration band. */
const SPEED_WAVES = [
  [0.13, 0.8],
  [0.29, 0.2],
] as const;
/** Slow pan, tilt and height of an operated head, Hz. */
const DRIFT_HZ = [0.15, 0.11, 0.08] as const;
/** Height that goes with the slow drift, metres for each degree of it. */
const DRIFT_M_PER_DEG = 0.1;

function makeTravel(options: SynthOptions, random: () => number): (timeS: number) => number {
  const phases = SPEED_WAVES.map(() => 2 * Math.PI * random());
  const { speedMps, speedWander } = options;
  return (timeS) => {
    let way = timeS;
    SPEED_WAVES.forEach(([freqHz, share], i) => {
      const omega = 2 * Math.PI * freqHz;
      way += (speedWander * share * (Math.sin(omega * timeS + phases[i]) - Math.sin(phases[i]))) / omega;
    });
    return speedMps * way;
  };
}

/** Intended place and pan (radians) of the camera after a way along the travel. */
function intendedMove(
  options: SynthOptions,
  wayM: number,
): { centre: [number, number, number]; panRad: number } {
  const azimuth = options.lensAzimuthDeg * RADIANS;
  if (options.move === 'arc') {
    const toRight = options.lensAzimuthDeg < 0 ? 1 : -1;
    const angle = (toRight * wayM) / options.arcRadiusM;
    const r = options.arcRadiusM;
    return { centre: [r * Math.sin(angle), 0, r * (1 - Math.cos(angle))], panRad: -angle };
  }
  return { centre: [-wayM * Math.sin(azimuth), 0, wayM * Math.cos(azimuth)], panRad: 0 };
}

/** Angles that the mount adds to those of the deck it stands on. */
type Ringing = (timeS: number) => { readonly pitchRad: number; readonly rollRad: number };

/** The mount is at rest when the wheels come onto the made floor, and no longer than this before the clip. */
const AT_REST_S = 4;

function makeMount(
  options: SynthOptions,
  deck: RollingDeck | null,
  travelAt: (timeS: number) => number,
  endS: number,
): Ringing {
  const mount = options.deck?.mount;
  if (!deck || !mount) return () => ({ pitchRad: 0, rollRad: 0 });
  const added = (angle: 'pitch' | 'roll'): ((timeS: number) => number) =>
    mount.axes.includes(angle)
      ? makeRinging(
          mount,
          (timeS) => deck.stateAt(travelAt(timeS))[angle === 'pitch' ? 'pitchRad' : 'rollRad'],
          -AT_REST_S,
          endS,
        )
      : () => 0;
  const [pitch, roll] = [added('pitch'), added('roll')];
  return (timeS) => ({ pitchRad: pitch(timeS), rollRad: roll(timeS) });
}

/** R^T d added to a centre. */
function displaced(centre: ArrayLike<number>, r: ArrayLike<number>, d: ArrayLike<number>): Float64Array {
  return Float64Array.from([0, 1, 2], (_, i) => centre[i] + r[i] * d[0] + r[3 + i] * d[1] + r[6 + i] * d[2]);
}

/** What the deck does to the camera: its own rotation, and the place of the lens that stands on it. */
function onDeck(
  options: SynthOptions,
  { pitchRad, rollRad, heaveM }: DeckState,
  mount: ReturnType<Ringing>,
  centre: ArrayLike<number>,
): Pose {
  const offset = options.deck?.cameraOffsetM ?? 0;
  const height = options.cameraHeightM;
  const c = Math.cos(options.lensAzimuthDeg * RADIANS);
  const s = Math.sin(options.lensAzimuthDeg * RADIANS);
  // Deck axes (right, forward) in the camera's axes at rest.
  const right = [c, 0, s];
  const forward = [-s, 0, c];
  const turned = (pitch: number, roll: number): Float64Array => {
    const w = [0, 1, 2].map((i) => -pitch * right[i] - roll * forward[i]);
    return rotationFromVector(w[0], w[1], w[2]);
  };
  const rotation = turned(pitchRad, rollRad);
  // The lens stands `height` above the floor and `offset` ahead of the middle; its place at rest is the path's centre.
  const rest = [0, 1, 2].map((i) => offset * forward[i] - (i === 1 ? height : 0));
  const foot = [0, 1, 2].map((i) => centre[i] - rest[i] - (i === 1 ? heaveM : 0));
  // The mount sits right under the lens: its ringing turns the camera and leaves it in its place.
  const rung = turned(pitchRad + mount.pitchRad, rollRad + mount.rollRad);
  return { rotation: rung, centre: displaced(foot, rotation, rest) };
}

/** Makes the path of a pass. */
export function makeCameraPath(options: SynthOptions): CameraPath {
  const n = frameCountOf(options);
  const timesS = Float64Array.from({ length: n }, (_, i) => frameTimeS(options, i));
  const random = seededRandom(options.seed * 131 + 7);
  const travelAt = makeTravel(options, random);
  const vibrationAt = makeVibration(options.vibration, options.seed, timesS, options.fps);
  const drift = DRIFT_HZ.map((freqHz) => ({ freqHz, phase: 2 * Math.PI * random() }));
  const deck = options.deck
    ? makeDeck(options.deck, options.seed, travelAt(timesS[n - 1] + 0.1) + 0.1)
    : null;
  const ringing = makeMount(options, deck, travelAt, timesS[n - 1] + 0.2);
  const machinesAt = makeMachines(options.machines);
  const shakeAt = (axis: Axis, timeS: number): number => vibrationAt(axis, timeS) + machinesAt(axis, timeS);
  const driftAt = (k: number, timeS: number): number =>
    options.driftDeg * Math.sin(2 * Math.PI * drift[k].freqHz * timeS + drift[k].phase);

  function intendedAt(timeS: number): [number, number, number] {
    const { centre } = intendedMove(options, travelAt(timeS));
    // A deck's height comes from the floor alone; a free camera also rises and sinks slowly.
    if (!deck && options.move !== 'static') centre[1] += DRIFT_M_PER_DEG * driftAt(2, timeS);
    return centre;
  }

  function poseAt(timeS: number): Pose {
    const way = travelAt(timeS);
    const centre = intendedAt(timeS);
    const { panRad } = intendedMove(options, way);
    const head = rotationFromAngles(panRad + driftAt(0, timeS) * RADIANS, driftAt(1, timeS) * RADIANS, 0);
    const base: Pose = deck
      ? onDeck(options, deck.stateAt(way), ringing(timeS), centre)
      : { rotation: head, centre };
    const rotation = deck ? multiply3(head, base.rotation) : head;
    const shaken = multiply3(
      rotationFromAngles(shakeAt('pan', timeS), shakeAt('tilt', timeS), shakeAt('roll', timeS)),
      rotation,
    );
    const moved = [shakeAt('lateral', timeS), -shakeAt('vertical', timeS), shakeAt('axial', timeS)];
    return { rotation: shaken, centre: displaced(base.centre, rotation, moved) };
  }

  return {
    timesS,
    poseAt,
    travelAt,
    intendedAt,
    intendedPanAt: (timeS) => intendedMove(options, travelAt(timeS)).panRad,
    deck,
  };
}
