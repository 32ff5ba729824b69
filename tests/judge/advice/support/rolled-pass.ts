/** Made-up passes with all that a measurement finds out about them: a deck rolled over a made-up floor, as if graded without error. */
import { quantile, rms } from '../../../../src/numerics/index.js';
import {
  AXES,
  type Axis,
  type Delivery,
  type Rig,
  type StoredFloor,
  type SurfaceBump,
  type SurfaceSection,
} from '../../../../src/run/index.js';
import { motionSection, type AxisEstimate, type Motion } from '../../../../src/motion/index.js';
import { planStabilisation, stabiliseSection, withoutEnds } from '../../../../src/stabilise/index.js';
import { judge, resolveDelivery, type MeasuredPass } from '../../../../src/judge/index.js';
import { madeUpRun } from '../../../report/support/made-up-run.js';
import {
  CAMERA_OFFSET_M,
  TRACK_WIDTH_M,
  WHEELBASE_M,
  madeUpPassWithTruth,
  madeUpRig,
  type PassOptions,
  type PassTruth,
} from '../../../surface/support/made-up-pass.js';

/** The camera of a made-up pass is 1000 px long on pictures of 960 px: this sensor makes it a 35 mm lens. */
const FOCAL_LENGTH_MM = 35;
const SENSOR_WIDTH_MM = 33.6;
/** Half of the 95 % range of every figure, as a share of it. */
const CI_SHARE = 0.04;

export interface RolledPass extends Omit<PassOptions, 'gdM3'> {
  readonly gdM3?: number;
  /** Of the lens, over 35 mm. */
  readonly focalFactor?: number;
  readonly rig?: Partial<Rig>;
  readonly delivery?: Delivery;
  readonly mode?: MeasuredPass['choice']['mode'];
  readonly smoothingS?: number;
}

/** The motion of the pass alone, with its camera. */
export function rolledMotion(options: RolledPass): Motion {
  return rolled(options).motion;
}

function rolled(options: RolledPass): { motion: Motion; truth: PassTruth } {
  const { gdM3 = 1e-6, speedMps = 0.2, durationS = 10, focalFactor = 1 } = options;
  const { motion, truth } = madeUpPassWithTruth({ ...options, gdM3, speedMps, durationS });
  const camera = { ...motion.camera, focalPx: motion.camera.focalPx * focalFactor };
  return { motion: { ...withFigures(motion), camera }, truth };
}

/** The pass as the line hands it to the judge; floor, joints and bumps are those that were laid, known to a few per cent. */
export function rolledPass(options: RolledPass): MeasuredPass {
  const {
    gdM3 = 1e-6,
    speedMps = 0.2,
    durationS = 10,
    mode = 'keepMove',
    smoothingS,
    focalFactor = 1,
  } = options;
  const { motion, truth } = rolled(options);
  const { camera } = motion;
  const rig = madeUpRig(speedMps, {
    focalLengthMm: FOCAL_LENGTH_MM * focalFactor,
    sensorWidthMm: SENSOR_WIDTH_MM,
    wheelDiameterM: 2 * (options.wheelRadiusM ?? 0.04),
    cameraHeightM: options.heightM ?? 0.9,
    ...options.rig,
  });
  const delivery = resolveDelivery(options.delivery ?? {});
  const plan = planStabilisation(
    { motion, camera, delivery, rig, source: camera },
    { mode, smoothingS, seed: 1 },
  );
  const run = madeUpRun();
  return {
    motion,
    rig,
    delivery,
    source: { widthPx: camera.widthPx, heightPx: camera.heightPx },
    choice: { mode, smoothingS: smoothingS ?? null, takeS: 60, seed: 1 },
    floor: floorOf(motion, truth, rig, delivery),
    sections: {
      clip: { ...run.clip, durationS, frameCount: motion.timeS.length, rangeS: [0, durationS] },
      tracking: run.tracking,
      motion: motionSection(motion, { dominantHz: {} }),
      spectrum: { ...run.spectrum, peaks: [], sources: [] },
      stabilise: stabiliseSection(plan),
      surface: laidSurface(run.surface, truth, options, gdM3, speedMps),
    },
  };
}

function floorOf(
  { axes, camera, rateHz, bandHz }: Motion,
  { rearM }: PassTruth,
  rig: Rig,
  delivery: MeasuredPass['delivery'],
): StoredFloor {
  const setup = {
    speedMps: rig.speedMps ?? 0,
    rateHz,
    exposureS: 0.5 / rateHz,
    cutoffHz: bandHz[0],
    wheelbaseM: rig.wheelbaseM ?? WHEELBASE_M,
    trackWidthM: TRACK_WIDTH_M,
    wheel: { diameterFactor: 1, contactCyclesPerM: null, contactFactor95: 1 },
    azimuthRad: 0,
    view: {
      focalPx: (camera.focalPx * delivery.widthPx) / camera.widthPx,
      widthPx: delivery.widthPx,
      heightPx: delivery.heightPx,
    },
  };
  return {
    present: { setup, focalLengthMm: rig.focalLengthMm ?? null, wheelDiameterM: rig.wheelDiameterM ?? null },
    measured: {
      setup,
      pitchRadRms: axes.tilt.rms,
      rollRadRms: axes.roll.rms,
      heaveMRms: axes.vertical.rms,
      sdLn: CI_SHARE / 2,
    },
    runLengthM: rearM[rearM.length - 1],
    fromFrame: 0,
    rearM: [...rearM],
    frontAheadM: setup.wheelbaseM,
    mounting: {
      azimuthRad: 0,
      tiltRad: 0,
      offsetM: CAMERA_OFFSET_M,
      levellingHeightM: null,
      pitchShows: true,
      rollShows: true,
      heaveShows: true,
    },
  };
}

/** The floor as it was laid: its level, and every joint and bump where it lies. */
function laidSurface(
  surface: SurfaceSection,
  { joints }: PassTruth,
  { bumps: laid = [] }: RolledPass,
  gdM3: number,
  speedMps: number,
): SurfaceSection {
  const listed = (
    kind: SurfaceBump['kind'],
    atM: number,
    lengthM: number,
    [leftMm, rightMm]: readonly [number, number],
  ): SurfaceBump => {
    const axlesS = [atM - WHEELBASE_M, atM].map((rearM) => rearM / speedMps).filter((atS) => atS > 0);
    const heightMm = (leftMm + rightMm) / 2;
    return {
      ...{ kind, atM, lengthM, heightMm, leftMm, rightMm, axlesS },
      atRangeM: 0.004,
      atS: axlesS[0],
      heightRangeMm: 0.03,
      sideRangeMm: 0.05,
      wheelLine: 'both',
      pictureShiftPx: 20 * Math.abs(heightMm),
      confidence: 0.999,
      foundBy: 'itself',
    };
  };
  const bumps = [
    ...joints.map(({ atM, leftStepM, rightStepM }) =>
      listed('joint', atM, 0, [1000 * leftStepM, 1000 * rightStepM]),
    ),
    ...laid.map(({ atM, heightM, lengthM }) =>
      listed('bump', atM, lengthM, [1000 * heightM, 1000 * heightM]),
    ),
  ];
  return {
    ...surface,
    wavelengthsM: [0.02, speedMps / 0.8],
    psdAt01CyclesPerM: gdM3,
    psdAsRolled: gdM3,
    psdCi95: [gdM3 / 1.4, gdM3 * 1.4],
    waviness: 2,
    wavinessCi95: [1.9, 2.1],
    parts: {
      meanTrackM3: 0.62 * gdM3,
      differenceM3: 1.4 * gdM3,
      sdLn: 0.15,
      contactCyclesPerM: 120,
      speedMps,
    },
    joints: null,
    bumps,
    predictions: [],
  };
}

/** The same pass against other limits, planned anew. */
export function withLimits(pass: MeasuredPass, maxCropPercent: number, maxResidualPx: number): MeasuredPass {
  const { motion, rig, source, choice } = pass;
  const delivery = { ...pass.delivery, maxCropPercent, maxResidualPx };
  const plan = planStabilisation(
    { motion, camera: motion.camera, delivery, rig, source },
    { mode: choice.mode, smoothingS: choice.smoothingS ?? undefined, seed: choice.seed },
  );
  return { ...pass, delivery, sections: { ...pass.sections, stabilise: stabiliseSection(plan) } };
}

/** What the judge says of a pass. */
export function verdictOf(pass: MeasuredPass): ReturnType<typeof judge> {
  const { sections, delivery } = pass;
  return judge({ ...sections, delivery, pass });
}

/** The motion with the figures of its series, each known to a few per cent. */
export function withFigures(motion: Motion): Motion {
  const axes = Object.fromEntries(
    AXES.map((axis): [Axis, AxisEstimate] => {
      const inner = withoutEnds(motion.vibration[axis], motion.trimFrames);
      const noise = motion.noiseSd[axis][0] * Math.sqrt(1 - (2 * motion.bandHz[0]) / motion.rateHz);
      const rawRms = rms(inner);
      const clean = Math.sqrt(Math.max(0, rawRms ** 2 - noise ** 2));
      return [
        axis,
        {
          status: clean > noise ? 'value' : 'below',
          rms: clean,
          rawRms,
          peakToPeak: quantile(inner, 0.995) - quantile(inner, 0.005),
          maximum: inner.reduce((most, value) => Math.max(most, Math.abs(value)), 0),
          floor: noise,
          plainFloor: noise,
          ci95: clean > noise ? [(1 - CI_SHARE) * clean, (1 + CI_SHARE) * clean] : null,
          below: clean + noise,
        },
      ];
    }),
  ) as Record<Axis, AxisEstimate>;
  return { ...motion, axes };
}
