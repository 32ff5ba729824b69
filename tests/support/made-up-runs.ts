/**
 * Runs that were never filmed: a dolly of made-up setup rolls over a made-up lane, and its motion goes straight into a run document
 * with its series. Passes of one floor and lane share the heights under them; each adds what no second pass repeats.
 */
import { createHash } from 'node:crypto';
import fs from 'node:fs/promises';
import path from 'node:path';
import { passOfRun, type MeasuredPass } from '../../src/judge/index.js';
import type { ComparedPass } from '../../src/judge/compare/types.js';
import type { AxisEstimate, Motion } from '../../src/motion/types.js';
import { fourthDifferenceVibration, gaussianRandom, seededRandom } from '../../src/numerics/index.js';
import {
  AXES,
  parseRun,
  sixAxes,
  type Axis,
  type PassSheet,
  type Rig,
  type RunDocument,
  type RunSeries,
} from '../../src/run/index.js';
import { madeUpSeries } from '../report/support/made-up-bundle.js';
import { madeUpMotion } from '../report/support/made-up-motion.js';
import { madeUpRun, motionSection } from '../report/support/made-up-run.js';

/** What is made up; everything may be left out. */
export interface MadeUpPass extends PassSheet {
  /** Of the heights under the lane, with the name of the lane. */
  readonly floorSeed?: number;
  /** Of what this pass alone has. */
  readonly passSeed?: number;
  /** All shake of the floor times this. */
  readonly factor?: number;
  /** sd of ln of one more factor, drawn for each pass. */
  readonly passSd?: number;
  /** Share of the floor's power that no second pass repeats. */
  readonly ownShare?: number;
  /** What lies on the floor: middle, from the rear axle of a pass out at its start, and height. */
  readonly bumps?: readonly { readonly atM: number; readonly heightMm: number }[];
  readonly speedMps?: number;
  readonly durationS?: number;
  readonly rig?: Rig;
  readonly createdAt?: string;
  readonly clip?: string;
  /** White noise of the measured angles, degrees. */
  readonly noiseDeg?: number;
  /** False: the place of the axles was not found. */
  readonly placed?: boolean;
}

export const WHEELBASE_M = 0.45;
const TRACK_M = 0.6;
const RATE_HZ = 25;
const TRIM = 13;
/** sd of heights between waves of 1 m and 20 mm; the tilt of such a floor is some 0.03 degrees. */
const HEIGHT_M = 1e-4;
const BUMP_LENGTH_M = 0.08;
const DEG = Math.PI / 180;

/** Heights along a lane, metres: waves of random phase, w = 2, from 1 m to 20 mm. */
function heights(seed: number): (placeM: number) => number {
  const random = seededRandom(seed);
  const waves = Array.from({ length: 70 }, (_, k) => {
    const perM = 50 ** ((k + random()) / 70);
    // Evenly in ln n, power n G(n) goes with 1 / n.
    return { perM, phase: 2 * Math.PI * random(), size: Math.sqrt(1 / perM) };
  });
  const scale = HEIGHT_M / Math.sqrt(waves.reduce((sum, { size }) => sum + size ** 2 / 2, 0));
  return (placeM) =>
    scale *
    waves.reduce(
      (sum, { perM, phase, size }) => sum + size * Math.sin(2 * Math.PI * perM * placeM + phase),
      0,
    );
}

function seedOf(text: string): number {
  return createHash('sha256').update(text).digest().readUInt32LE(0);
}

/** The motion of a pass, metric and observable on all axes. */
export function madeUpPassMotion(options: MadeUpPass = {}): Motion {
  const {
    floorSeed = 1,
    passSeed = 1,
    factor = 1,
    passSd = 0,
    ownShare = 0,
    lane = '1',
    direction,
  } = options;
  const { speedMps = 0.25, durationS = 12, noiseDeg = 0.001, bumps = [] } = options;
  const n = Math.round(durationS * RATE_HZ);
  const timeS = Float64Array.from({ length: n }, (_, t) => t / RATE_HZ);
  const normal = gaussianRandom(seededRandom(seedOf(`pass ${passSeed} ${lane} ${options.setup ?? ''}`)));
  const gain = factor * Math.exp(passSd * normal());
  const column = (name: string): ((placeM: number) => number) => {
    const shared = heights(seedOf(`floor ${floorSeed} ${lane} ${name}`));
    const own = heights(seedOf(`floor ${floorSeed} ${lane} ${name} pass ${passSeed} ${options.setup ?? ''}`));
    const lying = (placeM: number): number =>
      bumps.reduce((sum, { atM, heightMm }) => {
        const x = (placeM - atM) / BUMP_LENGTH_M;
        return Math.abs(x) < 0.5 ? sum + (heightMm / 1000) * 0.5 * (1 + Math.cos(2 * Math.PI * x)) : sum;
      }, 0);
    return (placeM) =>
      gain *
      (Math.sqrt(1 - ownShare) * shared(placeM) +
        (ownShare > 0 ? Math.sqrt(ownShare) * own(placeM) : 0) +
        (name === 'mean' ? lying(placeM) : 0));
  };
  const mean = column('mean');
  const across = column('across');
  // A dolly on its way back faces back: its trailing axle begins where the leading one ended.
  const trailing = (t: number): number =>
    direction === 'back' ? durationS * speedMps + WHEELBASE_M - speedMps * t : speedMps * t;
  const leading = (t: number): number => trailing(t) + (direction === 'back' ? -WHEELBASE_M : WHEELBASE_M);
  const shake: Record<Axis, (t: number) => number> = {
    pan: (t) => 0.1 * ((mean(leading(t)) - mean(trailing(t))) / WHEELBASE_M),
    tilt: (t) => (mean(leading(t)) - mean(trailing(t))) / WHEELBASE_M,
    roll: (t) => (across(leading(t)) + across(trailing(t))) / 2 / TRACK_M,
    lateral: () => 0,
    vertical: (t) => (mean(leading(t)) + mean(trailing(t))) / 2,
    axial: () => 0,
  };
  const floor: Record<Axis, number> = {
    ...{ pan: noiseDeg * DEG, tilt: noiseDeg * DEG, roll: noiseDeg * DEG },
    ...{ lateral: 1e-5, vertical: 1e-5, axial: 2e-5 },
  };
  const path = sixAxes((axis) =>
    timeS.map((t) => shake[axis](t) + floor[axis] * normal() + (axis === 'axial' ? speedMps * t : 0)),
  );
  const base = madeUpMotion();
  const bandHz: [number, number] = [0.8, RATE_HZ / 2];
  const vibration = sixAxes((axis) => fourthDifferenceVibration(path[axis], RATE_HZ, bandHz[0]));
  const axes = Object.fromEntries(
    AXES.map((axis) => [axis, estimateOf(vibration[axis], floor[axis])]),
  ) as Record<Axis, AxisEstimate>;
  return {
    ...base,
    ...{ timeS, path, vibration, axes, bandHz },
    intended: sixAxes((axis) => path[axis].map((value, t) => value - vibration[axis][t])),
    noiseSd: sixAxes((axis) => new Float64Array(n).fill(floor[axis])),
    travelM: durationS * speedMps,
    trimFrames: TRIM,
    tracksPerFrame: new Int32Array(n).fill(274),
    inliersPerFrame: new Int32Array(n).fill(181),
    keptObservations: new Uint8Array(0),
  };
}

function estimateOf(vibration: Float64Array, floor: number): AxisEstimate {
  const inside = vibration.slice(TRIM, vibration.length - TRIM).sort();
  const rawRms = Math.sqrt(inside.reduce((sum, x) => sum + x * x, 0) / inside.length);
  const rms = Math.sqrt(Math.max(0, rawRms ** 2 - floor ** 2));
  const seen = rawRms > 1.3 * floor;
  const at = (share: number): number => inside[Math.round(share * (inside.length - 1))];
  return {
    status: seen ? 'value' : 'below',
    ...{ rms, rawRms, floor, plainFloor: floor },
    peakToPeak: at(0.995) - at(0.005),
    maximum: Math.max(Math.abs(at(0)), Math.abs(at(1))),
    ci95: seen ? [Math.max(0, rms - 0.6 * floor), rms + 0.6 * floor] : null,
    below: rms + 0.9 * floor,
  };
}

let template: RunDocument | null = null;

/** The made-up run with changes: judged once, for judging takes longer than everything else here. */
function anyRun(change: (draft: RunDocument) => void): RunDocument {
  template ??= madeUpRun();
  const run = structuredClone(template);
  change(run);
  return parseRun(run);
}

/** The run document and the series of a pass; spectrum, stabilisation and verdict are those of the made-up run. */
export function madeUpRunOf(options: MadeUpPass = {}): { run: RunDocument; series: RunSeries } {
  const { speedMps = 0.25, durationS = 12, direction, bumps = [], placed = true } = options;
  const motion = madeUpPassMotion(options);
  const n = motion.timeS.length;
  const runLengthM = speedMps * durationS;
  const name =
    options.clip ?? `pass-${options.setup ?? 'x'}-${options.lane ?? 'x'}-${options.passSeed ?? 1}.mp4`;
  const onFloor = (atM: number): number => (direction === 'back' ? runLengthM + WHEELBASE_M - atM : atM);
  const run = anyRun((draft) => {
    draft.motion = motionSection(motion);
    Object.assign(draft.clip, {
      file: name,
      sha256: createHash('sha256').update(JSON.stringify(options)).digest('hex'),
      frameCount: n,
      durationS,
      rangeS: [0, durationS],
    });
    draft.createdAt = options.createdAt ?? '2031-03-14T09:26:53.000Z';
    draft.pass = sheetOf(options);
    Object.assign(draft.rig, { speedMps, travelM: runLengthM, wheelbaseM: WHEELBASE_M, ...options.rig });
    draft.motion.translational.travelM = runLengthM;
    draft.spectrum.speedMps = speedMps;
    const [bump] = draft.surface.bumps;
    draft.surface.bumps = bumps.map(({ atM, heightMm }) => ({
      ...bump,
      ...{ atM: onFloor(atM), heightMm, kind: 'joint' as const, atS: Math.max(0, onFloor(atM)) / speedMps },
    }));
  });
  const series: RunSeries = {
    ...madeUpSeries(run, motion),
    floor: placed ? storedFloor(motion, speedMps, runLengthM) : null,
  };
  return { run, series };
}

function storedFloor(motion: Motion, speedMps: number, runLengthM: number): RunSeries['floor'] {
  const setup = {
    ...{
      speedMps,
      rateHz: RATE_HZ,
      exposureS: 0.02,
      cutoffHz: 0.8,
      wheelbaseM: WHEELBASE_M,
      trackWidthM: TRACK_M,
    },
    wheel: { diameterFactor: 1, contactCyclesPerM: null, contactFactor95: 1.5 },
    azimuthRad: 0,
    view: null,
  };
  return {
    present: { setup, focalLengthMm: 35, wheelDiameterM: 0.05 },
    measured: {
      setup,
      pitchRadRms: motion.axes.tilt.rms,
      rollRadRms: motion.axes.roll.rms,
      heaveMRms: motion.axes.vertical.rms,
      sdLn: 0.2,
    },
    runLengthM,
    fromFrame: 0,
    rearM: [...motion.timeS.map((t) => speedMps * t)],
    frontAheadM: WHEELBASE_M,
    mounting: {
      azimuthRad: 0,
      tiltRad: 0,
      offsetM: 0,
      levellingHeightM: null,
      pitchShows: true,
      rollShows: true,
      heaveShows: true,
    },
  };
}

/** The entries of the sheet alone. */
function sheetOf({
  floor,
  lane,
  direction,
  setup,
  wheels,
  track,
  passNumber,
  location,
  operator,
}: MadeUpPass): PassSheet {
  const given = Object.entries({
    floor,
    lane,
    direction,
    setup,
    wheels,
    track,
    passNumber,
    location,
    operator,
  });
  return Object.fromEntries(given.filter(([, value]) => value !== undefined));
}

/** The pass as later questions are asked of it. */
export function madeUpMeasuredPass(options: MadeUpPass = {}): MeasuredPass {
  const { run, series } = madeUpRunOf(options);
  return passOfRun(run, series);
}

/** The pass as it is compared. */
export function madeUpComparedPass(options: MadeUpPass = {}): ComparedPass {
  const { run, series } = madeUpRunOf(options);
  return {
    place: `reports/${run.clip.file.replace(/\.mp4$/, '')}`,
    clip: run.clip.file,
    createdAt: run.createdAt,
    setup: options.setup ?? 'hard wheels',
    lane: options.lane ?? '1',
    direction: options.direction ?? null,
    passNumber: options.passNumber ?? null,
    pass: passOfRun(run, series),
    grade: run.verdict.grade,
  };
}

/**
 * Writes a run folder (run.json and series.json, what questions are asked of) below `parent`.
 * @returns the folder
 */
export async function madeUpRunFolder(
  parent: string,
  name: string,
  options: MadeUpPass = {},
): Promise<string> {
  const folder = path.join(parent, name);
  const { run, series } = madeUpRunOf({ clip: `${name}.mp4`, ...options });
  await fs.mkdir(folder, { recursive: true });
  await fs.writeFile(path.join(folder, 'run.json'), JSON.stringify(run));
  await fs.writeFile(path.join(folder, 'series.json'), JSON.stringify(series));
  return folder;
}
