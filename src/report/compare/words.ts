/** The words of a comparison: what a ratio says, its figures with their range, and what would decide. */
import {
  figure,
  percentFigure,
  percentUp,
  type Axis,
  type ComparedPair,
  type ComparedRatio,
} from '../../run/index.js';
import type { RatioMark } from '../charts/index.js';
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
      return `${a} smoother`;
    case 'bSmoother':
      return `${b} smoother`;
    case 'sameWithin10':
      return 'the same within 10 %';
    case 'notCompared':
      return 'not compared';
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
  if (side === null) return 'no clear difference';
  const leaning = `leaning to ${names[side.to]} (${side.inHundred} in 100)`;
  return leansAmongMany(ratio) ? `${leaning}, not sure among so many` : `no clear difference, ${leaning}`;
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

/** The RMS of one side with its unit. @param degree how a degree is written */
export function sideWords(rms: number | null, unit: string, degree: '°' | 'deg'): string {
  return rms === null ? 'below noise' : withUnit(figure(rms), unit === 'deg' ? degree : unit);
}

/** The mark of a chart for what a ratio says; a band counts only when it stands up to the correction for all of them. */
export function ratioMark({ ratio, says, pHolm }: ComparedRatio, corrected = false): RatioMark {
  if (ratio === null || says === 'notCompared') return 'none';
  if (says === 'sameWithin10') return 'same';
  if (says === 'noClearDifference') return 'unclear';
  return corrected && !(pHolm !== null && pHolm < SIGNIFICANT) ? 'unclear' : says;
}

/** How the passes were laid out, and how far the result reaches. @param by what the groups of the comparison differ in */
export function designWords({ design, lanes, passes, claim, a, b }: ComparedPair, by: string): string {
  const count = `${passesOf(passes.a)} of ${a}, ${passesOf(passes.b)} of ${b}`;
  if (claim === 'theseStretches') return `${count}. ${REACH[claim]}`;
  const places = placesOf(by);
  if (places !== null)
    return `No setup was rolled on both ${places}s: ${count}. ${capital(places)} and setup cannot be told apart.`;
  const where = {
    oneLane: `Both on one lane (${lanes.map(laneName).join(', ')})`,
    pairedLanes: `Both on each of ${lanes.length} lanes (${lanes.map(laneName).join(', ')})`,
    ownLanes: `Each on lanes of its own (${lanes.map(laneName).join(', ')})`,
  }[design];
  return `${where}: ${count}. ${REACH[claim]}`;
}

const REACH: Readonly<Record<ComparedPair['claim'], string>> = {
  thisLane: 'The result holds for this lane.',
  floorsLikeThese: 'The result holds for floors like these.',
  theseStretches: 'The result holds for the stretches that were rolled.',
  nothing: 'Floor and setup cannot be told apart.',
};

function passesOf(count: number): string {
  return `${count} ${count === 1 ? 'pass' : 'passes'}`;
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
    return [`Roll one setup on both ${places}s: more passes of this kind would not decide it.`];
  const answers = new Map<string, AxisRatio[]>();
  for (const ratio of open) {
    const answer = neededWords(ratio, design, by);
    answers.set(answer, [...(answers.get(answer) ?? []), ratio]);
  }
  const lines = [...answers].map(
    ([answer, ratios]) => `${capital(listed(ratios.map(({ axis }) => axis)))}: ${answer}`,
  );
  return design === 'ownLanes' ? [...lines, 'Sooner: run both on one lane, in the order A B B A.'] : lines;
}

function neededWords({ needed }: AxisRatio, design: ComparedPair['design'], by: string): string {
  if (needed === null) return 'more passes of this kind would not decide it.';
  const count = String(needed.count);
  // Where places are compared they are matched across setups.
  const across = placesOf(by) === null ? 'lane' : 'setup';
  const what =
    needed.of === 'passes'
      ? `${count} ${needed.count === 1 ? 'pass' : 'passes'} of each`
      : `${count} ${across}${needed.count === 1 ? '' : 's'} ${design === 'ownLanes' ? 'for each' : across === 'lane' ? 'with both' : 'on both'}`;
  return `${what} would show a difference of 20 %.`;
}

/** @example listed(['pan', 'tilt', 'roll']) // "pan, tilt and roll" */
export function listed(names: readonly string[]): string {
  return names.length < 2
    ? names.join('')
    : `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`;
}

/** Whether the spreads were taken for granted, in a line that says so plainly. */
export function spreadsLead({
  betweenPassesFrom,
  betweenLanesFrom,
}: {
  readonly betweenPassesFrom: 'assumed' | 'log';
  readonly betweenLanesFrom: 'assumed' | 'log';
}): string {
  if (betweenPassesFrom === 'log' && betweenLanesFrom === 'log') return 'From the log of runs.';
  if (betweenPassesFrom === 'assumed' && betweenLanesFrom === 'assumed') return 'Assumed, not measured.';
  return betweenPassesFrom === 'log'
    ? 'The spread of passes is from the log of runs; that of lanes is assumed, not measured.'
    : 'The spread of lanes is from the log of runs; that of passes is assumed, not measured.';
}

/** A crop of a take in words; what could not be foretold is said. */
export function cropWords({ medianPercent, upper95Percent }: ComparedPair['crop']['a']): {
  median: string;
  upper: string;
} {
  return {
    median: medianPercent === null ? 'not foretold' : `${percentFigure(medianPercent)} %`,
    upper: upper95Percent === null ? 'no bound' : `${percentUp(upper95Percent)} %`,
  };
}
