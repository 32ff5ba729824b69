/** Motion records made from formulas, split and weighed as the motion room does it. */
import { fourthDifferenceSmooth, quantile, rms } from '../../../src/numerics/index.js';
import { ANGULAR_AXES, AXES, sixAxes, type Axis } from '../../../src/run/index.js';
import type { AxisEstimate, Motion } from '../../../src/motion/index.js';
import { PLAIN_CLIP } from '../../support/plain-clip.js';

export interface MadeMotion {
  readonly rateHz?: number;
  readonly durationS?: number;
  readonly cutoffHz?: number;
  /** Path per axis as a function of seconds, radians or metres. */
  readonly path?: Partial<Record<Axis, (timeS: number, frame: number) => number>>;
  /** White noise that the estimate is said to carry, per axis, 1 sigma. */
  readonly noiseSd?: Partial<Record<Axis, number>>;
  /** Inverse depths in 1/m; null for a clip without parallax. */
  readonly depth?: Motion['depth'];
  readonly status?: Partial<Record<Axis, AxisEstimate['status']>>;
}

export const ROOM_DEPTH = { median: 3, meanInverse: 1 / 3, sdInverse: 0.12 };

export function madeMotion(made: MadeMotion = {}): Motion {
  const { rateHz = 25, durationS = 10, cutoffHz = 0.8, depth = ROOM_DEPTH } = made;
  const n = Math.round(durationS * rateHz);
  const trimFrames = Math.min(Math.round(rateHz / 2), Math.floor(n / 4));
  const timeS = Float64Array.from({ length: n }, (_, t) => t / rateHz);
  const path = sixAxes((axis) => timeS.map((s, t) => made.path?.[axis]?.(s, t) ?? 0));
  const intended = sixAxes((axis) => fourthDifferenceSmooth(path[axis], rateHz, cutoffHz));
  const vibration = sixAxes((axis) => path[axis].map((v, t) => v - intended[axis][t]));
  const noiseSd = sixAxes((axis) => new Float64Array(n).fill(made.noiseSd?.[axis] ?? 0));
  const axes = {} as Record<Axis, AxisEstimate>;
  for (const axis of AXES) {
    const inner = vibration[axis].slice(trimFrames, n - trimFrames);
    const rawRms = inner.length > 0 ? rms(inner) : 0;
    const floor = (made.noiseSd?.[axis] ?? 0) * Math.sqrt(1 - cutoffHz / (rateHz / 2));
    const angular = (ANGULAR_AXES as readonly Axis[]).includes(axis);
    const status = made.status?.[axis] ?? (angular || depth ? 'value' : 'notObservable');
    axes[axis] = {
      status,
      rms: status === 'notObservable' ? null : Math.sqrt(Math.max(0, rawRms ** 2 - floor ** 2)),
      rawRms,
      peakToPeak: inner.length > 0 ? quantile(inner, 0.995) - quantile(inner, 0.005) : 0,
      maximum: inner.reduce((most, v) => Math.max(most, Math.abs(v)), 0),
      floor,
      plainFloor: floor,
      ci95: null,
      below: rawRms + 2 * floor,
    };
  }
  return {
    timeS,
    rateHz,
    resampleShiftS: 0,
    mode: depth ? 'full' : 'rotationOnly',
    path,
    intended,
    vibration,
    noiseSd,
    translationUnit: 'm',
    travelM: null,
    depth,
    axes,
    bandHz: [cutoffHz, rateHz / 2],
    trimFrames,
    parallaxP: depth ? 60 : 1,
    observable: depth ? 'yes' : 'no',
    observableReason: depth ? null : 'no parallax',
    angularShare: { value: null, ci95: null },
    sigmaPx: 0.03,
    keptShare: 0.6,
    tracksPerFrame: new Int32Array(n).fill(280),
    inliersPerFrame: new Int32Array(n).fill(170),
    keptObservations: new Uint8Array(0),
    ...PLAIN_CLIP,
  };
}

/** A shake of several sines that never lines up with the frame rate, RMS 1, about 4 upward crossings per second. */
export function unitShake(phase: number): (timeS: number) => number {
  const parts = [2.3, 3.1, 4.7, 6.1, 7.3];
  const scale = Math.sqrt(2 / parts.length);
  return (timeS) =>
    scale * parts.reduce((sum, f, i) => sum + Math.sin(2 * Math.PI * f * timeS + phase * (i + 1) ** 2), 0);
}
