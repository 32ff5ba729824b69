/** Says what takes will need in sentences; crop in per cent of the width, lengths in seconds. */
import { figure, percentFigure, percentUp } from '../../run/index.js';
import { takeTexts } from '../../texts/index.js';
import type { CropForecast, HitsSeen, LongerTake, SameStretch } from './longer-take-types.js';

/** Where more than this share of the picture is lost, nobody delivers the shot. */
const NOT_USABLE_PERCENT = 50;

/**
 * One take beside the test, with the chance that it needs more.
 *
 * @param testS length of the test
 * @param testPercent crop that the test needed
 * @example takeSentence(10, 3.1, take) // "The test needed 3.1 %; a 60 s take about 3.7 %, 19 in 20 below 6 %. 86 in 100
 *   such takes need more than the test of 10 s did."
 */
export function takeSentence(testS: number, testPercent: number, take: LongerTake): string {
  if (testPercent > NOT_USABLE_PERCENT) return takeTexts.testNotUsable(percentFigure(testPercent));
  const chance = takeTexts.chance(Math.round(100 * take.chanceExceeds), figure(testS));
  return takeTexts.test(percentFigure(testPercent), forecastWords(take), chance);
}

/**
 * The stretch of the test rolled again, as long as the test or, when a take is given, on beyond it.
 *
 * @param take one of `again.longer`
 * @example againSentence(again) // "The same stretch again needs about 3.1 %, 19 in 20 below 4.2 %."
 */
export function againSentence(
  again: Pick<SameStretch, 'medianPercent' | 'upper95Percent'>,
  take?: CropForecast,
): string {
  if (take) return takeTexts.onward(forecastWords(take));
  const { medianPercent, upper95Percent } = again;
  if (medianPercent > NOT_USABLE_PERCENT) return takeTexts.againNotUsable;
  return takeTexts.again(percentFigure(medianPercent), boundWords(upper95Percent));
}

/**
 * What hits the test showed, and how many more may come in a take.
 *
 * @example hitsSentence({ seen: 0, list: [] }, take) // "No hit was seen in the test; up to 18 may come in a 60 s take, and
 *   how hard is not known."
 */
export function hitsSentence(
  { seen }: Pick<HitsSeen, 'seen'>,
  take: Pick<LongerTake, 'takeS' | 'unseenHitsAtMost'>,
): string {
  if (seen > 0) return takeTexts.hits(seen);
  const most =
    take.unseenHitsAtMost === null
      ? takeTexts.someHits
      : takeTexts.upToHits(Math.ceil(take.unseenHitsAtMost));
  return takeTexts.noHit(most, figure(take.takeS));
}

/** "a 60 s take about 3.7 %, 19 in 20 below 6 %", or what of it can be said. */
function forecastWords({ takeS, medianPercent, upper95Percent, atLeast, refused }: CropForecast): string {
  const length = takeTexts.length(figure(takeS));
  if (medianPercent !== null && medianPercent > NOT_USABLE_PERCENT) return takeTexts.notUsable(length);
  const typical = medianPercent === null ? '' : takeTexts.about(percentFigure(medianPercent));
  if (upper95Percent === null) {
    const because = refused ? takeTexts.because(refused.why) : '';
    return typical === ''
      ? takeTexts.nothingToSay(length, because)
      : takeTexts.noBound(length, typical, because);
  }
  const bound =
    atLeast && upper95Percent <= NOT_USABLE_PERCENT
      ? takeTexts.atLeast(percentUp(upper95Percent))
      : boundWords(upper95Percent);
  return typical === ''
    ? takeTexts.boundAlone(length, bound)
    : takeTexts.typicalAndBound(length, typical, bound);
}

function boundWords(upper95Percent: number): string {
  return upper95Percent > NOT_USABLE_PERCENT
    ? takeTexts.overHalf
    : takeTexts.below(percentUp(upper95Percent));
}
