/** A made-up shake seen by two instruments: frames of a clip with white noise, and a log of angular rates on a clock of its own. */
import type { ComparedMotion } from '../../../src/motion/motion-log/video.js';
import { estimateAxis, passedShare } from '../../../src/motion/estimate.js';
import { vibrationOf, type MotionLog } from '../../../src/motion/index.js';
import { gaussianRandom, seededRandom } from '../../../src/numerics/index.js';
import { ANGULAR_AXES, sixAxes, type AngularAxis } from '../../../src/run/index.js';

export const DEG = Math.PI / 180;
const CUTOFF_HZ = 0.8;

/** What the shake is made of, and how both instruments see it. */
export interface MadeUpShake {
  readonly seed: number;
  readonly durationS?: number;
  readonly fps?: number;
  readonly exposureS?: number;
  /** RMS of each axis, degrees; 0.05 unless given. */
  readonly rmsDeg?: Partial<Record<AngularAxis, number>>;
  /** Sine waves alone, Hz; a random shake from 0.5 to 11 Hz that falls with frequency unless given. */
  readonly linesHz?: readonly number[];
  /** White noise of the pictures in every frame, degrees. */
  readonly videoNoiseDeg?: number;
  /** White noise of the log in every sample, deg/s. */
  readonly logNoiseDegPerS?: number;
  readonly logRateHz?: number;
  /** The log's clock minus the clip's, at the middle of the clip. */
  readonly offsetS?: number;
  readonly clockRatio?: number;
  /** Log before the clip and after it, seconds; below 0 it misses a part of the clip. */
  readonly marginS?: readonly [number, number];
  /** A sine on tilt, above what the pictures can show: frequency and RMS. */
  readonly above?: { readonly freqHz: number; readonly rmsDeg: number };
  /** Steady turn that a sensor pretends, deg/s. */
  readonly biasDegPerS?: number;
}

interface Sine {
  readonly freqHz: number;
  readonly amplitude: number;
  readonly phase: number;
}

function sines(random: () => number, shake: MadeUpShake, axis: AngularAxis): Sine[] {
  const rms = (shake.rmsDeg?.[axis] ?? 0.05) * DEG;
  const freqs = shake.linesHz ?? Array.from({ length: 24 }, () => 0.5 + 10.5 * random());
  const raw = freqs.map((freqHz) => ({ freqHz, amplitude: 1 / freqHz, phase: 2 * Math.PI * random() }));
  const energy = raw.reduce((sum, { amplitude }) => sum + amplitude ** 2 / 2, 0);
  const own = raw.map((sine) => ({ ...sine, amplitude: (sine.amplitude * rms) / Math.sqrt(energy) }));
  if (!shake.above || axis !== 'tilt') return own;
  const { freqHz, rmsDeg } = shake.above;
  return [...own, { freqHz, amplitude: Math.SQRT2 * rmsDeg * DEG, phase: 1 }];
}

/** Mean over an exposure: each sine keeps sinc(f T). */
function angleAt(parts: readonly Sine[], timeS: number, exposureS: number): number {
  let sum = 0;
  for (const { freqHz, amplitude, phase } of parts) {
    const x = Math.PI * freqHz * exposureS;
    sum += amplitude * (x > 0 ? Math.sin(x) / x : 1) * Math.sin(2 * Math.PI * freqHz * timeS + phase);
  }
  return sum;
}

function rateAt(parts: readonly Sine[], timeS: number): number {
  let sum = 0;
  for (const { freqHz, amplitude, phase } of parts) {
    const turn = 2 * Math.PI * freqHz;
    sum += amplitude * turn * Math.cos(turn * timeS + phase);
  }
  return sum;
}

/** Both sides of a comparison. */
export interface MadeUpComparison {
  readonly motion: ComparedMotion;
  readonly log: MotionLog;
  readonly exposureS: number;
  readonly offsetS: number;
}

/** Films the shake and logs it. */
export function madeUpComparison(shake: MadeUpShake): MadeUpComparison {
  const {
    seed,
    durationS = 8,
    fps = 25,
    exposureS = 0.02,
    videoNoiseDeg = 0.003,
    logNoiseDegPerS = 0.02,
    logRateHz = 200,
    offsetS = 1.37,
    clockRatio = 1,
    marginS = [2, 2],
    biasDegPerS = 0,
  } = shake;
  const random = seededRandom(seed);
  const normal = gaussianRandom(random);
  const parts = Object.fromEntries(ANGULAR_AXES.map((axis) => [axis, sines(random, shake, axis)])) as Record<
    AngularAxis,
    Sine[]
  >;

  const frames = Math.round(durationS * fps);
  const timeS = Float64Array.from({ length: frames }, (_, t) => t / fps);
  const path = sixAxes((axis) =>
    axis === 'pan' || axis === 'tilt' || axis === 'roll'
      ? timeS.map((s) => angleAt(parts[axis], s, exposureS) + videoNoiseDeg * DEG * normal())
      : new Float64Array(frames),
  );
  const trimFrames = Math.round(fps / 2);
  const { vibration } = vibrationOf(path, fps, CUTOFF_HZ);
  const noise = (videoNoiseDeg * DEG) ** 2;
  const axes = Object.fromEntries(
    Object.entries(vibration).map(([axis, series]) => [
      axis,
      estimateAxis(
        series.slice(trimFrames, frames - trimFrames),
        { plain: noise, wide: noise },
        fps,
        CUTOFF_HZ,
      ),
    ]),
  ) as ComparedMotion['axes'];

  const middleS = (timeS[0] + timeS[frames - 1]) / 2;
  const samples = Math.round((durationS + marginS[0] + marginS[1]) * logRateHz);
  // An odd start keeps samples and frames from falling together.
  const logTimeS = Float64Array.from(
    { length: samples },
    (_, i) => middleS + offsetS + clockRatio * (i / logRateHz - marginS[0] + 0.0017 - middleS),
  );
  const ratesRadPerS = Object.fromEntries(
    ANGULAR_AXES.map((axis) => [
      axis,
      logTimeS.map(
        (s) =>
          rateAt(parts[axis], middleS + (s - offsetS - middleS) / clockRatio) +
          DEG * (logNoiseDegPerS * normal() + biasDegPerS),
      ),
    ]),
  );
  return {
    motion: {
      timeS,
      rateHz: fps,
      path,
      vibration,
      axes,
      bandHz: [CUTOFF_HZ, fps / 2],
      trimFrames,
      separation: { correlation: null, information: new Float64Array(0), unsplit: null },
    },
    log: { timeS: logTimeS, ratesRadPerS, rateHz: logRateHz, gaps: [] },
    exposureS,
    offsetS,
  };
}

/** White noise of the pictures in their band, degrees RMS. */
export function floorDeg(videoNoiseDeg: number, fps = 25): number {
  return videoNoiseDeg * Math.sqrt(passedShare(fps, CUTOFF_HZ));
}
