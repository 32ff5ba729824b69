/** Decides whether a clip supports a verdict at all: enough tracks, spread over the picture, quiet enough, long enough. */
import {
  figure,
  figureBeside,
  limitFigure,
  type ClipSection,
  type MotionSection,
  type TrackingSection,
} from '../run/index.js';
import { obstacleTexts } from '../texts/index.js';
import type { Finding, Reason } from './finding.js';

/**
 * Least a clip must give. The noise of an angle grows as tracking noise over the square root of the number of tracks; with all
 * of these at their edge it is some ten times that of a good clip, and the split fails before the angles do.
 */
export const MEASURABLE = Object.freeze({
  /** Median number of live tracks; a good clip has 200 to 300. */
  leastTracks: 40,
  /** Share of the tracks that move with the scene; real pictures keep 0.4 to 0.7, a subject that fills the frame less than 0.3. */
  leastInlierShare: 0.3,
  /** Share of a 16 x 9 grid that holds a track: below, the tracks hang in one corner and roll cannot be told from a shift. */
  leastCoverage: 0.1,
  /** Tracking noise at 960 px analysis width, px per axis; a good clip has 0.05 to 0.1, the split needs 0.2. */
  mostNoisePxAt960: 0.4,
  /** Periods of the slowest vibration that the range must hold. */
  leastPeriods: 2,
  /** A second at 25 frames/s: fewer frames hold no vibration that could be called slow. */
  leastFrames: 25,
  /** Share of the frames that may be rejected. */
  mostRejectedShare: 0.25,
});

/** Facts of the clip that the check can use when they are at hand. */
export type ClipFactsForJudge = Pick<ClipSection, 'frameCount' | 'rangeS'>;

/**
 * All that stands in the way of a verdict; empty when the clip supports one. The margin of each is below 0 by what is missing, or by
 * what is too much.
 * @param clip length and frame count; without it those two checks are left out
 */
export function obstacles(
  tracking: TrackingSection,
  motion: MotionSection,
  clip?: ClipFactsForJudge,
): Finding[] {
  const found: Finding[] = [];
  const add = (code: string, text: string, figures: Omit<Reason, 'code' | 'text' | 'ci95'>): void => {
    found.push({ outcome: 'unmeasurable', reason: { code, text, ...figures, ci95: null } });
  };
  const tooLittle = (code: string, value: number, limit: number, unit: string, text: string): void =>
    add(code, text, { value, limit, margin: value - limit, unit });
  const tooMuch = (code: string, value: number, limit: number, unit: string, text: string): void =>
    add(code, text, { value, limit, margin: limit - value, unit });

  const { featuresMedian, inlierShare, coverage, noisePx, analysisWidthPx, rejectedFrames } = tracking;
  const tooFewFrames = clip !== undefined && clip.frameCount < MEASURABLE.leastFrames;
  // A range of a few frames has no tracks either, but light or texture would not help it.
  if (featuresMedian < MEASURABLE.leastTracks && !tooFewFrames)
    tooLittle(
      'too-few-tracks',
      featuresMedian,
      MEASURABLE.leastTracks,
      'tracks',
      obstacleTexts.tooFewTracks(figure(featuresMedian), MEASURABLE.leastTracks),
    );
  else if (coverage < MEASURABLE.leastCoverage && !tooFewFrames)
    tooLittle(
      'coverage-too-small',
      100 * coverage,
      100 * MEASURABLE.leastCoverage,
      obstacleTexts.units.ofFrame,
      obstacleTexts.coverageTooSmall(
        figureBeside(100 * coverage, 100 * MEASURABLE.leastCoverage),
        100 * MEASURABLE.leastCoverage,
      ),
    );
  const { pan, tilt, roll } = motion.angular;
  const nothingMeasured = [pan, tilt, roll].every(({ status }) => status === 'notObservable');
  // No point is counted as moving with the room when no camera path was found at all; why is what helps then.
  if (tooFewFrames)
    tooLittle(
      'too-short',
      clip.frameCount,
      MEASURABLE.leastFrames,
      'frames',
      obstacleTexts.tooFewFrames(clip.frameCount, MEASURABLE.leastFrames),
    );
  else if (nothingMeasured && inlierShare === 0 && featuresMedian >= MEASURABLE.leastTracks)
    add('no-camera-path', motion.translational.reason ?? obstacleTexts.noCameraPath, {
      ...NO_FIGURE,
      unit: '',
    });
  else if (inlierShare < MEASURABLE.leastInlierShare)
    tooLittle(
      'subject-fills-frame',
      100 * inlierShare,
      100 * MEASURABLE.leastInlierShare,
      obstacleTexts.units.ofPoints,
      obstacleTexts.subjectFillsFrame(
        figureBeside(100 * inlierShare, 100 * MEASURABLE.leastInlierShare),
        100 * MEASURABLE.leastInlierShare,
      ),
    );
  const mostNoisePx = (MEASURABLE.mostNoisePxAt960 * analysisWidthPx) / 960;
  if (noisePx !== null && noisePx > mostNoisePx)
    tooMuch(
      'noise-too-large',
      noisePx,
      mostNoisePx,
      'px',
      obstacleTexts.noiseTooLarge(figureBeside(noisePx, mostNoisePx), limitFigure(mostNoisePx)),
    );
  if (clip) {
    const lengthS = clip.rangeS[1] - clip.rangeS[0];
    const neededS = MEASURABLE.leastPeriods / motion.bandHz[0];
    if (lengthS < neededS)
      tooLittle(
        'too-short',
        lengthS,
        neededS,
        's',
        obstacleTexts.tooShort(figureBeside(lengthS, neededS), figure(neededS)),
      );
    // The count of the clip is of the frames that were kept.
    const rejectedShare = rejectedFrames / Math.max(1, clip.frameCount + rejectedFrames);
    if (rejectedShare > MEASURABLE.mostRejectedShare)
      tooMuch(
        'too-many-frames-rejected',
        100 * rejectedShare,
        100 * MEASURABLE.mostRejectedShare,
        obstacleTexts.units.ofFrames,
        obstacleTexts.tooManyFramesRejected(
          figureBeside(100 * rejectedShare, 100 * MEASURABLE.mostRejectedShare),
          100 * MEASURABLE.mostRejectedShare,
        ),
      );
  }
  if (found.length === 0 && nothingMeasured)
    add('angles-not-measured', obstacleTexts.anglesNotMeasured, { ...NO_FIGURE, unit: 'deg' });
  return found;
}

const NO_FIGURE = { value: null, limit: null, margin: null } as const;
