/** The motion as the series file of a run holds it, and back: radians, metres or median depths, seconds; no figure is rounded. */
import { AXES, sixAxes, type Axis, type StoredMotion } from '../run/index.js';
import type { AxisEstimate, Motion } from './types.js';

/** The motion as plain JSON values; numbers that are not finite become null. */
export function storeMotion(motion: Motion): StoredMotion {
  const { separation, depth } = motion;
  const { correlation } = separation;
  return {
    timeS: [...motion.timeS],
    rateHz: motion.rateHz,
    resampleShiftS: motion.resampleShiftS,
    mode: motion.mode,
    path: perAxis((axis) => [...motion.path[axis]]),
    vibration: perAxis((axis) => [...motion.vibration[axis]]),
    noiseSd: perAxis((axis) => Array.from(motion.noiseSd[axis], finite)),
    translationUnit: motion.translationUnit,
    travelM: motion.travelM,
    depth: depth && { ...depth },
    axes: perAxis((axis) => storeEstimate(motion.axes[axis])),
    bandHz: [...motion.bandHz],
    trimFrames: motion.trimFrames,
    parallaxP: finite(motion.parallaxP),
    observable: motion.observable,
    observableReason: motion.observableReason,
    correlation: correlation && { ...correlation },
    unsplit: separation.unsplit && {
      cause: separation.unsplit.cause,
      ifAllAngular: {
        panRad: finite(separation.unsplit.ifAllAngular.panRad),
        tiltRad: finite(separation.unsplit.ifAllAngular.tiltRad),
      },
      ifAllTranslation: {
        lateral: finite(separation.unsplit.ifAllTranslation.lateral),
        vertical: finite(separation.unsplit.ifAllTranslation.vertical),
      },
      change: separation.unsplit.change.map(({ code, text }) => ({ code, text })),
    },
    alongLens: motion.alongLens,
    angularShare: { value: motion.angularShare.value, ci95: pair(motion.angularShare.ci95) },
    sigmaPx: motion.sigmaPx,
    keptShare: motion.keptShare,
    tracksPerFrame: [...motion.tracksPerFrame],
    inliersPerFrame: [...motion.inliersPerFrame],
    readout: { ...motion.readout, ci95S: pair(motion.readout.ci95S) },
    distortion: { ...motion.distortion, ci95: pair(motion.distortion.ci95) },
    camera: { ...motion.camera },
    unreliable: motion.unreliable.map(({ axis, reason }) => ({ axis, reason })),
  };
}

/**
 * The motion of a stored run. Everything that is computed from a motion comes out as from the one that was stored; only the Fisher
 * information of the single poses and what became of single observations are gone, which nothing after the split reads, and its
 * warnings, which are in the run document.
 */
export function restoreMotion(stored: StoredMotion): Motion {
  const { correlation, unsplit, ...rest } = stored;
  const path = sixAxes((axis) => Float64Array.from(stored.path[axis]));
  const vibration = sixAxes((axis) => Float64Array.from(stored.vibration[axis]));
  return {
    ...rest,
    timeS: Float64Array.from(stored.timeS),
    path,
    vibration,
    intended: sixAxes((axis) => path[axis].map((value, t) => value - vibration[axis][t])),
    noiseSd: sixAxes((axis) => Float64Array.from(stored.noiseSd[axis], (sd) => sd ?? NaN)),
    axes: perAxis((axis) => restoreEstimate(stored.axes[axis])),
    parallaxP: stored.parallaxP ?? NaN,
    separation: {
      correlation,
      information: new Float64Array(0),
      unsplit: unsplit && {
        ...unsplit,
        ifAllAngular: {
          panRad: unsplit.ifAllAngular.panRad ?? Infinity,
          tiltRad: unsplit.ifAllAngular.tiltRad ?? Infinity,
        },
        ifAllTranslation: {
          lateral: unsplit.ifAllTranslation.lateral ?? Infinity,
          vertical: unsplit.ifAllTranslation.vertical ?? Infinity,
        },
      },
    },
    tracksPerFrame: Int32Array.from(stored.tracksPerFrame),
    inliersPerFrame: Int32Array.from(stored.inliersPerFrame),
    keptObservations: new Uint8Array(0),
    warnings: [],
  };
}

function storeEstimate(estimate: AxisEstimate): StoredMotion['axes'][Axis] {
  const { ci95, floor, plainFloor, below } = estimate;
  return {
    ...estimate,
    ci95: pair(ci95),
    floor: finite(floor),
    plainFloor: finite(plainFloor),
    below: finite(below),
  };
}

function restoreEstimate(stored: StoredMotion['axes'][Axis]): AxisEstimate {
  const { floor, plainFloor, below } = stored;
  return {
    ...stored,
    floor: floor ?? Infinity,
    plainFloor: plainFloor ?? Infinity,
    below: below ?? Infinity,
  };
}

function perAxis<Value>(of: (axis: Axis) => Value): Record<Axis, Value> {
  return Object.fromEntries(AXES.map((axis) => [axis, of(axis)])) as Record<Axis, Value>;
}

function pair(range: readonly [number, number] | null): [number, number] | null {
  return range && [range[0], range[1]];
}

function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}
