/** Says what takes will need in sentences; crop in per cent of the width, lengths in seconds. */
import { figure, percentFigure, percentUp } from '../../run/index.js';
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
  if (testPercent > NOT_USABLE_PERCENT)
    return `The test needed ${percentFigure(testPercent)} %, more than half of the picture: not usable, and a longer take no better.`;
  const chance = `${Math.round(100 * take.chanceExceeds)} in 100 such takes need more than the test of ${figure(testS)} s did`;
  return `The test needed ${percentFigure(testPercent)} %; ${forecastWords(take)}. ${chance}.`;
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
  if (take) return `Over the stretch of the test and on: ${forecastWords(take)}.`;
  const { medianPercent, upper95Percent } = again;
  if (medianPercent > NOT_USABLE_PERCENT)
    return 'The same stretch again needs more than half of the picture: not usable.';
  return `The same stretch again needs about ${percentFigure(medianPercent)} %, ${boundWords(upper95Percent)}.`;
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
  if (seen === 0) {
    const most = take.unseenHitsAtMost === null ? 'some' : `up to ${Math.ceil(take.unseenHitsAtMost)}`;
    return `No hit was seen in the test; ${most} may come in a ${figure(take.takeS)} s take, and how hard is not known.`;
  }
  const hits =
    seen === 1
      ? '1 hit (a joint, or something under the wheels) was'
      : `${seen} hits (joints, or things under the wheels) were`;
  return `${hits} seen in the test and foretold apart from the steady shake.`;
}

/** "a 60 s take about 3.7 %, 19 in 20 below 6 %", or what of it can be said. */
function forecastWords({ takeS, medianPercent, upper95Percent, atLeast, refused }: CropForecast): string {
  const length = `a ${figure(takeS)} s take`;
  if (medianPercent !== null && medianPercent > NOT_USABLE_PERCENT)
    return `${length} more than half of the picture: not usable`;
  const typical = medianPercent === null ? '' : `about ${percentFigure(medianPercent)} %`;
  if (upper95Percent === null) {
    const why = refused ? `, because ${refused.why}` : '';
    return typical ? `${length} ${typical}; no bound${why}` : `nothing can be said of ${length}${why}`;
  }
  const bound =
    atLeast && upper95Percent <= NOT_USABLE_PERCENT
      ? `allow at least ${percentUp(upper95Percent)} % for 19 in 20, since the test holds few hits`
      : boundWords(upper95Percent);
  return typical ? `${length} ${typical}, ${bound}` : `${length}: ${bound}`;
}

function boundWords(upper95Percent: number): string {
  return upper95Percent > NOT_USABLE_PERCENT
    ? 'more than 1 in 20 over half of the picture: not usable'
    : `19 in 20 below ${percentUp(upper95Percent)} %`;
}
