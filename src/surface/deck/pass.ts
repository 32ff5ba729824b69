/**
 * What the rig and the motion say about a pass before any fit: everything the grade needs, or the sentence that says what is missing.
 */
import { SPLIT_DEFAULTS, type Motion } from '../../motion/index.js';
import { shutterTimeS } from '../../optics/index.js';
import type { Assumption, Rig, Warning } from '../../run/index.js';
import { hasMetricTranslation, type Mounting } from './deck-series.js';
import type { DollySize } from './deck-transfer.js';
import { findTravel, type Travel } from './travel.js';

/** A pass that can be graded, units as named. */
export interface Pass {
  readonly travel: Travel;
  readonly mounting: Mounting;
  readonly dolly: DollySize;
  readonly exposureS: number;
}

/** The pass, or why there is none; what was assumed and noticed on the way. */
export interface PassAnswer {
  readonly pass: Pass | null;
  readonly refusal: string | null;
  readonly assumed: Assumption[];
  readonly warnings: Warning[];
}

const ASSUMED_SHUTTER_DEG = 180;
const RAD_PER_DEG = Math.PI / 180;
/** Lens azimuths that differ by more are worth a word. */
const AZIMUTH_TOLERANCE_DEG = 10;
/** Speed that varies by more is worth a word. */
const UNEVEN_SPEED = 0.05;

/** Reads the pass; refuses with one sentence for each input that must be given. */
export function readPass(motion: Motion, rig: Rig): PassAnswer {
  const assumed: Assumption[] = [];
  const warnings: Warning[] = [];
  const speedMps = meanSpeedMps(motion, rig);
  const refusals = missingInputs(motion, rig, speedMps);
  if (refusals.length > 0 || speedMps === null || rig.wheelbaseM === undefined) {
    return { pass: null, refusal: refusals.join(' '), assumed, warnings };
  }

  const travel = findTravel(motion, speedMps);
  noteTravel(motion, travel, warnings);
  const azimuthRad = lensAzimuth(rig, travel, assumed, warnings);
  noteMissing(motion, rig, assumed);
  const shutterDeg = rig.shutterAngleDeg ?? ASSUMED_SHUTTER_DEG;
  return {
    pass: {
      travel,
      mounting: {
        azimuthRad,
        tiltRad: travel.tiltRad,
        offsetM: rig.cameraOffsetM ?? 0,
        levellingHeightM: rig.head === 'selfLevelling' ? (rig.cameraHeightM ?? null) : null,
      },
      dolly: { wheelbaseM: rig.wheelbaseM, trackWidthM: rig.trackWidthM ?? null },
      exposureS: shutterTimeS(shutterDeg, motion.rateHz),
    },
    refusal: null,
    assumed,
    warnings,
  };
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

function missingInputs(motion: Motion, rig: Rig, speedMps: number | null): string[] {
  if (motion.axes.tilt.status === 'notObservable' || motion.axes.roll.status === 'notObservable')
    return [
      'The motion of the camera could not be measured in this clip, so nothing can be said about the floor.',
    ];
  const refusals: string[] = [];
  if (motion.mode === 'rotationOnly' && motion.parallaxP < SPLIT_DEFAULTS.parallaxNone) {
    refusals.push(
      'Nothing in the picture shows that the dolly rolled: near and far things do not move against each other. A camera that stays in place says nothing about a floor.',
    );
  }
  if (rig.head === 'operated') {
    refusals.push(
      'Roll a test pass with the head locked: on an operated head the tilt is the operator’s and says nothing about the floor.',
    );
  }
  if (speedMps === null) {
    refusals.push(
      'Give the speed or the travel of the pass: without it frequencies cannot be turned into wavelengths on the floor.',
    );
  }
  if (rig.wheelbaseM === undefined) {
    refusals.push(
      'Give the wheelbase (to 5 mm): without it the pitch of the deck cannot be turned into heights of the floor.',
    );
  }
  if (rig.head === 'selfLevelling' && rig.cameraHeightM === undefined) {
    refusals.push(
      'Give the camera height: a self-levelling head hides the pitch of the deck, which then shows only as the lens being carried to and fro at its height.',
    );
  }
  if (rig.head === 'selfLevelling' && !hasMetricTranslation(motion)) {
    refusals.push(
      'Lock the head, or give the travel and film a scene with near and far things: on a self-levelling head the floor shows only in the translation, which this clip does not give in metres.',
    );
  }
  return refusals;
}

function lensAzimuth(rig: Rig, travel: Travel, assumed: Assumption[], warnings: Warning[]): number {
  const seenDeg = travel.azimuthRad === null ? null : travel.azimuthRad / RAD_PER_DEG;
  if (rig.lensAzimuthDeg !== undefined) {
    if (seenDeg !== null && turnBetweenDeg(seenDeg, rig.lensAzimuthDeg) > AZIMUTH_TOLERANCE_DEG) {
      warnings.push({
        code: 'lens-azimuth-differs',
        text: `The lens azimuth is given as ${rig.lensAzimuthDeg.toFixed(0)} degrees, but the picture travels as if it were ${seenDeg.toFixed(0)}; the given one was used.`,
        atS: null,
      });
    }
    return rig.lensAzimuthDeg * RAD_PER_DEG;
  }
  assumed.push({
    name: 'lensAzimuthDeg',
    value: seenDeg === null ? '0 (looking ahead)' : `${seenDeg.toFixed(0)} (as the picture travels)`,
    matters:
      'decides which of tilt and roll is the pitch of the deck; 10 degrees off changes the grade little',
  });
  return travel.azimuthRad ?? 0;
}

function noteMissing(motion: Motion, rig: Rig, assumed: Assumption[]): void {
  if (rig.head === undefined) {
    assumed.push({
      name: 'head',
      value: 'locked',
      matters: 'an operated or self-levelling head would hide the pitch of the deck and make the grade wrong',
    });
  }
  if (rig.cameraOffsetM === undefined && hasMetricTranslation(motion)) {
    assumed.push({
      name: 'cameraOffsetM',
      value: '0 m (over the middle of the wheelbase)',
      matters:
        'pitch times this length shows as height: 0.4 m off can raise the roughness as rolled by half, the grade by little',
    });
  }
  if (rig.shutterAngleDeg === undefined) {
    assumed.push({
      name: 'shutterAngleDeg',
      value: `${ASSUMED_SHUTTER_DEG} degrees`,
      matters: 'a longer exposure smooths short waves; the grade moves by a few per cent',
    });
  }
  if (rig.trackWidthM === undefined) {
    assumed.push({
      name: 'trackWidthM',
      value: 'unknown: left and right wheel tracks taken as half alike',
      matters: 'the roughness can be 30 % lower or 40 % higher',
    });
  }
}

function noteTravel(motion: Motion, travel: Travel, warnings: Warning[]): void {
  const n = motion.timeS.length;
  if (travel.fromFrame > 0 || travel.toFrame < n) {
    const from = motion.timeS[travel.fromFrame];
    const to = motion.timeS[travel.toFrame - 1];
    warnings.push({
      code: 'surface-part-of-clip',
      text: `The dolly stands or turns back in part of the clip; the floor is graded from ${from.toFixed(1)} s to ${to.toFixed(1)} s.`,
      atS: from,
    });
  }
  if (travel.speedVariation > UNEVEN_SPEED) {
    warnings.push({
      code: 'uneven-speed',
      text: `The speed varies by ${(100 * travel.speedVariation).toFixed(0)} %: wavelengths on the floor are blurred by as much.`,
      atS: null,
    });
  }
}

/** Angle between two directions, degrees, 0..180. */
function turnBetweenDeg(a: number, b: number): number {
  return Math.abs(((((a - b) % 360) + 540) % 360) - 180);
}
