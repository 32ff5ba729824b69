/** A made-up run document that belongs to the made-up motion, with every section filled in as a real run would. */
import type { TRANSLATIONAL_AXES, ANGULAR_AXES } from '../../../src/run/index.js';
import {
  RUN_SCHEMA,
  parseRun,
  type AxisRms,
  type AxisTranslation,
  type MotionSection,
  type RunDocument,
} from '../../../src/run/index.js';
import type { Motion } from '../../../src/motion/types.js';
import { judge, resolveDelivery } from '../../../src/judge/index.js';
import { JOINT_AT_S, madeUpMotion } from './made-up-motion.js';
import { madeUpSpectrum, plainSpectrum } from './made-up-spectrum.js';
import { madeUpStabilise } from './made-up-stabilise.js';
import { madeUpSurface } from './made-up-surface.js';

const DEG = 180 / Math.PI;

/** The figures of a made-up motion; dominant frequencies are always the same. */
export function motionSection(motion: Motion): MotionSection {
  const angle = (axis: (typeof ANGULAR_AXES)[number], dominantHz: number): AxisRms => {
    const a = motion.axes[axis];
    return {
      status: a.status,
      rmsDeg: a.status === 'below' || a.rms === null ? null : a.rms * DEG,
      peakToPeakDeg: a.peakToPeak * DEG,
      maximumDeg: a.maximum * DEG,
      noiseDeg: a.floor * DEG,
      ci95Deg: a.ci95 ? [a.ci95[0] * DEG, a.ci95[1] * DEG] : null,
      belowDeg: a.below * DEG,
      dominantHz,
    };
  };
  const shift = (axis: (typeof TRANSLATIONAL_AXES)[number], dominantHz: number): AxisTranslation => {
    const a = motion.axes[axis];
    return {
      status: a.status,
      rms: a.status === 'below' || a.rms === null ? null : a.rms * 1000,
      peakToPeak: a.peakToPeak * 1000,
      maximum: a.maximum * 1000,
      noise: a.floor * 1000,
      ci95: a.ci95 ? [a.ci95[0] * 1000, a.ci95[1] * 1000] : null,
      below: a.below * 1000,
      dominantHz,
    };
  };
  return {
    bandHz: [motion.bandHz[0], motion.bandHz[1]],
    mode: 'full',
    angular: { pan: angle('pan', 1.62), tilt: angle('tilt', 1.62), roll: angle('roll', 1.62), rmsDeg: 0.031 },
    translational: {
      unit: 'mm',
      observable: 'yes',
      reason: null,
      parallaxP: motion.parallaxP,
      lateral: shift('lateral', 2.4),
      vertical: shift('vertical', 1.62),
      axial: shift('axial', 1.62),
      medianDepthM: 3.4,
      travelM: 3,
    },
    separation: {
      panLateralCorrelation: -0.71,
      tiltVerticalCorrelation: 0.68,
      information: { angleUnit: 'deg', translationUnit: 'mm', everyFrames: 1, lowerTriangles: [] },
      unsplit: null,
    },
    readout: { source: 'none', readoutMs: null, ci95Ms: null, state: 'notNeeded', costFall: null },
    distortion: { source: 'none', k1: null, ci95: null, state: 'notNeeded', costFall: null },
    unreliable: [],
    angularShare: { value: 0.86, ci95: [0.82, 0.9] },
  };
}

/** What a test may change of the made-up run before the judge sees it. */
export type Change = (draft: RunDocument) => void;

/** The made-up run: a borderline-free pass of 12 s at 25 fps. `change` edits it, then the verdict is made anew. */
export function madeUpRun(change: Change = () => {}, given?: Motion): RunDocument {
  const motion = given ?? madeUpMotion();
  const run: RunDocument = {
    schema: RUN_SCHEMA,
    tool: { version: '0.1.0', commit: '1a2b3c4' },
    createdAt: '2031-03-14T09:26:53.000Z',
    units: 'metric',
    clip: {
      file: 'dairy-hall_concrete_pass-03.mp4',
      sha256: '9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08',
      codec: 'h264',
      pixelFormat: 'yuv420p',
      bitDepth: 8,
      widthPx: 3840,
      heightPx: 2160,
      rotationDeg: 0,
      pixelAspect: 1,
      fps: 25,
      fpsFraction: '25/1',
      variableRate: false,
      interlaced: false,
      interCoded: true,
      colourTransfer: 'bt709',
      hasAudio: false,
      frameCount: 300,
      durationS: 12,
      rangeS: [0, 12],
      timecodeStart: '10:14:02:00',
    },
    rig: {
      focalLengthMm: 35,
      sensorWidthMm: 24.89,
      speedMps: 0.25,
      travelM: 3,
      wheelbaseM: 0.45,
      wheelDiameterM: 0.05,
      machinesHz: [31],
      cameraHeightM: 0.9,
      head: 'locked',
      assumed: [
        {
          name: 'lens distortion',
          value: 'none',
          matters: 'Changes angles near the frame edge by up to 1 %.',
        },
        {
          name: 'rolling shutter',
          value: '0 ms',
          matters: 'If the sensor reads slowly, fast pan and tilt leak into lateral and vertical motion.',
        },
        {
          name: 'shutter angle',
          value: '180 deg',
          matters: 'Shake above 8 Hz is damped by exposure: at 180 deg by 11 % at 10 Hz.',
        },
      ],
    },
    pass: {},
    delivery: resolveDelivery({ widthPx: 1920, heightPx: 1080 }),
    tracking: {
      analysisWidthPx: 960,
      analysisHeightPx: 540,
      featuresMedian: 274,
      inlierShare: 0.66,
      refinedShare: 0,
      noisePx: 0.082,
      coverage: 0.71,
      rejectedFrames: 0,
      warnings: [],
    },
    motion: motionSection(motion),
    motionLog: null,
    spectrum: given ? madeUpSpectrum(given) : plainSpectrum(),
    stabilise: madeUpStabilise(JOINT_AT_S + 0.08),
    surface: madeUpSurface(),
    verdict: { grade: 'pass', reasons: [], advice: [] },
    warnings: [
      {
        code: 'inter-coded',
        text: 'The clip is inter-coded, so the noise floor is raised; record all-intra for fine rails.',
        atS: null,
      },
    ],
  };
  change(run);
  run.verdict = judge({
    motion: run.motion,
    stabilise: run.stabilise,
    surface: run.surface,
    tracking: run.tracking,
    delivery: run.delivery,
    warnings: run.warnings,
    clip: run.clip,
    pass: null,
  });
  return parseRun(run);
}
