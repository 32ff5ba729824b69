/**
 * A motion log against the pictures of a clip: the whole comparison on one page.
 *
 * A log knows only turning. So it checks the angles of the split by other means: translation that leaked into an angle
 * shows as a difference. It never replaces a figure of the pictures; where it is the better instrument it adds what lies
 * above half the frame rate.
 */
import { ANGULAR_AXES, type AngularAxis, type Warning } from '../../run/index.js';
import { logUnalignedTexts, logWarningTexts } from '../../texts/index.js';
import { compareAxis, type AxisAgreement } from './agreement.js';
import { beyondBand, shakeBeyond, type BeyondAxis } from './beyond.js';
import { namingWords, unitWords, wrongNames } from './naming.js';
import type { MotionLog } from './parse.js';
import { commonFrames, leastPartS, logTime, middleOf, type Comparison } from './common.js';
import { focalFactor } from './focal.js';
import { logParts } from './parts.js';
import { refineClock } from './refine.js';
import { gapsLeave, holdsThroughout, searchOffset } from './search.js';
import { longestRun, noiseAngle, rateSpectra } from './spectrum.js';
import { leastCoveredS, type ComparedMotion } from './video.js';

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
  const parts = logParts(log, leastPartS(motion), FILLED_TO * motion.rateHz);
  const columns = ANGULAR_AXES.filter((axis) => log.ratesRadPerS[axis]);

  // Which moment of the log is which frame of the clip.
  const { match, reason } = searchOffset(motion, parts, exposureS);
  const neededS = leastCoveredS(motion.timeS.length / motion.rateHz);
  const unaligned = (why: string): LogComparison => ({
    ...NOTHING,
    sampleRateHz: log.rateHz,
    correlation: match?.correlation ?? null,
    reason: why,
    warnings: [...gapWarnings(log), warning('motion-log-not-aligned', logWarningTexts.notAligned(why))],
  });
  if (match === null || reason !== null) return unaligned(reason ?? logUnalignedTexts.noMatch);
  const comparison: Comparison = { motion, parts, naming: match.naming, exposureS };
  const clock = refineClock(comparison, match.offsetS);
  if (!clock) return unaligned(gapsLeave(null, neededS, motion));
  if (match.onPart && !holdsThroughout(commonFrames(comparison, clock)))
    return unaligned(logUnalignedTexts.inPartAlone);

  // The same frames seen by both, each column under the name it was given.
  const given = columns.map((axis) => ({ log: axis, camera: axis, sign: 1 as const }));
  const common = commonFrames({ ...comparison, naming: given }, clock);
  if (log.gaps.length > 0 && common.coveredS < neededS - 1 / motion.rateHz)
    return unaligned(gapsLeave(common.coveredS, neededS, motion));
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
  for (const [axis, spectrum] of rateSpectra(log, columns, run)) {
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
      ...(misnamed ? [warning('motion-log-axes', logWarningTexts.columns(misnamed))] : []),
      ...clockWarnings(clock.ratioSd > 0 ? clock.ratio : 1),
      ...(wrongUnit ? [] : disagreements(axes)),
      ...(wrongUnit || motion.separation.unsplit ? [] : focalWarnings(axes)),
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
  return [warning('motion-log-gap', logWarningTexts.gaps(gaps.length, fromS.toFixed(3), toS.toFixed(3)))];
}

/** A word on axes that differ by more than the noise of both. */
function disagreements(axes: Readonly<Record<AngularAxis, AxisAgreement | null>>): Warning[] {
  const names = ANGULAR_AXES.filter((axis) => axes[axis]?.agrees === false);
  if (names.length === 0) return [];
  return [warning('motion-log-differs', logWarningTexts.differs(names))];
}

/** Clocks that differ by less, as a share, are what two clocks do. */
const CLOCK_FAULT = 1e-3;

function clockWarnings(ratio: number): Warning[] {
  const off = Math.abs(ratio - 1);
  if (off < CLOCK_FAULT) return [];
  return [
    warning('motion-log-clock', logWarningTexts.clock((100 * off).toFixed(1), ratio > 1 ? 'fast' : 'slow')),
  ];
}

function focalWarnings(axes: Readonly<Record<AngularAxis, AxisAgreement | null>>): Warning[] {
  const factor = focalFactor(axes);
  if (factor === null) return [];
  return [
    warning(
      'motion-log-focal-length',
      logWarningTexts.focalLength(
        factor.toFixed(2),
        (factor > 1 ? factor : 1 / factor).toFixed(2),
        factor > 1 ? 'long' : 'short',
      ),
    ),
  ];
}
