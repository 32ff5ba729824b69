/** The families of shapes that are looked for along a run, and which of them an event is; metres. */
import { GAP_M, unitBump, unitDip, unitStep } from './shapes.js';
import { scoreThreshold, type FamilyScores, type ShapeFamily } from './scan-scores.js';
import type { FoundEvent } from './types.js';

/** Lengths of the raised cosines that stand for bumps, metres: a ridge, a cable, a hose, a worn or bulged place. */
export const BUMP_LENGTHS_M = [0.02, 0.04, 0.1, 0.2] as const;

/** Shapes of a joint under the mean of the tracks. */
export const JOINT_SHAPES = 2;
/**
 * Alarms by chance that a family is set for, over those of the whole list. Scores of joints are safe by two to five at their
 * threshold (measured on floors without events), so that all of the list's alarms together stay below what was asked for.
 */
const JOINT_ALARMS = 1;
const BUMP_ALARMS = 1 / 2;
/** Bumps this share of their length apart say something of their own (measured on floors without events: 1/6 to 1/4). */
const INDEPENDENT_SHARE = 1 / 5;

/** A lasting step with a dip beside it; roll sees the step only. */
export function jointFamily(blurM: number): ShapeFamily {
  const step = unitStep(blurM);
  return { mean: [step, unitDip(blurM)], difference: step, lengthM: 0, alarmShare: JOINT_ALARMS };
}

/** Bumps (or wide dips, upside down) of all lengths, each under one wheel line or both. */
export function bumpFamilies(blurM: number): ShapeFamily[] {
  return BUMP_LENGTHS_M.map((lengthM) => {
    const bump = unitBump(lengthM, blurM);
    const alarmShare = BUMP_ALARMS / BUMP_LENGTHS_M.length;
    return { mean: [bump], difference: bump, lengthM, alarmShare };
  });
}

/** How far apart two places are that say something of their own about a family's event, given that for joints; metres. */
export function apartFor({ lengthM }: ShapeFamily, jointsApartM: number): number {
  return Math.max(jointsApartM, INDEPENDENT_SHARE * lengthM);
}

/**
 * The shape of an event that a family saw best.
 *
 * A step and a dip at a joint are held against each other alone, each against the score that chance gives with its degrees of
 * freedom: more freedom must earn its keep.
 *
 * @param tail chance of an alarm at one place, for that comparison
 */
export function seenShape(
  scores: FamilyScores,
  place: number,
  tail: number,
): Pick<FoundEvent, 'shape' | 'lengthM'> {
  const { family } = scores;
  if (family.lengthM > 0) {
    return { shape: scores.heightsAt(place).mean[0] < 0 ? 'dip' : 'bump', lengthM: family.lengthM };
  }
  const stepDegrees = scores.degreesOfFreedom - 1;
  const step = scores.aloneAt(place, 0, true) - scoreThreshold(stepDegrees, tail);
  const dip = scores.aloneAt(place, 1, false) - scoreThreshold(1, tail);
  return step >= dip ? { shape: 'step', lengthM: 0 } : { shape: 'dip', lengthM: GAP_M };
}
