/** The motion log's section of the run document: degrees, hertz and seconds. */
import { ANGULAR_AXES, type AngularAxis, type MotionLogSection } from '../../run/index.js';
import type { AxisAgreement } from './agreement.js';
import type { BeyondAxis } from './beyond.js';
import type { LogComparison } from './compare-log.js';

const DEG = 180 / Math.PI;

/**
 * Writes a comparison as the document holds it.
 *
 * @param file name of the log, without folders
 */
export function motionLogSection(comparison: LogComparison, file: string): MotionLogSection {
  const { beyond, comparedS, axes } = comparison;
  return {
    file,
    sampleRateHz: comparison.sampleRateHz,
    aligned: comparison.aligned,
    reason: comparison.reason,
    correlation: comparison.correlation,
    offsetS: comparison.offsetS,
    offsetSdS: comparison.offsetSdS,
    clockRatio: comparison.clockRatio,
    comparedS: comparedS ? [comparedS[0], comparedS[1]] : null,
    axes: perAxis((axis) => agreement(axes[axis])),
    beyondNyquist: beyond
      ? {
          bandHz: [beyond.bandHz[0], beyond.bandHz[1]],
          axes: perAxis((axis) => above(beyond.axes[axis])),
        }
      : null,
  };
}

function perAxis<T>(value: (axis: AngularAxis) => T): Record<AngularAxis, T> {
  return Object.fromEntries(ANGULAR_AXES.map((axis) => [axis, value(axis)])) as Record<AngularAxis, T>;
}

function degrees(value: number | null): number | null {
  return value === null ? null : value * DEG;
}

function agreement(axis: AxisAgreement | null): MotionLogSection['axes']['pan'] {
  if (!axis) return null;
  return {
    correlation: axis.correlation,
    gain: axis.gain,
    gainCi95: axis.gainCi95 ? [axis.gainCi95[0], axis.gainCi95[1]] : null,
    rmsVideoDeg: axis.rmsVideo * DEG,
    rmsLogDeg: axis.rmsLog * DEG,
    rmsDifferenceDeg: axis.rmsDifference * DEG,
    agrees: axis.agrees,
    noiseLogDeg: axis.noiseLog * DEG,
  };
}

function above(axis: BeyondAxis | null): NonNullable<MotionLogSection['beyondNyquist']>['axes']['pan'] {
  if (!axis) return null;
  return {
    rmsDeg: degrees(axis.rms),
    belowDeg: axis.rms === null ? axis.below * DEG : null,
    foldedDeg: degrees(axis.folded),
    blurredDeg: degrees(axis.blurred),
    dominantHz: axis.dominantHz,
    series: {
      freqHz: Array.from(axis.freqHz),
      psd: Array.from(axis.psd, (v) => v * DEG * DEG),
      unit: 'deg^2/Hz',
    },
  };
}
