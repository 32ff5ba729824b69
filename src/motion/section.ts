/** The motion section of the run document: degrees, millimetres or per cent of the subject distance, nulls by status. */
import type {
  Axis,
  AxisRms,
  AxisTranslation,
  MotionSection,
  TranslationalAxis,
  AngularAxis,
} from '../run/index.js';
import { ANGULAR_AXES, AXES, hasFigure } from '../run/index.js';
import type { AxisEstimate, Motion } from './types.js';

/** Strongest frequency of each axis, Hz, as the spectrum found it; null or missing where there is none. */
export interface SectionExtras {
  readonly dominantHz: Partial<Record<Axis, number | null>>;
}

const DEG_PER_RAD = 180 / Math.PI;

/**
 * Writes a Motion as the document holds it.
 *
 * An axis with a value or a wide one gives its figures and its noise; one below the noise gives the bound and the
 * noise; one that is not observable gives nothing.
 */
export function motionSection(motion: Motion, { dominantHz }: SectionExtras): MotionSection {
  const metric = motion.translationUnit === 'm';
  const turn = (axis: AngularAxis): AxisRms => {
    const f = figures(motion.axes[axis], DEG_PER_RAD, dominantHz[axis]);
    return {
      status: f.status,
      rmsDeg: f.rms,
      peakToPeakDeg: f.peakToPeak,
      maximumDeg: f.maximum,
      noiseDeg: f.noise,
      ci95Deg: f.ci95,
      belowDeg: f.below,
      dominantHz: f.dominantHz,
    };
  };
  const shift = (axis: TranslationalAxis): AxisTranslation =>
    figures(motion.axes[axis], metric ? 1000 : 100, dominantHz[axis]);
  return {
    bandHz: [motion.bandHz[0], motion.bandHz[1]],
    mode: motion.mode,
    angular: { pan: turn('pan'), tilt: turn('tilt'), roll: turn('roll'), rmsDeg: combinedDeg(motion) },
    translational: {
      unit: metric ? 'mm' : 'percentOfDepth',
      observable: motion.observable,
      reason: motion.observableReason,
      parallaxP: motion.parallaxP,
      lateral: shift('lateral'),
      vertical: shift('vertical'),
      axial: shift('axial'),
      medianDepthM: metric && motion.depth ? motion.depth.median : null,
      travelM: motion.travelM,
    },
    separation: separationSection(motion),
    readout: readoutSection(motion),
    distortion: distortionSection(motion),
    unreliable: [...motion.unreliable],
    angularShare: {
      value: motion.angularShare.value,
      ci95: motion.angularShare.ci95 ? [motion.angularShare.ci95[0], motion.angularShare.ci95[1]] : null,
    },
  };
}

/** Information of more samples than this is thinned out, so that the document of a long clip stays readable. */
const MOST_INFORMATION = 1500;

function separationSection(motion: Motion): MotionSection['separation'] {
  const { correlation, information, unsplit } = motion.separation;
  const metric = motion.translationUnit === 'm';
  const toUnit = AXES.map((_, a) => (a < 3 ? DEG_PER_RAD : metric ? 1000 : 100));
  const samples = information.length / 36;
  const everyFrames = Math.max(1, Math.ceil(samples / MOST_INFORMATION));
  const lowerTriangles: number[][] = [];
  for (let t = 0; t < samples; t += everyFrames) {
    const triangle: number[] = [];
    for (let r = 0; r < 6; r++) {
      for (let c = 0; c <= r; c++) {
        triangle.push(Number((information[36 * t + 6 * r + c] / (toUnit[r] * toUnit[c])).toPrecision(5)));
      }
    }
    lowerTriangles.push(triangle);
  }
  return {
    panLateralCorrelation: correlation?.panLateral ?? null,
    tiltVerticalCorrelation: correlation?.tiltVertical ?? null,
    information: {
      angleUnit: 'deg',
      translationUnit: metric ? 'mm' : 'percentOfDepth',
      everyFrames,
      lowerTriangles,
    },
    unsplit: unsplit && {
      cause: unsplit.cause,
      ifAllAngular: {
        panDeg: unsplit.ifAllAngular.panRad * DEG_PER_RAD,
        tiltDeg: unsplit.ifAllAngular.tiltRad * DEG_PER_RAD,
      },
      ifAllTranslation: {
        lateral: finiteOrNull(unsplit.ifAllTranslation.lateral * toUnit[3]),
        vertical: finiteOrNull(unsplit.ifAllTranslation.vertical * toUnit[4]),
      },
      change: [...unsplit.change],
    },
  };
}

function readoutSection({ readout }: Motion): MotionSection['readout'] {
  const { source, readoutS, ci95S, state, costFall } = readout;
  return {
    source,
    readoutMs: readoutS === null ? null : 1000 * readoutS,
    ci95Ms: ci95S && [1000 * ci95S[0], 1000 * ci95S[1]],
    state,
    costFall,
  };
}

function distortionSection({ distortion }: Motion): MotionSection['distortion'] {
  const { source, k1, ci95, state, costFall } = distortion;
  return { source, k1, ci95: ci95 && [ci95[0], ci95[1]], state, costFall };
}

function finiteOrNull(value: number): number | null {
  return Number.isFinite(value) && value >= 0 ? value : null;
}

function figures(
  estimate: AxisEstimate,
  factor: number,
  dominantHz: number | null | undefined,
): AxisTranslation {
  const { status, ci95 } = estimate;
  const stands = hasFigure(status);
  const when = (given: boolean, value: number | null): number | null =>
    given && value !== null && Number.isFinite(value) ? value * factor : null;
  return {
    status,
    rms: when(stands, estimate.rms),
    peakToPeak: when(stands, estimate.peakToPeak),
    maximum: when(stands, estimate.maximum),
    noise: when(status !== 'notObservable', estimate.floor),
    ci95: stands && ci95 ? [ci95[0] * factor, ci95[1] * factor] : null,
    below: when(status === 'below', estimate.below),
    dominantHz: stands ? (dominantHz ?? null) : null,
  };
}

/** Root of the summed squares of the angles that stand, degrees; null when none does. */
function combinedDeg(motion: Motion): number | null {
  const standing = ANGULAR_AXES.map((axis) => motion.axes[axis]).filter(({ status }) => hasFigure(status));
  if (standing.length === 0) return null;
  return Math.sqrt(standing.reduce((sum, { rms }) => sum + (rms ?? 0) ** 2, 0)) * DEG_PER_RAD;
}
