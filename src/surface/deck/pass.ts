/**
 * What the rig and the motion say about a pass before any fit: everything the grade needs, or the sentence that says what is missing.
 */
import { SPLIT_DEFAULTS, type Motion } from '../../motion/index.js';
import { shutterTimeS } from '../../optics/index.js';
import type { Assumption, Rig, Warning } from '../../run/index.js';
import { floorRefusalTexts } from '../../texts/index.js';
import type { Mounting } from './deck-series.js';
import type { DollySize } from './deck-transfer.js';
import { readHead } from './head.js';
import { ASSUMED_SHUTTER_DEG, lensAzimuth, noteMissing, noteTravel } from './pass-notes.js';
import { findTravel, type Travel } from './travel.js';

/** A pass that can be graded, units as named. */
export interface Pass {
  readonly travel: Travel;
  readonly mounting: Mounting;
  readonly dolly: DollySize;
  readonly exposureS: number;
  /** Half-gain frequency of the high-pass of the surface. */
  readonly cutoffHz: number;
}

/** The pass, or why there is none; what was assumed and noticed on the way. */
export interface PassAnswer {
  readonly pass: Pass | null;
  readonly refusal: string | null;
  readonly assumed: Assumption[];
  readonly warnings: Warning[];
}

/** A head that is locked for sure turns with the deck and nothing else, so that slower waves are the floor's, too. */
const LOCKED_CUTOFF_HZ = 0.3;
/** Periods of the cut-off that must fit the pass. */
const LEAST_PERIODS = 3;

/** Reads the pass; refuses with one sentence for each input that must be given. */
export function readPass(motion: Motion, rig: Rig): PassAnswer {
  const assumed: Assumption[] = [];
  const warnings: Warning[] = [];
  const refuse = (refusal: string): PassAnswer => ({ pass: null, refusal, assumed, warnings });
  const unseen = unseenPass(motion);
  if (unseen !== null) return refuse(unseen);

  const speedMps = meanSpeedMps(motion, rig);
  const { wheelbaseM } = rig;
  // The direction of travel needs no scale, and what the head asks for is said together with the rest.
  const travel = findTravel(motion, speedMps ?? 1);
  const azimuthRad = lensAzimuth(rig, travel, assumed, warnings);
  const azimuthKnown = rig.lensAzimuthDeg !== undefined || travel.azimuthRad !== null;
  const direction = { azimuthRad, tiltRad: travel.tiltRad };
  const head = readHead(motion, rig, travel, direction, azimuthKnown);
  const { mounting } = head;
  const refusals = [head.refusal, ...missingInputs(rig, mounting, speedMps)].filter((one) => one !== null);
  if (refusals.length > 0 || speedMps === null || wheelbaseM === undefined) return refuse(refusals.join(' '));

  warnings.push(...head.warnings);
  noteTravel(motion, travel, warnings);
  noteMissing(motion, rig, mounting, assumed);
  return {
    pass: {
      travel,
      mounting: { ...mounting, offsetM: rig.cameraOffsetM ?? 0 },
      dolly: { wheelbaseM, trackWidthM: rig.trackWidthM ?? null },
      exposureS: shutterTimeS(rig.shutterAngleDeg ?? ASSUMED_SHUTTER_DEG, motion.rateHz),
      cutoffHz: surfaceCutoffHz(motion, rig, travel),
    },
    refusal: null,
    assumed,
    warnings,
  };
}

/** Why the clip itself can show no floor; null when it can. */
function unseenPass({ axes, mode, parallaxP }: Motion): string | null {
  if (axes.tilt.status === 'notObservable' && axes.roll.status === 'notObservable')
    return floorRefusalTexts.nothingMeasured;
  if (mode === 'rotationOnly' && parallaxP < SPLIT_DEFAULTS.parallaxNone) return floorRefusalTexts.didNotRoll;
  return null;
}

/**
 * Mean speed over the whole clip, m/s: the path that was measured over its time (the dolly may start and stop inside the
 * clip), else the speed or travel as given; null when nothing is known.
 */
function meanSpeedMps(motion: Motion, rig: Rig): number | null {
  if (motion.travelM === null && rig.speedMps !== undefined) return rig.speedMps;
  const travelM = motion.travelM ?? rig.travelM ?? null;
  const n = motion.timeS.length;
  const durationS = n > 1 ? motion.timeS[n - 1] - motion.timeS[0] : 0;
  return travelM !== null && travelM > 0 && durationS > 0 ? travelM / durationS : null;
}

/** How the dolly travelled, with what is known of its speed; null when nothing is. Needs no wheelbase. */
export function travelOf(motion: Motion, rig: Rig): Travel | null {
  const speedMps = meanSpeedMps(motion, rig);
  return speedMps === null ? null : findTravel(motion, speedMps);
}

function missingInputs(
  rig: Rig,
  { pitchShows }: Pick<Mounting, 'pitchShows'>,
  speedMps: number | null,
): string[] {
  const refusals: string[] = [];
  if (speedMps === null) {
    refusals.push(floorRefusalTexts.giveSpeed);
  }
  if (rig.wheelbaseM === undefined) {
    refusals.push(floorRefusalTexts.giveWheelbase);
  }
  if (!pitchShows && rig.trackWidthM === undefined) {
    refusals.push(floorRefusalTexts.giveTrackWidth);
  }
  return refusals;
}

/** Lower for a head that is locked for sure, as far as several periods fit the pass. */
function surfaceCutoffHz(motion: Motion, rig: Rig, { fromFrame, toFrame }: Travel): number {
  const [motionHz] = motion.bandHz;
  if (rig.head !== 'locked') return motionHz;
  const durationS = (toFrame - fromFrame) / motion.rateHz;
  return Math.min(motionHz, Math.max(LOCKED_CUTOFF_HZ, LEAST_PERIODS / durationS));
}
