/** Measured against true on made-up clips: one clip through the whole program, axis by axis. Used by tests and by the accuracy table. */
import fs from 'node:fs';
import { measure } from '../../src/measure.js';
import { poseSeries, vibrationOf } from '../../src/motion/index.js';
import { cameraForFrame } from '../../src/optics/index.js';
import { AXES, parseRigFile, type Axis, type RunDocument } from '../../src/run/index.js';
import { dominantFrequencyHz, welch } from '../../src/spectrum/index.js';
import { exactZoomForPath } from '../../src/stabilise/index.js';
import type { PartialSynthOptions } from '../../src/synth/index.js';
import { madeUpClip } from './made-up-clip.js';

/** One axis: degrees or millimetres. */
export interface AxisAccuracy {
  readonly status: string;
  /** True RMS in the band, ends left out. */
  readonly truth: number;
  /** De-biased RMS of the run document; null when it is only a bound. */
  readonly measured: number | null;
  readonly below: number | null;
  readonly floor: number | null;
  /** RMS of measured minus true series. */
  readonly error: number;
  /** Correlation of measured with true series; the sign of the axis is in it. */
  readonly correlation: number;
  readonly dominantHz: number | null;
  /** Where the true series shakes most, Hz. */
  readonly trueDominantHz: number | null;
}

/** One clip. */
export interface ClipAccuracy {
  readonly name: string;
  readonly run: RunDocument;
  readonly axes: Readonly<Record<Axis, AxisAccuracy>>;
  readonly zoomTrue: number;
  readonly zoomMeasured: number;
  readonly sigmaPx: number;
  readonly seconds: number;
}

/** A made-up pass with a name. */
export type Pass = PartialSynthOptions & { readonly name: string };

/** Films a pass (or takes it from the cache), measures it and compares with its truth. */
export async function accuracyOf(pass: Pass, threads = 1): Promise<ClipAccuracy> {
  const { clipFile, rigFile, truth } = await madeUpClip(pass);
  const { rig } = parseRigFile(fs.readFileSync(rigFile, 'utf8'), rigFile);
  const startedMs = performance.now();
  const { run, motion } = await measure({ clip: clipFile, rig }, { threads });
  const seconds = (performance.now() - startedMs) / 1000;

  const truePath = poseSeries(truth.rotations, truth.centres);
  const { vibration: trueVibration } = vibrationOf(truePath, motion.rateHz, motion.bandHz[0]);
  const scale = motion.translationUnit === 'm' ? 1000 : NaN;
  const axes = Object.fromEntries(
    AXES.map((axis) => {
      const angular = axis in run.motion.angular;
      const unit = angular ? 180 / Math.PI : scale;
      const range = [motion.trimFrames, motion.timeS.length - motion.trimFrames] as const;
      const a = trueVibration[axis].slice(...range).map((x) => x * (angular ? unit : 1000));
      const b = motion.vibration[axis].slice(...range).map((x) => x * unit);
      const section = { ...run.motion.translational, ...run.motion.angular }[axis];
      const figures = section as unknown as Record<string, number | string | null>;
      return [
        axis,
        {
          status: section.status,
          truth: rms(a),
          measured: (figures['rmsDeg'] ?? figures['rms'] ?? null) as number | null,
          below: (figures['belowDeg'] ?? figures['below'] ?? null) as number | null,
          floor: (figures['noiseDeg'] ?? figures['noise'] ?? null) as number | null,
          error: rms(b.map((value, i) => value - (a[i] ?? 0))),
          correlation: correlation(a, b),
          dominantHz: section.dominantHz,
          trueDominantHz: dominantOf(a, motion.rateHz, motion.bandHz),
        },
      ];
    }),
  ) as unknown as Record<Axis, AxisAccuracy>;

  const { camera } = cameraForFrame(rig, run.clip, {
    widthPx: run.tracking.analysisWidthPx,
    heightPx: run.tracking.analysisHeightPx,
  });
  return {
    name: pass.name,
    run,
    axes,
    zoomTrue: exactZoomForPath(trueVibration, camera).zoom,
    zoomMeasured: run.stabilise.zoom,
    sigmaPx: motion.sigmaPx,
    seconds,
  };
}

function dominantOf(series: Float64Array, rateHz: number, bandHz: readonly [number, number]): number | null {
  const { freqHz, psd, degreesOfFreedom } = welch(series, rateHz);
  return dominantFrequencyHz({ freqHz, psd, noiseFloorPsd: 0 }, bandHz, degreesOfFreedom);
}

function rms(x: Readonly<Float64Array>): number {
  return Math.sqrt(x.reduce((sum, value) => sum + value * value, 0) / x.length);
}

function correlation(a: Readonly<Float64Array>, b: Readonly<Float64Array>): number {
  let ab = 0;
  let aa = 0;
  let bb = 0;
  for (let i = 0; i < a.length; i++) {
    ab += a[i] * b[i];
    aa += a[i] ** 2;
    bb += b[i] ** 2;
  }
  return ab / Math.sqrt(aa * bb);
}
