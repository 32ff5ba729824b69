/** The few figures of a run that a table of many clips shows. */
import { doubtsAmong, worstAngularAxis, type AngularAxis, type RunDocument } from '../run/index.js';

/** What is shown of a clip. */
export interface ClipFigures {
  readonly grade: RunDocument['verdict']['grade'];
  /** Whether there are signs that the figures are not what they seem. */
  readonly isDoubted: boolean;
  /** Crop, per cent of the width; null where nothing could be measured. */
  readonly cropPercent: number | null;
  /** False when a frame needs more than half of the width. */
  readonly coverable: boolean;
  /** The angular axis that shakes most, degrees RMS; null where none stands above the noise. */
  readonly worst: { readonly axis: AngularAxis; readonly rmsDeg: number } | null;
  /** Class of the floor between joints and bumps; null where there is none. */
  readonly floorClass: string | null;
}

/** Takes them out of a run. */
export function figuresOf({ verdict, stabilise, motion, surface, warnings }: RunDocument): ClipFigures {
  const isMeasured = verdict.grade !== 'unmeasurable';
  const axis = isMeasured ? worstAngularAxis(motion) : null;
  return {
    grade: verdict.grade,
    isDoubted: isMeasured && doubtsAmong(warnings).length > 0,
    cropPercent: isMeasured ? stabilise.cropPercent : null,
    coverable: stabilise.coverable,
    worst: axis && { axis, rmsDeg: motion.angular[axis].rmsDeg ?? 0 },
    floorClass: surface.isoClass,
  };
}
