/** What shutter and frame rate hide in a clip, as plain sentences for a crew; hertz and seconds. */
import { figure } from '../../run/index.js';
import { shutterTexts } from '../../texts/index.js';
import { correctedUpToHz, correctionRange, hiddenHz } from './exposure.js';

/** Below this change of an amplitude an assumed shutter angle needs no word. */
const WORTH_A_WORD = 0.05;

/** How a clip was exposed. */
export interface ShutterView {
  readonly rateHz: number;
  readonly exposureS: number;
  /** True when no shutter angle was given. */
  readonly isAssumed: boolean;
  /** Highest frequency of the motion itself among the sources; null without sources. */
  readonly fastestHz: number | null;
}

/**
 * The sentences: what frames fold, what the exposure blurs away, and how much hangs on a shutter angle that was assumed.
 *
 * @returns one to three sentences; the last one only for an assumed angle that changes the fastest source by more than 5 % between
 *   90 and 360 degrees
 */
export function shutterNotes({ rateHz, exposureS, isAssumed, fastestHz }: ShutterView): string[] {
  const notes = [shutterTexts.folds(figure(rateHz), figure(rateHz / 2))];
  const blurredHz = hiddenHz(exposureS);
  const correctedHz = correctedUpToHz(exposureS);
  if (blurredHz !== null && correctedHz !== null)
    notes.push(shutterTexts.blursAway(figure(1000 * exposureS), figure(blurredHz), figure(correctedHz)));
  if (isAssumed && fastestHz !== null)
    notes.push(...assumedAngle(fastestHz, rateHz, Math.min(360, 360 * exposureS * rateHz)));
  return notes;
}

function assumedAngle(fastestHz: number, rateHz: number, assumedDeg: number): string[] {
  const [least, most] = correctionRange(fastestHz, rateHz, assumedDeg);
  if (least === null || (most !== null && most - least <= WORTH_A_WORD)) return [];
  return [
    shutterTexts.angleAssumed(
      figure(assumedDeg),
      figure(fastestHz),
      figure(least),
      most === null ? null : figure(most),
    ),
  ];
}
