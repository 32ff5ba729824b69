/**
 * What is done about a sensor that is read row by row: nothing, a correction with the readout given, or one with the
 * readout found in the clip; and which axes the correction leaves in doubt.
 */
import type { Camera } from '../../optics/index.js';
import { rms } from '../../numerics/index.js';
import { AXES, type Axis } from '../../run/index.js';
import { axisDoubtTexts } from '../../texts/index.js';
import { readoutSpokenAgainst, type ReadoutAgainst } from '../doubt/readout-against.js';
import { LOWEST_SIGMA_SHARE } from '../adjust.js';
import { meanAxisCovariance } from '../axis-noise.js';
import { frameCovariances, type FrameCovariances } from '../covariance.js';
import { passedShare } from '../estimate.js';
import type { Observations } from '../observations.js';
import { correctReadout, usableFrames, type ReadoutClip } from './correct-readout.js';
import { largestEffect } from './readout-effect.js';
import { searchReadout } from './readout-search.js';
import { withRowRates } from './row-covariance.js';
import type { Scene } from '../scene.js';
import { poseSeries, vibrationOf } from '../series.js';
import type { ReadoutReport, UnreliableAxis } from '../types.js';

/** Facts that the decision needs besides the clip. */
export interface ReadoutSettings {
  /** Readout, seconds; 0 for a global shutter; null when not known. */
  readonly readoutS: number | null;
  /** Whether the crew told it: only then are the rows asked whether they agree. */
  readonly readoutGiven: boolean;
  readonly rateHz: number;
  readonly cutoffHz: number;
  readonly rotationOnly: boolean;
}

/** A scene at mid-row time, or left as it was, and what is known of it. */
export interface ReadoutOutcome {
  /** The observations that the scene is adjusted to. */
  readonly observations: Observations;
  readonly covariances: FrameCovariances;
  readonly readout: ReadoutReport;
  readonly unreliable: readonly UnreliableAxis[];
  /** What the rows say against the readout that was given; null when nothing. */
  readonly readoutAgainst: ReadoutAgainst | null;
}

/** Below this share of the cost a readout cannot matter, whatever it is. */
const NO_EFFECT = 0.01;
/** A readout that is not known better than this is not told as a number. */
const VAGUE_S = 0.01;
/** From this readout on, what the cubics leave out is looked at. */
const DOUBTFUL_READOUT_S = 0.005;
/** An axis is in doubt when what the cubics leave out is above its floor and this share of its RMS. */
const DOUBTFUL_SHARE = 0.1;

/** Settles the readout of a scene that was adjusted to the observations as measured; the scene is changed in place. */
export function settleReadout(
  clip: ReadoutClip,
  scene: Scene,
  camera: Camera,
  settings: ReadoutSettings,
): ReadoutOutcome {
  const { readoutS, readout } = decide(clip, scene, settings);
  const readoutAgainst =
    settings.readoutGiven && settings.readoutS !== null
      ? readoutSpokenAgainst(clip, scene, settings.readoutS, settings)
      : null;
  const lowestSigma = LOWEST_SIGMA_SHARE * clip.sigmaStart;
  if (readoutS === 0) {
    const covariances = frameCovariances(clip.measured, scene, camera, settings.rotationOnly, lowestSigma);
    return { observations: clip.measured, covariances, readout, unreliable: [], readoutAgainst };
  }
  const { observations, rates } = correctReadout(clip, scene, readoutS);
  const known = frameCovariances(observations, scene, camera, settings.rotationOnly, lowestSigma);
  const used = usableFrames(clip, scene);
  const { covariances, leftOut } = withRowRates(
    observations,
    scene,
    camera,
    known,
    rates,
    used,
    settings.rotationOnly,
  );
  const doubtful = readoutS >= DOUBTFUL_READOUT_S;
  const unreliable = doubtful ? axesInDoubt(scene, used, covariances.white, leftOut, settings) : [];
  return { observations, covariances, readout, unreliable, readoutAgainst };
}

/**
 * What is known of the readout of a clip that was solved in pieces: what the piece that found it says, else what the
 * most doubtful piece says; an axis that any piece leaves in doubt is in doubt.
 */
export function fuseReadouts(
  pieces: readonly Pick<ReadoutOutcome, 'readout' | 'unreliable'>[],
): Pick<ReadoutOutcome, 'readout' | 'unreliable'> {
  const reports = pieces.map(({ readout }) => readout);
  const told =
    reports.find(({ source }) => source === 'found') ??
    reports.find(({ state }) => state === 'notMeasurable') ??
    reports[0];
  const doubts = pieces.flatMap(({ unreliable }) => unreliable);
  const unreliable = AXES.flatMap((axis) => doubts.find((doubt) => doubt.axis === axis) ?? []);
  return { readout: told, unreliable };
}

/** The readout to correct for (0: none) and what to say of it. */
function decide(
  clip: ReadoutClip,
  scene: Scene,
  { readoutS, rateHz, cutoffHz }: ReadoutSettings,
): { readoutS: number; readout: ReadoutReport } {
  if (readoutS !== null) {
    const state = readoutS > 0 ? 'corrected' : 'notNeeded';
    return { readoutS, readout: { source: 'given', readoutS, ci95S: null, state, costFall: null } };
  }
  const none = { source: 'none', readoutS: null } as const;
  if (largestEffect(clip, scene, rateHz, cutoffHz) < NO_EFFECT)
    return { readoutS: 0, readout: { ...none, ci95S: null, state: 'notNeeded', costFall: null } };
  const {
    found,
    readoutS: best,
    ci95S,
    costFall,
    effectAtMost,
  } = searchReadout(clip, scene, rateHz, cutoffHz);
  if (!found) {
    const state = effectAtMost < NO_EFFECT ? 'notNeeded' : 'notMeasurable';
    return { readoutS: 0, readout: { ...none, ci95S, state, costFall } };
  }
  const vague = ci95S[1] - ci95S[0] > VAGUE_S;
  return {
    readoutS: best,
    readout: { source: 'found', readoutS: vague ? null : best, ci95S, state: 'corrected', costFall },
  };
}

/** Axes on which what the cubics leave out outweighs the rest of the floor and is no small part of the motion. */
function axesInDoubt(
  scene: Scene,
  used: readonly number[],
  white: Float64Array,
  leftOut: Float64Array,
  { rateHz, cutoffHz, rotationOnly }: ReadoutSettings,
): UnreliableAxis[] {
  const nothing = new Float64Array(white.length);
  const floorsOf = (covariance: Float64Array): number[] => {
    const { plain } = meanAxisCovariance(covariance, nothing, used, 0, 1);
    return AXES.map((_, a) => Math.sqrt(passedShare(rateHz, cutoffHz) * Math.max(0, plain[7 * a])));
  };
  const whole = floorsOf(white);
  const left = floorsOf(leftOut);
  const { vibration } = vibrationOf(poseSeries(scene.rotations, scene.centres), rateHz, cutoffHz);
  const inDoubt = (axis: Axis, a: number): boolean =>
    left[a] > Math.sqrt(Math.max(0, whole[a] ** 2 - left[a] ** 2)) &&
    left[a] > DOUBTFUL_SHARE * rms(vibration[axis]);
  return AXES.filter((axis, a) => (a < 3 || !rotationOnly) && inDoubt(axis, a)).map((axis) => ({
    axis,
    reason: axisDoubtTexts.knocksWithinRows(axis),
  }));
}
