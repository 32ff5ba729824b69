/** Words of the verdict in one line, of axes and ways as they stand everywhere, and of what a step of the advice comes to. */
import type { Axis, PredictedOutcome, StabiliseSection, VerdictSection } from '../../run/index.js';
import { aLens } from './words.js';

/** An axis: its name, and what it means in a few words. */
export interface AxisWords {
  readonly name: string;
  readonly meaning: string;
}

/** Axes as they stand in tables. */
const AXES: Readonly<Record<Axis, AxisWords>> = {
  pan: { name: 'Pan', meaning: 'turns left and right' },
  tilt: { name: 'Tilt', meaning: 'nods up and down' },
  roll: { name: 'Roll', meaning: 'leans about the lens' },
  lateral: { name: 'Lateral', meaning: 'shifts left and right' },
  vertical: { name: 'Vertical', meaning: 'shifts up and down' },
  axial: { name: 'Axial', meaning: 'shifts along the lens' },
};

const GRADES: Readonly<Record<VerdictSection['grade'], string>> = {
  pass: 'Pass',
  marginal: 'Marginal',
  fail: 'Fail',
  unmeasurable: 'Unmeasurable',
};

const OPENINGS: Readonly<Record<VerdictSection['grade'], string>> = {
  pass: 'Good for this move',
  marginal: 'Borderline for this move',
  fail: 'Not good enough for this move',
  unmeasurable: 'This clip cannot tell',
};

const WAYS: Readonly<Record<StabiliseSection['mode'], string>> = {
  keepMove: 'Keep the move',
  holdStill: 'Hold still',
  smoothest: 'Smoothest within the crop allowed',
};

const OUTCOMES: Readonly<Record<PredictedOutcome['grade'], string>> = {
  pass: 'passes',
  marginal: 'may pass',
  fail: 'still over the limit',
};

/** Words of the verdict and of what it speaks of. */
export const verdictTexts = {
  grades: GRADES,
  axes: AXES,
  /** Where translation could not be told from rotation, two of the angles take it in. */
  axesUnsplit: {
    ...AXES,
    pan: { name: 'Pan-equivalent', meaning: 'turns left and right, lateral motion taken in' },
    tilt: { name: 'Tilt-equivalent', meaning: 'nods up and down, vertical motion taken in' },
  } satisfies Readonly<Record<Axis, AxisWords>>,
  ways: WAYS,
  moveKept: 'the move is kept',
  moveKeptBelow: (smoothingS: string, hz: string): string =>
    `the move is kept: what takes longer than ${smoothingS} s (below ${hz} Hz) stays`,
  heldStill: 'the picture is held still, as if locked off',
  smoothestPath: 'the smoothest path that the crop allows',
  ofSubjectDistance: '% of subject distance',
  delivery: (name: string | null, widthPx: number, heightPx: number): string =>
    `${name === null ? '' : `${name}, `}${widthPx}x${heightPx}`,
  cannotTell: (reason: string): string => `${OPENINGS.unmeasurable}. ${reason}`.trim(),
  /** @param lensMm printed, @param speedMps printed; null where it is not known */
  sentence: (
    grade: VerdictSection['grade'],
    { lensMm, speedMps }: { readonly lensMm: string | null; readonly speedMps: string | null },
    delivery: string,
    figures: readonly string[],
  ): string => {
    const lens = lensMm === null ? '' : ` with ${aLens(lensMm)}`;
    const speed = speedMps === null ? '' : ` at ${speedMps} m/s`;
    return `${OPENINGS[grade]}${lens}${speed}, for ${delivery}: ${figures.join(', ')}.`;
  },
  notSeen: 'shake too small to be seen',
  translationNotMeasured: 'translation not measured',
  /** @param reach what the range adds where it decides, else empty */
  crop: (percent: string, limit: string, reach: string): string =>
    `crop ${percent} % of the width (limit ${limit} %${reach})`,
  wobble: (px: string, limit: string, reach: string): string =>
    `rolling-shutter wobble ${px} px (limit ${limit} px${reach})`,
  left: (px: string, limit: string, reach: string): string =>
    `${px} px of shake left (limit ${limit} px${reach})`,
  /** Where the grade comes from the range and not from the value. */
  repeatUpTo: (percent: string): string => `, but a repeat may need up to ${percent} %`,
  mayReach: (value: string, unit: string): string => `, but it may be up to ${value} ${unit}`,
  mayBeDownTo: (value: string, unit: string): string => `, but it may be as low as ${value} ${unit}`,
  /** A value so near its limit that its digits would say nothing. */
  justOver: (limit: string): string => `just over ${limit}`,
  justUnder: (limit: string): string => `just under ${limit}`,
  adviceWords: { first: 'Do first', or: 'Or', also: 'Also' },
  outcomeCrop: (percent: string): string => `crop ${percent} %`,
  outcomeNotCoverable: 'crop of more than half of the picture',
  outcome: (crop: string, leftPx: string | null, grade: PredictedOutcome['grade']): string =>
    `${crop}${leftPx === null ? '' : `, ${leftPx} px left`}: ${OUTCOMES[grade]}`,
} as const;
