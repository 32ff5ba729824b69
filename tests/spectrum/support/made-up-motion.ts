/** A made-up motion with given vibration columns, for tests of the spectrum room. */
import type { AxisEstimate, Motion } from '../../../src/motion/index.js';
import { AXES, sixAxes, type Axis } from '../../../src/run/index.js';
import { PLAIN_CLIP } from '../../support/plain-clip.js';

const ESTIMATE: AxisEstimate = {
  status: 'value',
  rms: 1,
  rawRms: 1,
  peakToPeak: 1,
  maximum: 1,
  floor: 0,
  plainFloor: 0,
  ci95: [0.9, 1.1],
  below: 1.1,
};

/** What a test may set; every axis left out stands still. */
export interface MadeUp {
  readonly rateHz: number;
  readonly durationS: number;
  readonly vibration: Partial<Record<Axis, (timeS: number) => number>>;
  /** Standard deviation of the noise of every axis; it is stated, not added. */
  readonly noiseSd?: number;
  readonly notObservable?: readonly Axis[];
  readonly translationUnit?: Motion['translationUnit'];
  /** Speed to the right past a scene at 2 m; without it the camera stays where it is. */
  readonly speedMps?: number;
}

export function madeUpMotion(given: MadeUp): Motion {
  const n = Math.round(given.rateHz * given.durationS);
  const timeS = Float64Array.from({ length: n }, (_, i) => i / given.rateHz);
  const vibration = sixAxes((axis) => timeS.map(given.vibration[axis] ?? (() => 0)));
  const entries = AXES.map((axis): [Axis, AxisEstimate] => [
    axis,
    given.notObservable?.includes(axis)
      ? { ...ESTIMATE, status: 'notObservable', rms: null, ci95: null }
      : ESTIMATE,
  ]);
  return {
    timeS,
    rateHz: given.rateHz,
    resampleShiftS: 0,
    mode: 'full',
    path: vibration,
    intended: sixAxes((axis) =>
      axis === 'lateral' ? timeS.map((t) => (given.speedMps ?? 0) * t) : new Float64Array(n),
    ),
    vibration,
    noiseSd: sixAxes(() => new Float64Array(n).fill(given.noiseSd ?? 0)),
    translationUnit: given.translationUnit ?? 'm',
    travelM: given.speedMps === undefined ? null : given.speedMps * given.durationS,
    depth: given.speedMps === undefined ? null : { median: 2, meanInverse: 0.5, sdInverse: 0.2 },
    axes: Object.fromEntries(entries) as Record<Axis, AxisEstimate>,
    bandHz: [0.8, given.rateHz / 2],
    trimFrames: Math.round(0.5 * given.rateHz),
    parallaxP: 50,
    observable: 'yes',
    observableReason: null,
    angularShare: { value: null, ci95: null },
    sigmaPx: 0.1,
    keptShare: 1,
    tracksPerFrame: new Int32Array(n),
    inliersPerFrame: new Int32Array(n),
    keptObservations: new Uint8Array(0),
    ...PLAIN_CLIP,
  };
}
