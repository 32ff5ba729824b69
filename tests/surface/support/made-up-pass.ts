/** Motion records of made-up passes: a rigid deck on two axles over a made-up floor, filmed with a 180 degree shutter. */
import { fourthDifferenceSmooth, gaussianRandom, seededRandom } from '../../../src/numerics/index.js';
import { sixAxes, type Axis, type Rig, type SixAxes } from '../../../src/run/index.js';
import { cameraFromDeck } from '../../../src/surface/deck/deck-kinematics.js';
import type { AxisEstimate, Motion } from '../../../src/motion/index.js';
import { layEvents, type LaidEvents, type LaidJoint } from './laid-floor.js';
import { axlePath, madeUpFloor, SPACING_M } from './made-up-floor.js';
import { PLAIN_CLIP } from '../../support/plain-clip.js';

const RAD_PER_MDEG = Math.PI / 180e3;

/** Noise of the made-up measurements: 1 mdeg tilt, 1.2 mdeg roll and pan, 0.05 mm across, 0.1 mm along. */
const NOISE: Record<Axis, number> = {
  pan: 1.2 * RAD_PER_MDEG,
  tilt: RAD_PER_MDEG,
  roll: 1.2 * RAD_PER_MDEG,
  lateral: 5e-5,
  vertical: 5e-5,
  axial: 1e-4,
};

export interface PassOptions extends LaidEvents {
  readonly seed: number;
  readonly gdM3: number;
  readonly waviness?: number;
  readonly speedMps?: number;
  readonly fps?: number;
  readonly durationS?: number;
  readonly wheelRadiusM?: number;
  /** Contact patch of the wheels: 4 mm are a hard wheel, 45 mm a soft tyre. */
  readonly patchM?: number;
  /** The rig must say the same. */
  readonly wheelbaseM?: number;
  readonly azimuthDeg?: number;
  /** A line of a machine in the tilt: amplitude in mdeg RMS, frequency in Hz. */
  readonly line?: { readonly rmsMdeg: number; readonly freqHz: number };
  /** White shake of a machine in the tilt, mdeg per frame. */
  readonly shakeMdeg?: number;
  /** True noise over stated noise. */
  readonly noiseFactor?: number;
  /** Standing at the head of the clip, s. */
  readonly standingS?: number;
  /** Speed changes by this share, sine of 6 s. */
  readonly wobble?: number;
  readonly heightM?: number;
  readonly levelling?: boolean;
}

export const WHEELBASE_M = 0.45;
export const TRACK_WIDTH_M = 0.4;
export const CAMERA_OFFSET_M = 0.05;
/** Where the rear axle stands on the made-up tracks at the first frame. */
const START_M = 0.15;

/** What is true of a made-up pass; places count from where the rear axle stands at the first frame, metres. */
export interface PassTruth {
  /** Joints that an axle rolled over. */
  readonly joints: readonly LaidJoint[];
  /** Place of the rear axle at each frame. */
  readonly rearM: Float64Array;
  /** Height of an axle's wheels over each track, and their mean, + up. */
  readonly leftAt: (placeM: number) => number;
  readonly rightAt: (placeM: number) => number;
  readonly meanAxlePathAt: (placeM: number) => number;
}

/** The rig that belongs to a made-up pass. */
export function madeUpRig(speedMps: number, more: Partial<Rig> = {}): Rig {
  return {
    speedMps,
    wheelbaseM: WHEELBASE_M,
    trackWidthM: TRACK_WIDTH_M,
    cameraOffsetM: CAMERA_OFFSET_M,
    shutterAngleDeg: 180,
    lensAzimuthDeg: 0,
    head: 'locked',
    ...more,
  };
}

/** A pass over a made-up floor as the motion room would hand it on. */
export function madeUpPass(options: PassOptions): Motion {
  return madeUpPassWithTruth(options).motion;
}

/** The same, and what is true of it. */
export function madeUpPassWithTruth(options: PassOptions): {
  readonly motion: Motion;
  readonly truth: PassTruth;
} {
  const { seed, gdM3, waviness = 2, speedMps = 0.2, fps = 25, durationS = 20 } = options;
  const { wheelRadiusM = 0.04, patchM = 0.004, azimuthDeg = 0, noiseFactor = 1, heightM = 0.9 } = options;
  const { standingS = 0, wobble = 0, wheelbaseM = WHEELBASE_M } = options;
  const n = Math.round(durationS * fps);
  const placeAt = (timeS: number): number => {
    const t = Math.max(0, timeS - standingS);
    return START_M + speedMps * (t + ((wobble * 6) / (2 * Math.PI)) * (1 - Math.cos((2 * Math.PI * t) / 6)));
  };
  const floor = madeUpFloor(seed, speedMps * durationS * (1 + wobble) + wheelbaseM + 0.6, gdM3, waviness);
  const laid = layEvents(floor, options, START_M, seed + 15485863);
  const left = axlePath(floor.left, wheelRadiusM, patchM);
  const right = axlePath(floor.right, wheelRadiusM, patchM);
  const exposed = (t: number, height: (x: number) => number): number => {
    let sum = 0;
    for (let k = 0; k < 8; k++) sum += height(placeAt(t + ((k + 0.5) / 8 - 0.5) * (0.5 / fps)));
    return sum / 8;
  };
  const timeS = Float64Array.from({ length: n }, (_, i) => i / fps);
  const column = (height: (x: number) => number): Float64Array => timeS.map((t) => exposed(t, height));
  const front = (x: number): number => x + wheelbaseM;
  const mean = (x: number): number => (at(left, x) + at(right, x)) / 2;
  const pitch = column((x) => (mean(front(x)) - mean(x)) / wheelbaseM);
  const heave = column((x) => (mean(front(x)) + mean(x)) / 2);
  const difference = (x: number): number => at(left, x) - at(right, x);
  const deckRoll = column((x) => (difference(front(x)) + difference(x)) / 2 / TRACK_WIDTH_M);

  const gaussian = gaussianRandom(seededRandom(seed + 7919));
  const azimuthRad = (azimuthDeg * Math.PI) / 180;
  const [tilt, roll] = options.levelling
    ? [new Float64Array(n), new Float64Array(n)]
    : cameraFromDeck([pitch, deckRoll], azimuthRad);
  const [lateral, axial] = cameraFromDeck(
    [deckRoll.map((q) => heightM * q), pitch.map((p, i) => placeAt(timeS[i]) - heightM * p)],
    azimuthRad,
  );
  // Steps are summed in the camera's own axes: a nose that is up turns a part of the way ahead into way down.
  const sunk = new Float64Array(n);
  for (let i = 0; i + 1 < n && !options.levelling; i++)
    sunk[i + 1] = sunk[i] + ((pitch[i] + pitch[i + 1]) / 2) * (placeAt(timeS[i + 1]) - placeAt(timeS[i]));
  const vertical = heave.map((u, i) => u + CAMERA_OFFSET_M * pitch[i] - sunk[i]);
  if (options.line) {
    const amplitude = options.line.rmsMdeg * Math.SQRT2 * RAD_PER_MDEG;
    const phase = 2 * Math.PI * options.line.freqHz;
    timeS.forEach((t, i) => (tilt[i] += amplitude * Math.sin(phase * t + seed)));
  }
  const shake = (options.shakeMdeg ?? 0) * RAD_PER_MDEG;
  for (let i = 0; i < n; i++) tilt[i] += shake * gaussian();
  const clean: SixAxes = { pan: new Float64Array(n), tilt, roll, lateral, vertical, axial };
  const path = sixAxes((axis) => clean[axis].map((value) => value + noiseFactor * NOISE[axis] * gaussian()));
  const rearM = timeS.map((t) => placeAt(t) - START_M);
  return {
    motion: motionOf(path, timeS, fps, rearM[n - 1] - rearM[0]),
    truth: {
      joints: laid.filter(({ atM }) => atM > 0 && atM < rearM[n - 1] + wheelbaseM),
      rearM,
      leftAt: (placeM) => at(left, placeM + START_M),
      rightAt: (placeM) => at(right, placeM + START_M),
      meanAxlePathAt: (placeM) => mean(placeM + START_M),
    },
  };
}

/** Height of a track between its points. */
function at(track: Float64Array, x: number): number {
  const place = x / SPACING_M;
  const i = Math.max(0, Math.min(track.length - 2, Math.floor(place)));
  return track[i] + (track[i + 1] - track[i]) * (place - i);
}

/** A motion record around a path, translation in metres. */
export function motionOf(path: SixAxes, timeS: Float64Array, rateHz: number, travelM: number): Motion {
  const cutoffHz = 0.8;
  const n = timeS.length;
  const intended = sixAxes((axis) => fourthDifferenceSmooth(path[axis], rateHz, cutoffHz));
  const estimate: AxisEstimate = {
    status: 'value',
    rms: 0,
    rawRms: 0,
    peakToPeak: 0,
    maximum: 0,
    floor: 0,
    plainFloor: 0,
    ci95: null,
    below: 0,
  };
  return {
    timeS,
    rateHz,
    resampleShiftS: 0,
    mode: 'full',
    path,
    intended,
    vibration: sixAxes((axis) => path[axis].map((value, i) => value - intended[axis][i])),
    noiseSd: sixAxes((axis) => new Float64Array(n).fill(NOISE[axis])),
    translationUnit: 'm',
    travelM,
    depth: { median: 3, meanInverse: 0.35, sdInverse: 0.12 },
    axes: {
      pan: estimate,
      tilt: estimate,
      roll: estimate,
      lateral: estimate,
      vertical: estimate,
      axial: estimate,
    },
    bandHz: [cutoffHz, rateHz / 2],
    trimFrames: Math.round(rateHz / 2),
    parallaxP: 60,
    observable: 'yes',
    observableReason: null,
    angularShare: { value: null, ci95: null },
    sigmaPx: 0.08,
    keptShare: 0.8,
    tracksPerFrame: new Int32Array(n).fill(250),
    inliersPerFrame: new Int32Array(n).fill(200),
    keptObservations: new Uint8Array(0),
    ...PLAIN_CLIP,
  };
}

/** The same pass as a clip without parallax shows it: angles only. */
export function withoutTranslation(motion: Motion): Motion {
  const none = new Float64Array(motion.timeS.length);
  const flat = (axes: SixAxes): SixAxes => ({ ...axes, lateral: none, vertical: none, axial: none });
  return {
    ...motion,
    mode: 'rotationOnly',
    observable: 'no',
    translationUnit: 'medianDepth',
    travelM: null,
    depth: null,
    path: flat(motion.path),
    intended: flat(motion.intended),
    vibration: flat(motion.vibration),
  };
}
