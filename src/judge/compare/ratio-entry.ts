/** The entry of one question in the comparison document: what the ratio says once the whole family is counted, in plain words. */
import type { ComparedPair, ComparedRatio } from '../../run/index.js';
import { boundBeside, figure, figureUp } from '../../run/index.js';
import { ratioTexts, type PrintedRatio } from '../../texts/index.js';
import type { AxisAnswer } from './axis-answer.js';
import type { Claim } from './design.js';
import type { Ratio } from './setup-difference.js';
import { factorWith, neededFor, type Needed } from './needed-passes.js';
import { leaningOf, ratioFigure, rangeWords, reachWords, smootherWords, spanWords } from './ratio-words.js';

/** Chance of a false "different" in the whole family, and the bounds of "the same within 10 %". */
const FAMILY_ERROR = 0.05;
const SAME_WITHIN = [0.91, 1.1] as const;

/** What a sentence needs beside the answer. */
export interface PairWords {
  readonly a: string;
  readonly b: string;
  readonly design: ComparedPair['design'];
  readonly claim: Claim;
  /** "3 passes each", "3 lanes, one pass each". */
  readonly counts: string;
  readonly onePassEach: boolean;
  readonly passesFrom: 'assumed' | 'log';
  /** The same clip stands on both sides. */
  readonly sameClip: boolean;
  /** What A and B are where they are places, which setups are matched across; null where they are setups. */
  readonly places: Places | null;
}

/** Places that can be compared as they were rolled. */
export type Places = 'lane' | 'floor';

/** Asked alone it would be clear, and the correction for the whole family leaves it open. @param ratio an entry as it is told */
export function leansAmongMany({ says, p }: Pick<ComparedRatio, 'says' | 'p'>): boolean {
  return says === 'noClearDifference' && p !== null && p < FAMILY_ERROR;
}

/** The entry without axis and band. @param what "tilt", "tilt between 2.8 and 5.6 Hz" @param pHolm of the whole family */
export function ratioEntry(
  answer: AxisAnswer,
  what: string,
  pHolm: number | null,
  family: number,
  words: PairWords,
): ComparedRatio {
  const { question, aRms, bRms, compared } = answer;
  const { unit } = question;
  if (!compared) {
    const says = saysOfBound(answer, pHolm, words);
    return {
      ...{ aRms, bRms, unit, ratio: null, ci95: null, degrees: null, p: null, pHolm: null, aSmoother: null },
      says,
      sentence:
        says === 'notCompared' ? refusalSentence(answer, what, words) : boundedSentence(answer, what, words),
      needed: null,
    };
  }
  const { ratio, input, found } = compared;
  const says = saysOf(answer, pHolm, words);
  const needed = neededFor(input, found);
  return {
    aRms,
    bRms,
    unit,
    ratio: ratio.ratio,
    ci95: [...ratio.ci95],
    degrees: found.degrees,
    p: ratio.p,
    pHolm,
    aSmoother: ratio.aSmoother,
    says,
    sentence: sentenceOf(answer, says, what, family, needed, words),
    needed,
  };
}

function saysOf(
  { compared }: AxisAnswer,
  pHolm: number | null,
  { claim, sameClip }: PairWords,
): ComparedRatio['says'] {
  if (!compared) return 'notCompared';
  if (claim === 'nothing' || sameClip) return 'noClearDifference';
  const { ratio, ci90 } = compared.ratio;
  if (pHolm !== null && pHolm < FAMILY_ERROR) return ratio < 1 ? 'aSmoother' : 'bSmoother';
  return ci90[0] > SAME_WITHIN[0] && ci90[1] < SAME_WITHIN[1] ? 'sameWithin10' : 'noClearDifference';
}

/** The side under the noise is the smoother one where its bound stays below the other for all that was asked. */
function saysOfBound(
  { belowNoise }: AxisAnswer,
  pHolm: number | null,
  { claim, sameClip }: PairWords,
): Extract<ComparedRatio['says'], 'aSmoother' | 'bSmoother' | 'notCompared'> {
  const sure = belowNoise !== null && pHolm !== null && pHolm < FAMILY_ERROR;
  if (!sure || claim === 'nothing' || sameClip) return 'notCompared';
  return belowNoise.a === null ? 'bSmoother' : 'aSmoother';
}

/** Both sides where one lies under its noise, and the most that this one has of the other; that share is null where it is not known. */
function boundOf({ belowNoise, aRms, bRms }: AxisAnswer, { a, b }: Pick<PairWords, 'a' | 'b'>) {
  const { a: aBelow, b: bBelow, bound } = belowNoise ?? { a: null, b: null, bound: null };
  const [low, lowRms, high, highRms] = aBelow !== null ? [a, aBelow, b, bRms] : [b, bBelow, a, aRms];
  return {
    hidden: [low, figureUp(lowRms ?? 0)] as const,
    shown: [high, figure(highRms ?? 0)] as const,
    // Both directions told as "low over high".
    share: bound === null ? null : aBelow !== null ? bound : 1 / bound,
  };
}

/** The most that the side under its noise has of the other, printed; null where both are above, or nothing bounds it below 1. */
export function atMostOf(answer: AxisAnswer, names: Pick<PairWords, 'a' | 'b'>): string | null {
  const { share } = boundOf(answer, names);
  return share === null || share >= 1 ? null : boundBeside(share, 1);
}

function boundedSentence(answer: AxisAnswer, what: string, words: PairWords): string {
  const { hidden, shown, share } = boundOf(answer, words);
  const atMost = boundBeside(share ?? 1, 1);
  const { unit } = answer.question;
  return ratioTexts.boundedSmoother(hidden, shown, unit, reachWords(words.claim), what, atMost, words.counts);
}

/** Why nothing was compared, with the bound that stands all the same. */
function refusalSentence(answer: AxisAnswer, what: string, { a, b }: PairWords): string {
  const {
    untold,
    belowNoise,
    question: { unit },
  } = answer;
  if (untold) {
    const who = untold === 'both' ? ratioTexts.bothSides(a, b) : untold === 'a' ? a : b;
    return ratioTexts.cannotTell(who, what);
  }
  const { a: aBelow, b: bBelow } = belowNoise ?? { a: null, b: null };
  if (aBelow !== null && bBelow !== null)
    return ratioTexts.bothUnderNoise(what, [a, figureUp(aBelow)], [b, figureUp(bBelow)], unit);
  const { hidden, shown, share } = boundOf(answer, { a, b });
  return share !== null && share < 1
    ? ratioTexts.oneUnderNoise(what, hidden, shown, unit, boundBeside(share, 1))
    : ratioTexts.oneUnderNoiseUntold(what, hidden, unit);
}

function sentenceOf(
  answer: AxisAnswer,
  says: ComparedRatio['says'],
  what: string,
  family: number,
  needed: Needed | null,
  words: PairWords,
): string {
  const { compared } = answer;
  if (!compared) return '';
  const { a, b, claim, counts, onePassEach, design, sameClip, places } = words;
  const { ratio } = compared;
  const reach = reachWords(claim);
  const overB = printed(ratio.ratio, ratio.ci95);
  if (sameClip) return ratioTexts.sameClip(what, overB);
  if (says === 'aSmoother') return ratioTexts.smoother([a, b], reach, what, overB, counts);
  if (says === 'bSmoother') {
    const overA = printed(1 / ratio.ratio, [1 / ratio.ci95[1], 1 / ratio.ci95[0]]);
    return ratioTexts.smoother([b, a], reach, what, overA, counts);
  }
  if (says === 'sameWithin10')
    return ratioTexts.sameWithin10([a, b], reach, what, printed(ratio.ratio, ratio.ci90), counts);
  if (claim === 'nothing')
    return ratioTexts.cannotTellApart(places, [a, b], what, overB, figure(ratio.ci95[1] / ratio.ratio));
  const parts = leansAmongMany({ says, p: ratio.p })
    ? leaningAmongMany(ratio, what, family, words)
    : [ratioTexts.noClearDifference(what, a, b, spanWords(ratio.ci95)), leaning(ratio, what, words)];
  if (onePassEach && design === 'oneLane') parts.push(onePass(answer, words));
  parts.push(neededWords(needed, compared.input.lanes, words));
  return parts.filter((part) => part !== '').join(' ');
}

function printed(ratio: number, range: readonly [number, number]): PrintedRatio {
  return { ratio: ratioFigure(ratio), range: rangeWords(range) };
}

function leaning({ aSmoother }: Ratio, what: string, words: PairWords): string {
  const side = leaningOf(aSmoother);
  return side === null ? '' : ratioTexts.leans(what, words[side.to], side.inHundred);
}

/** A range wholly on one side that is not clear for the number of questions: "no clear difference" would not do it justice. */
function leaningAmongMany(
  { aSmoother, ratio, ci95 }: Ratio,
  what: string,
  family: number,
  { a, b }: PairWords,
): string[] {
  const chance = leaningOf(aSmoother)?.inHundred ?? 99;
  const [to, from, range] = ratio < 1 ? [a, b, ci95] : ([b, a, [1 / ci95[1], 1 / ci95[0]]] as const);
  return [
    ratioTexts.leansAmongMany(what, to, from, chance, smootherWords(range)),
    ratioTexts.aloneItWouldBe(family),
  ];
}

/** One pass each: what the range rests on, and what one more each would do. */
function onePass({ compared }: AxisAnswer, { passesFrom }: PairWords): string {
  if (!compared) return '';
  const { input, found } = compared;
  const percent = figure(100 * input.spreads.betweenPasses);
  const { onePassAssumes, onePassFromLog, onlyAbove } = ratioTexts;
  const rests = passesFrom === 'assumed' ? onePassAssumes(percent) : onePassFromLog(percent);
  const factors = [1, 2].map((passes) => figure(factorWith(input, found, passes)));
  return `${rests} ${onlyAbove(factors[0], factors[1])}`;
}

function neededWords(
  needed: Needed | null,
  lanes: readonly { readonly a: readonly number[]; readonly b: readonly number[] }[],
  { design, places }: PairWords,
): string {
  if (!needed) return '';
  const { of, count } = needed;
  const rolled =
    of === 'passes' ? Math.min(...lanes.flatMap(({ a, b }) => [a.length, b.length])) : lanes.length;
  if (count <= rolled && design !== 'ownLanes') return ratioTexts.wouldHaveShown;
  if (of === 'passes') return ratioTexts.eachWouldShow(count, 'pass');
  return design === 'ownLanes'
    ? ratioTexts.eachWouldShow(count, 'lane')
    : ratioTexts.onBothWouldShow(count, places === null ? 'lanes' : 'setups');
}
