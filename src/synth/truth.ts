/** The truth of a made-up pass as a file, format "trundle-truth/1": pose of every frame, true vibration, floor, causes, settings. */
import { readFileSync } from 'node:fs';
import { poseSeries } from '../motion/index.js';
import { AXES, TrundleError, type Axis } from '../run/index.js';
import { trueCauses, type TrueCause } from './causes/true-causes.js';
import type { Film } from './film.js';
import type { Joint, LaidOnFloor } from './laid-on-floor.js';
import type { FloorOptions, SynthOptions } from './options.js';
import { BAND_FROM_HZ, TRIM_S, bandRms } from './vibration.js';

/** Name and version that a truth file begins with. */
export const TRUTH_FORMAT = 'trundle-truth/1';

/** True vibration of one axis: RMS from 0.8 Hz to Nyquist, 0.5 s at each end left out. */
export type TrueVibration = Readonly<Record<Axis, number>>;

/** The floor under a deck; places from the rear axle at time 0, heights and steps + up, also of what the pass does not reach. */
export interface TrueFloor extends LaidOnFloor {
  readonly gdM3: number;
  readonly waviness: number;
}

/** What is true of a clip; poses are those at the middle of the exposure of the middle row. */
export interface SynthTruth {
  readonly settings: SynthOptions;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly focalPx: number;
  readonly fps: number;
  /** Way of the camera from first to last frame along the intended path. */
  readonly travelM: number;
  /** Seconds, length n. */
  readonly timeS: Float64Array;
  /** World-to-camera, row-major, 9 per frame. */
  readonly rotations: Float64Array;
  /** Metres, 3 per frame. */
  readonly centres: Float64Array;
  readonly bandHz: readonly [number, number];
  readonly trimS: number;
  /** Degrees for pan, tilt, roll; millimetres for lateral, vertical, axial. */
  readonly vibrationRms: TrueVibration;
  readonly floor: TrueFloor | null;
  /** What shakes, beside the floor itself. */
  readonly causes: readonly TrueCause[];
}

/** Works out the truth of a pass. */
export function truthOf(film: Film): SynthTruth {
  const { options, path, camera, frameCount: n } = film;
  const rotations = new Float64Array(9 * n);
  const centres = new Float64Array(3 * n);
  path.timesS.forEach((timeS, i) => {
    const pose = path.poseAt(timeS);
    rotations.set(Array.from(pose.rotation), 9 * i);
    centres.set(Array.from(pose.centre), 3 * i);
  });
  const travelM = path.travelAt(path.timesS[n - 1]) - path.travelAt(path.timesS[0]);
  const betweenS = path.timesS[n - 1] - path.timesS[0];
  return {
    settings: options,
    widthPx: options.widthPx,
    heightPx: options.heightPx,
    focalPx: camera.focalPx,
    fps: options.fps,
    travelM,
    timeS: path.timesS,
    rotations,
    centres,
    bandHz: [BAND_FROM_HZ, options.fps / 2],
    trimS: TRIM_S,
    vibrationRms: trueVibration(rotations, centres, options.fps),
    floor: options.deck && path.deck ? floorTruth(options.deck.floor, path.deck.floor) : null,
    causes: trueCauses(options, betweenS > 0 ? travelM / betweenS : options.speedMps),
  };
}

function floorTruth(floor: FloorOptions, { joints, steps, bumps }: LaidOnFloor): TrueFloor {
  return { gdM3: floor.gdM3, waviness: floor.waviness, joints, steps, bumps };
}

function trueVibration(rotations: Float64Array, centres: Float64Array, fps: number): TrueVibration {
  const series = poseSeries(rotations, centres);
  const inUnit = (axis: Axis): number => {
    const angular = axis === 'pan' || axis === 'tilt' || axis === 'roll';
    return bandRms(series[axis], fps) * (angular ? 180 / Math.PI : 1000);
  };
  return Object.fromEntries(AXES.map((axis) => [axis, inUnit(axis)])) as unknown as TrueVibration;
}

/** Digits after the point that matter: 1e-9 of a rotation is 0.06 millionths of a degree; 1e-8 m is 0.01 um. */
const ROTATION_DIGITS = 9;
const CENTRE_DIGITS = 8;

const rounded = (value: number, digits: number): number => Number(value.toFixed(digits));

/** Places to a tenth of a millimetre, heights to a tenth of a micrometre. */
function roundedFloor(floor: TrueFloor): TrueFloor {
  const step = (of: Joint): Joint => ({
    atM: rounded(of.atM, 4),
    leftStepM: rounded(of.leftStepM, 7),
    rightStepM: rounded(of.rightStepM, 7),
  });
  return {
    ...floor,
    joints: floor.joints.map(step),
    steps: floor.steps.map(step),
    bumps: floor.bumps.map(({ atM, lengthM, leftM, rightM }) => ({
      atM: rounded(atM, 4),
      lengthM: rounded(lengthM, 4),
      leftM: rounded(leftM, 7),
      rightM: rounded(rightM, 7),
    })),
  };
}

/** The truth as compact JSON text: one line a frame, [time, 9 of the rotation, 3 of the centre]. */
export function truthText(truth: SynthTruth): string {
  const { timeS, rotations, centres, settings, floor, causes, ...facts } = truth;
  const rms = Object.fromEntries(AXES.map((axis) => [axis, rounded(truth.vibrationRms[axis], 6)]));
  const head = {
    format: TRUTH_FORMAT,
    ...facts,
    travelM: rounded(truth.travelM, 6),
    vibrationRms: rms,
    floor: floor && roundedFloor(floor),
    causes: causes.map((cause) => ({
      ...cause,
      freqHz: rounded(cause.freqHz, 5),
      seenHz: rounded(cause.seenHz, 5),
    })),
    settings,
  };
  const frames = Array.from(timeS, (t, i) => {
    const rotation = Array.from(rotations.subarray(9 * i, 9 * i + 9), (v) => rounded(v, ROTATION_DIGITS));
    const centre = Array.from(centres.subarray(3 * i, 3 * i + 3), (v) => rounded(v, CENTRE_DIGITS));
    return JSON.stringify([rounded(t, 9), ...rotation, ...centre]);
  });
  const top = JSON.stringify(head);
  return `${top.slice(0, -1)},\n"frames":[\n${frames.join(',\n')}\n]}\n`;
}

const NUMBERS_PER_FRAME = 13;

/**
 * Reads a truth file.
 *
 * @throws TrundleError `rig-unreadable` when it cannot be read, `rig-invalid` when it is no truth file of this version
 */
export function readTruth(file: string): SynthTruth {
  let text: string;
  try {
    text = readFileSync(file, 'utf8');
  } catch (cause) {
    throw new TrundleError('rig-unreadable', `The truth file "${file}" cannot be read.`, { cause });
  }
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch (cause) {
    throw new TrundleError('rig-invalid', `The truth file "${file}" is not JSON.`, { cause });
  }
  if (typeof value !== 'object' || value === null)
    throw new TrundleError('rig-invalid', `The truth file "${file}" must hold one JSON object.`);
  const { format, frames, ...facts } = value as Record<string, unknown>;
  if (format !== TRUTH_FORMAT) {
    throw new TrundleError(
      'rig-invalid',
      `The truth file "${file}" has format ${JSON.stringify(format) ?? 'none'}, expected "${TRUTH_FORMAT}".`,
    );
  }
  const whole =
    Array.isArray(frames) &&
    frames.length > 0 &&
    frames.every(
      (f: unknown) => Array.isArray(f) && f.length === NUMBERS_PER_FRAME && f.every(Number.isFinite),
    );
  if (!whole)
    throw new TrundleError(
      'rig-invalid',
      `The truth file "${file}" must list ${NUMBERS_PER_FRAME} numbers for each frame.`,
    );
  const rows = frames as number[][];
  return {
    ...(facts as unknown as Omit<SynthTruth, 'timeS' | 'rotations' | 'centres'>),
    timeS: Float64Array.from(rows, (row) => row[0]),
    rotations: Float64Array.from(rows.flatMap((row) => row.slice(1, 10))),
    centres: Float64Array.from(rows.flatMap((row) => row.slice(10))),
  };
}
