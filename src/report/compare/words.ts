/** The words of a comparison: what a ratio says, its figures with their range, and what would decide. */
import {
  figure,
  percentFigure,
  percentUp,
  type Axis,
  type ComparedPair,
  type ComparedRatio,
  type Comparison,
} from '../../run/index.js';
import type { RatioMark } from '../charts/index.js';
import { comparedRatioTexts, compareLineTexts, compareTexts } from '../../texts/index.js';
import { laneName, leaningOf, leansAmongMany, placesOf, rangeWords, ratioFigure } from '../../judge/index.js';
import { withUnit } from '../format.js';

type AxisRatio = ComparedPair['axes'][number];

/** Holm's limit for the sentence of a band. */
const SIGNIFICANT = 0.05;

/** The name of an axis as it stands in a table. @example axisName('tilt') // "Tilt" */
export function axisName(axis: Axis): string {
  return capital(axis);
}

/**
 * What a ratio says, in a few words. Where nothing is clear but one side is likely, it leans.
 * @example saysWords(ratio, pair) // "no clear difference, leaning to soft wheels (89 in 100)"
 */
export function saysWords(
  ratio: ComparedRatio,
  { a, b, claim }: Pick<ComparedPair, 'a' | 'b' | 'claim'>,
): string {
  switch (ratio.says) {
    case 'aSmoother':
      return comparedRatioTexts.smoother(a);
    case 'bSmoother':
      return comparedRatioTexts.smoother(b);
    case 'sameWithin10':
      return comparedRatioTexts.sameWithin10;
    case 'notCompared':
      return comparedRatioTexts.notCompared;
    case 'noClearDifference':
      return unclearWords(ratio, { a, b }, claim);
  }
}

function unclearWords(
  ratio: ComparedRatio,
  names: Pick<ComparedPair, 'a' | 'b'>,
  claim: ComparedPair['claim'],
): string {
  // What cannot be told from the floor leans to no setup.
  const side = claim === 'nothing' ? null : leaningOf(ratio.aSmoother);
  if (side === null) return comparedRatioTexts.noClearDifference;
  const leaning = comparedRatioTexts.leaning(names[side.to], side.inHundred);
  return leansAmongMany(ratio)
    ? comparedRatioTexts.leaningAmongMany(leaning)
    : comparedRatioTexts.unclearLeaning(leaning);
}

/** The ratio and its range as printed; empty where there is none. @example ratioFigures(ratio) // { value: "0.80", range: "0.66 to 0.96" } */
export function ratioFigures({ ratio, ci95 }: Pick<ComparedRatio, 'ratio' | 'ci95'>): {
  value: string;
  range: string;
} {
  return {
    value: ratio === null ? '' : ratioFigure(ratio),
    range: ratio === null || ci95 === null ? '' : rangeWords(ci95),
  };
}

/** The ratio with its range behind it; a dash where there is none. @example ratioWords(ratio) // "0.80 (0.66 to 0.96)" */
export function ratioWords(ratio: Pick<ComparedRatio, 'ratio' | 'ci95'>): string {
  const { value, range } = ratioFigures(ratio);
  return compareLineTexts.ratio(value, range);
}

/** The RMS of one side with its unit. @param degree how a degree is written */
export function sideWords(rms: number | null, unit: string, degree: '°' | 'deg'): string {
  return rms === null ? comparedRatioTexts.belowNoise : withUnit(figure(rms), unit === 'deg' ? degree : unit);
}

/** The mark of a chart for what a ratio says; a band counts only when it stands up to the correction for all of them. */
export function ratioMark({ ratio, says, pHolm }: ComparedRatio, corrected = false): RatioMark {
  if (says === 'notCompared') return 'none';
  if (says === 'sameWithin10') return 'same';
  if (says === 'noClearDifference') return 'unclear';
  // What a bound decides has stood up to the correction, and has no p-value of its own.
  if (ratio === null) return says;
  return corrected && !(pHolm !== null && pHolm < SIGNIFICANT) ? 'unclear' : says;
}

/** What a mark says where a chart is read. */
export function markWords(mark: RatioMark, { a, b }: Pick<ComparedPair, 'a' | 'b'>): string {
  switch (mark) {
    case 'aSmoother':
      return comparedRatioTexts.chart.clear(a);
    case 'bSmoother':
      return comparedRatioTexts.chart.clear(b);
    case 'same':
      return comparedRatioTexts.sameWithin10;
    case 'unclear':
      return comparedRatioTexts.noClearDifference;
    case 'none':
      return comparedRatioTexts.notCompared;
  }
}

/**
 * The smallest factor that these passes can tell from 1, from the width of the range. Null where there is no range, and where the
 * answer does not follow from it alone: a ratio among many has a higher bar.
 */
export function leastFactor({ ratio, ci95 }: ComparedRatio, mark: RatioMark): number | null {
  if (ratio === null || ci95 === null) return null;
  const least = Math.sqrt(ci95[1] / ci95[0]);
  const told = Math.abs(Math.log(ratio)) > Math.log(least);
  return told === (mark === 'aSmoother' || mark === 'bSmoother') ? least : null;
}

/** How the passes were laid out, and how far the result reaches. @param by what the groups of the comparison differ in */
export function designWords({ design, lanes, passes, claim, a, b }: ComparedPair, by: string): string {
  const { bothCounts, passesOf, rolled, reach, noSetupOnBoth, laidOut } = comparedRatioTexts;
  const counts = bothCounts(passesOf(passes.a, a), passesOf(passes.b, b));
  if (claim === 'theseStretches') return rolled(counts, reach[claim]);
  const places = placesOf(by);
  if (places !== null) return noSetupOnBoth(places, counts);
  return laidOut(comparedRatioTexts.design[design](lanes.map(laneName)), counts, reach[claim]);
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/**
 * What it would take to see a difference of 20 %, axes with the same answer in one line; empty when every axis is clear.
 *
 * @param by what the groups of the comparison differ in
 */
export function decideLines({ axes, design, claim }: ComparedPair, by: string): string[] {
  const open = axes.filter(({ says }) => says === 'noClearDifference');
  const places = placesOf(by);
  if (places !== null && claim === 'nothing' && open.length > 0)
    return [comparedRatioTexts.rollOneOnBoth(places)];
  const answers = new Map<string, AxisRatio[]>();
  for (const ratio of open) {
    const answer = neededWords(ratio, design, by);
    answers.set(answer, [...(answers.get(answer) ?? []), ratio]);
  }
  const lines = [...answers].map(([answer, ratios]) =>
    comparedRatioTexts.neededFor(
      ratios.map(({ axis }) => axis),
      answer,
    ),
  );
  return design === 'ownLanes' ? [...lines, comparedRatioTexts.sooner] : lines;
}

function neededWords({ needed }: AxisRatio, design: ComparedPair['design'], by: string): string {
  if (needed === null) return comparedRatioTexts.noneWouldDecide;
  if (needed.of === 'passes') return comparedRatioTexts.passesWouldShow(needed.count);
  // Where places are compared they are matched across setups.
  const across = placesOf(by) === null ? 'lane' : 'setup';
  return comparedRatioTexts.lanesWouldShow(needed.count, across, design === 'ownLanes');
}

/** Whether the spreads were taken for granted, in a line that says so plainly. */
export function spreadsLead({
  betweenPassesFrom,
  betweenLanesFrom,
}: {
  readonly betweenPassesFrom: 'assumed' | 'log';
  readonly betweenLanesFrom: 'assumed' | 'log';
}): string {
  if (betweenPassesFrom === 'log' && betweenLanesFrom === 'log') return compareTexts.spreadsFromLog;
  if (betweenPassesFrom === 'assumed' && betweenLanesFrom === 'assumed') return compareTexts.spreadsAssumed;
  return betweenPassesFrom === 'log' ? compareTexts.spreadOfPassesFromLog : compareTexts.spreadOfLanesFromLog;
}

/** The focal length that all crops are for, printed; null where it is not known. */
export function lensMm({ common }: Pick<Comparison, 'common'>): string | null {
  return common.focalLengthMm === null ? null : figure(common.focalLengthMm);
}

/** What the crop of a cost is, in a line. @param takesS length of the takes, s */
export function costIs(comparison: Pick<Comparison, 'common'>, ...takesS: readonly number[]): string {
  return compareTexts.costIs([...new Set(takesS.map((takeS) => figure(takeS)))], lensMm(comparison));
}

/** A crop of a take in words; what could not be foretold is said. */
export function cropWords({ medianPercent, upper95Percent }: ComparedPair['crop']['a']): {
  median: string;
  upper: string;
} {
  return {
    median: medianPercent === null ? compareTexts.notForetold : `${percentFigure(medianPercent)} %`,
    upper: upper95Percent === null ? compareTexts.noBound : `${percentUp(upper95Percent)} %`,
  };
}
