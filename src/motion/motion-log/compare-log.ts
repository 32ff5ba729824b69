/**
 * A motion log against the pictures of a clip: the whole comparison on one page.
 *
 * A log knows only turning. So it checks the angles of the split by other means: translation that leaked into an angle
 * shows as a difference. It never replaces a figure of the pictures; where it is the better instrument it adds what lies
 * above half the frame rate.
 */
import { ANGULAR_AXES, type AngularAxis, type Warning } from '../../run/index.js';
import { compareAxis, type AxisAgreement } from './agreement.js';
import { integrateRates } from './angles.js';
import { beyondBand, shakeBeyond, type BeyondAxis } from './beyond.js';
import { namingWords, unitWords, wrongNames } from './naming.js';
import type { MotionLog } from './parse.js';
import { commonFrames, logTime, middleOf, type Comparison } from './common.js';
import { refineClock } from './refine.js';
import { searchOffset } from './search.js';
import { longestRun, noiseAngle, rateSpectra } from './spectrum.js';
import type { ComparedMotion } from './video.js';

/** What the comparison found; radians and seconds. */
export interface LogComparison {
  readonly sampleRateHz: number;
  /** False: nothing of the log is used. */
  readonly aligned: boolean;
  /** Why it was not aligned, or which of its axes are not what they say; null when all is well. */
  readonly reason: string | null;
  /** Height of the correlation peak that the alignment rests on; null when none was sought. */
  readonly correlation: number | null;
  /** The log's clock minus the clip's, at the middle of the clip. */
  readonly offsetS: number | null;
  readonly offsetSdS: number | null;
  /** Seconds of the log in a second of the clip; null when it cannot be told from 1. */
  readonly clockRatio: number | null;
  /** Clip times that were compared, first and last frame that counts. */
  readonly comparedS: readonly [number, number] | null;
  readonly axes: Readonly<Record<AngularAxis, AxisAgreement | null>>;
  readonly beyond: {
    readonly bandHz: readonly [number, number];
    readonly axes: Readonly<Record<AngularAxis, BeyondAxis | null>>;
  } | null;
  readonly warnings: readonly Warning[];
}

/** Samples of the log in a frame: with fewer, straight lines between them lose over 0.3 % at the pictures' highest frequency. */
const FILLED_TO = 16;
/** Correlation from which a log is trusted to show the same motion. */
const SAME_MOTION = 0.9;

/**
 * Compares a log with the motion of a clip.
 *
 * @param exposureS time that each picture was exposed, 0 or more
 */
export function compareMotionLog(motion: ComparedMotion, log: MotionLog, exposureS: number): LogComparison {
  const integrals = new Map(
    ANGULAR_AXES.flatMap((axis) => {
      const rates = log.ratesRadPerS[axis];
      return rates ? [[axis, integrateRates(log.timeS, rates, FILLED_TO * motion.rateHz)] as const] : [];
    }),
  );

  // Which moment of the log is which frame of the clip.
  const { match, reason } = searchOffset(motion, integrals, exposureS);
  const unaligned = (why: string): LogComparison => ({
    ...NOTHING,
    sampleRateHz: log.rateHz,
    correlation: match?.correlation ?? null,
    reason: why,
    warnings: [
      ...gapWarnings(log),
      warning('motion-log-not-aligned', `The motion log could not be aligned with the clip: ${why}.`),
    ],
  });
  if (match === null || reason !== null) return unaligned(reason ?? 'no match was found');
  // Bridging a gap leaves a wrong step in the angle, which the high-pass carries on for about one of its periods.
  const reachS = 1 / motion.bandHz[0];
  const comparison: Comparison = {
    motion,
    log: integrals,
    naming: match.naming,
    exposureS,
    inGap: (s) => log.gaps.some((gap) => s > gap.fromS - reachS && s < gap.toS + reachS),
  };
  const clock = refineClock(comparison, match.offsetS);
  if (!clock) return unaligned('too few frames lie clear of gaps in the log');

  // The same frames seen by both, each column under the name it was given.
  const given = [...integrals.keys()].map((axis) => ({ log: axis, camera: axis, sign: 1 as const }));
  const common = commonFrames({ ...comparison, naming: given }, clock);
  const wrong = wrongNames(common.video, common.log);
  const distrusted = new Set(wrong.flatMap((name) => [name.log, name.camera]));

  // How far they agree, and what the log adds.
  const middleS = middleOf(motion);
  const run = longestRun(
    log,
    logTime(clock, motion.timeS[common.from], middleS),
    logTime(clock, motion.timeS[common.to - 1], middleS),
  );
  const band = beyondBand(motion.bandHz[1], log.rateHz);
  const axes: Record<AngularAxis, AxisAgreement | null> = { pan: null, tilt: null, roll: null };
  const beyond: Record<AngularAxis, BeyondAxis | null> = { pan: null, tilt: null, roll: null };
  for (const [axis, spectrum] of rateSpectra(log, [...integrals.keys()], run)) {
    if (distrusted.has(axis)) continue;
    const noiseLog = noiseAngle(spectrum, motion.rateHz, motion.bandHz[0], exposureS);
    const agreement = compareAxis(axis, motion, common, noiseLog);
    axes[axis] = agreement;
    const better = agreement && agreement.correlation >= SAME_MOTION && noiseLog < motion.axes[axis].floor;
    if (band && better) beyond[axis] = shakeBeyond(spectrum, band, exposureS);
  }
  const gains = ANGULAR_AXES.flatMap((axis) => axes[axis]?.gain ?? []);
  const wrongUnit = unitWords(gains);
  const misnamed = wrongUnit ?? (wrong.length > 0 ? namingWords(wrong) : null);
  return {
    sampleRateHz: log.rateHz,
    aligned: true,
    reason: misnamed,
    correlation: match.correlation,
    offsetS: clock.offsetS,
    offsetSdS: clock.offsetSdS,
    clockRatio: clock.ratioSd > 0 ? clock.ratio : null,
    comparedS: [common.timeS[0], common.timeS[common.timeS.length - 1]],
    axes: wrongUnit ? NOTHING.axes : axes,
    beyond:
      band && !wrongUnit && ANGULAR_AXES.some((axis) => beyond[axis]) ? { bandHz: band, axes: beyond } : null,
    warnings: [
      ...gapWarnings(log),
      ...(misnamed ? [warning('motion-log-axes', `${misnamed}. What is wrong there is not compared.`)] : []),
      ...(wrongUnit ? [] : disagreements(axes)),
    ],
  };
}

const NOTHING = {
  aligned: false,
  correlation: null,
  offsetS: null,
  offsetSdS: null,
  clockRatio: null,
  comparedS: null,
  axes: { pan: null, tilt: null, roll: null },
  beyond: null,
} as const;

function warning(code: string, text: string): Warning {
  return { code, text, atS: null };
}

function gapWarnings({ gaps }: MotionLog): Warning[] {
  if (gaps.length === 0) return [];
  const [{ fromS, toS }] = gaps;
  const more = gaps.length > 1 ? `, the first` : '';
  return [
    warning(
      'motion-log-gap',
      `The motion log has ${gaps.length === 1 ? 'a gap' : `${gaps.length} gaps`}${more} from ${fromS.toFixed(3)} s to ${toS.toFixed(3)} s of its clock; frames near a gap are not compared.`,
    ),
  ];
}

/** A word on axes that differ by more than the noise of both. */
function disagreements(axes: Readonly<Record<AngularAxis, AxisAgreement | null>>): Warning[] {
  const names = ANGULAR_AXES.filter((axis) => axes[axis]?.agrees === false);
  if (names.length === 0) return [];
  return [
    warning(
      'motion-log-differs',
      `On ${names.join(' and ')} the motion log and the picture differ by more than the noise of both.`,
    ),
  ];
}
