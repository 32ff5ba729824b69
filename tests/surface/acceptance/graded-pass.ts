/** A made-up pass graded from end to end, set against the floor that it rolled over; metres. */
import { fourthDifferenceSmooth, rms } from '../../../src/numerics/index.js';
import type { Rig } from '../../../src/run/index.js';
import { gradeSurface, surfaceClass, type RoughnessGrade } from '../../../src/surface/index.js';
import { readPass } from '../../../src/surface/deck/pass.js';
import type { SurfaceProfile } from '../../../src/surface/profile/types.js';
import type { ListedEvent, SurfaceDetail } from '../../../src/surface/types.js';
import type { Side } from '../support/laid-floor.js';
import {
  madeUpPassWithTruth,
  madeUpRig,
  WHEELBASE_M,
  type PassOptions,
  type PassTruth,
} from '../support/made-up-pass.js';

/** Something laid on the floor, and the line of the list that tells of it. */
export interface LaidAndListed {
  readonly atM: number;
  readonly meanHeightM: number;
  readonly side: Side;
  readonly listed: ListedEvent | null;
}

/** What the chain said of a pass, and what is true of it. */
export interface Graded {
  readonly name: string;
  readonly grade: RoughnessGrade;
  readonly detail: SurfaceDetail;
  /** ln of Gd found over Gd laid. */
  readonly lnError: number;
  readonly classRight: boolean;
  /** Travel and wheelbase: where the floor was seen. */
  readonly runM: number;
  /** How far off a listed place may be: 6 mm, or a third of the way in one frame. */
  readonly placeToleranceM: number;
  readonly joints: readonly LaidAndListed[];
  readonly singles: readonly LaidAndListed[];
  /** Lines of the list where nothing was laid. */
  readonly falseEvents: readonly ListedEvent[];
  readonly profile: { readonly errorShare: number; readonly correlation: number } | null;
}

/** A line of the list this near to what was laid tells of it: more than any place is off, less than what lies next. */
const SAME_M = 0.03;

/** Grades a pass; one that is coded frame by frame, so that its noise is trusted. */
export function gradedPass(options: PassOptions, moreOfRig: Partial<Rig> = {}): Graded {
  const { gdM3, speedMps = 0.2, fps = 25, steps = [], bumps = [], seed } = options;
  const name = `Gd ${gdM3}, ${speedMps} m/s, ${fps} frames/s, seed ${seed}`;
  const { motion, truth } = madeUpPassWithTruth(options);
  const rig = madeUpRig(speedMps, moreOfRig);
  const { grade, detail, reason } = gradeSurface(motion, rig, { interCoded: false });
  if (grade === null || detail === null) throw new Error(`${name}: ${reason}`);

  const { events } = detail;
  const nearest = (atM: number, reachM: number): ListedEvent | null => {
    const near = events.filter((event) => Math.abs(event.atM - atM) <= reachM);
    return near.sort((a, b) => Math.abs(a.atM - atM) - Math.abs(b.atM - atM))[0] ?? null;
  };
  const joints = truth.joints.map(({ atM, leftStepM, rightStepM }): LaidAndListed => ({
    atM,
    meanHeightM: (leftStepM + rightStepM) / 2,
    side: 'both',
    listed: nearest(atM, SAME_M),
  }));
  const alone = [...steps.map((step) => ({ ...step, lengthM: 0 })), ...bumps];
  const singles = alone.map(({ atM, heightM, lengthM, side = 'both' }): LaidAndListed => ({
    atM,
    meanHeightM: side === 'both' ? heightM : heightM / 2,
    side,
    listed: nearest(atM, SAME_M + lengthM / 2),
  }));
  const places = [
    ...truth.joints.map(({ atM }) => ({ atM, reachM: SAME_M })),
    ...alone.map(({ atM, lengthM }) => ({ atM, reachM: SAME_M + lengthM / 2 })),
  ];
  return {
    name,
    grade,
    detail,
    lnError: Math.log(grade.gdM3 / gdM3),
    classRight: !grade.atMost && surfaceClass(grade.gdM3).name === surfaceClass(gdM3).name,
    runM: truth.rearM[truth.rearM.length - 1] + WHEELBASE_M,
    placeToleranceM: Math.max(0.006, speedMps / (3 * fps)),
    joints,
    singles,
    falseEvents: events.filter((event) =>
      places.every(({ atM, reachM }) => Math.abs(event.atM - atM) > reachM),
    ),
    profile:
      detail.profile && profileQuality(detail.profile, truth, speedMps, readPass(motion, rig).pass!.cutoffHz),
  };
}

/** Error of the profile over the true heights, and how alike both run, where the rear axle rolled; half a second left out at both ends. */
function profileQuality(
  { distanceM, heightM }: SurfaceProfile,
  { rearM, meanAxlePathAt }: PassTruth,
  speedMps: number,
  cutoffHz: number,
): Graded['profile'] {
  const rateHz = speedMps / (distanceM[1] - distanceM[0]);
  const heights = distanceM.map(meanAxlePathAt);
  const slow = fourthDifferenceSmooth(heights, rateHz, cutoffHz);
  const trim = Math.round(rateHz / 2);
  const end = distanceM.findLastIndex((place) => place <= rearM[rearM.length - 1]) - trim;
  const truthM = heights.map((height, i) => height - slow[i]).slice(trim, end);
  const foundM = heightM.slice(trim, end);
  const product = truthM.reduce((sum, height, i) => sum + height * foundM[i], 0) / truthM.length;
  return {
    errorShare: rms(foundM.map((height, i) => height - truthM[i])) / rms(truthM),
    correlation: product / rms(foundM) / rms(truthM),
  };
}

/** Share of those for which something holds, 0..1; NaN for none at all, which no expectation meets. */
export function share<T>(of: readonly T[], holds: (one: T) => boolean): number {
  return of.filter(holds).length / of.length;
}

/** Listed, and where it is. */
export function listedInPlace({ placeToleranceM }: Graded, { atM, listed }: LaidAndListed): boolean {
  return listed !== null && Math.abs(listed.atM - atM) <= placeToleranceM;
}

/** False lines of the list in each ten metres of floor. */
export function falsePerTenMetres(passes: readonly Graded[]): number {
  const total = (of: (pass: Graded) => number): number => passes.reduce((sum, pass) => sum + of(pass), 0);
  return (10 * total((pass) => pass.falseEvents.length)) / total((pass) => pass.runM);
}
