/** The Motion of a clip that cannot be measured: every axis not observable, all series at rest, and the reason. */
import { AXES, sixAxes, type Axis } from '../run/index.js';
import type { Camera } from '../optics/index.js';
import type { TrackTable } from '../tracking/index.js';
import { knownDistortion } from './distortion/distortion-outcome.js';
import type { ResolvedSplit } from './options.js';
import type { AxisEstimate, Motion } from './types.js';

/** Series on the table's own time stamps; bounds and floors are Infinity. */
export function unmeasuredMotion(
  table: Pick<TrackTable, 'timeS' | 'frameCount' | 'obsFrame'>,
  camera: Camera,
  settings: ResolvedSplit,
  reason: string,
): Motion {
  const n = table.frameCount;
  const durationS = n > 1 ? table.timeS[n - 1] - table.timeS[0] : 0;
  const rateHz = durationS > 0 ? (n - 1) / durationS : 1;
  const nothing: AxisEstimate = {
    status: 'notObservable',
    rms: null,
    rawRms: 0,
    peakToPeak: 0,
    maximum: 0,
    floor: Infinity,
    plainFloor: Infinity,
    ci95: null,
    below: Infinity,
  };
  const tracksPerFrame = new Int32Array(n);
  for (const t of table.obsFrame) tracksPerFrame[t]++;
  const zeros = (): Float64Array => new Float64Array(n);
  return {
    timeS: Float64Array.from(table.timeS),
    rateHz,
    resampleShiftS: 0,
    mode: 'rotationOnly',
    path: sixAxes(zeros),
    intended: sixAxes(zeros),
    vibration: sixAxes(zeros),
    noiseSd: sixAxes(() => zeros().fill(Infinity)),
    translationUnit: 'medianDepth',
    travelM: null,
    depth: null,
    axes: Object.fromEntries(AXES.map((axis) => [axis, nothing])) as Record<Axis, AxisEstimate>,
    bandHz: [settings.cutoffHz, rateHz / 2],
    trimFrames: 0,
    parallaxP: 0,
    observable: 'no',
    observableReason: reason,
    separation: { correlation: null, information: new Float64Array(36 * n), unsplit: null },
    alongLens: 0,
    angularShare: { value: null, ci95: null },
    sigmaPx: 0,
    keptShare: 0,
    tracksPerFrame,
    inliersPerFrame: new Int32Array(n),
    keptObservations: new Uint8Array(table.obsFrame.length),
    readout: {
      source: settings.readoutS === null ? 'none' : 'given',
      readoutS: settings.readoutS,
      ci95S: null,
      state: settings.readoutS === 0 ? 'notNeeded' : 'notMeasurable',
      costFall: null,
    },
    distortion: knownDistortion(camera, settings.distortionGiven) ?? {
      source: 'none',
      k1: null,
      ci95: null,
      state: 'notMeasurable',
      costFall: null,
      rmsShare: null,
    },
    camera,
    unreliable: [],
    warnings: [{ code: 'motion-unmeasured', text: reason, atS: null }],
  };
}
