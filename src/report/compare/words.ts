/** The words of a comparison: what a ratio says, its figures with their range, and what would decide. */
import { figure, type Axis, type ComparedPair, type ComparedRatio } from '../../run/index.js';
import type { RatioMark } from '../charts/index.js';
import { laneName, rangeWords, ratioFigure } from '../../judge/index.js';
import { withUnit } from '../format.js';

type AxisRatio = ComparedPair['axes'][number];

/** From this chance on an unclear result is said to lean; below it both sides are about as likely. */
const LEANING = 0.8;
/** Holm's limit for the sentence of a band. */
const SIGNIFICANT = 0.05;

/** The name of an axis as it stands in a table. @example axisName('tilt') // "Tilt" */
export function axisName(axis: Axis): string {
  return axis.charAt(0).toUpperCase() + axis.slice(1);
}

/**
 * What a ratio says, in a few words. Where nothing is clear but one side is likely, it leans.
 * @example saysWords(ratio, pair) // "no clear difference, leaning to soft wheels (89 in 100)"
 */
export function saysWords(
  { says, aSmoother }: ComparedRatio,
  { a, b }: Pick<ComparedPair, 'a' | 'b'>,
): string {
  switch (says) {
    case 'aSmoother':
      return `${a} smoother`;
    case 'bSmoother':
      return `${b} smoother`;
    case 'sameWithin10':
      return 'the same within 10 %';
    case 'notCompared':
      return 'not compared';
    case 'noClearDifference':
      return `no clear difference${leaning(aSmoother, a, b)}`;
  }
}

function leaning(aSmoother: number | null, a: string, b: string): string {
  if (aSmoother === null) return '';
  const chance = Math.max(aSmoother, 1 - aSmoother);
  // Below 97.5 in 100 nothing is clear: the printed chance may not reach what it does not claim.
  return chance < LEANING
    ? ''
    : `, leaning to ${aSmoother > 0.5 ? a : b} (${Math.min(97, Math.round(100 * chance))} in 100)`;
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

/** How the passes were laid out, and how far the result reaches. */
export function designWords({ design, lanes, passes, claim, a, b }: ComparedPair): string {
  const count = `${passesOf(passes.a)} of ${a}, ${passesOf(passes.b)} of ${b}`;
  if (claim === 'theseStretches') return `${count}. ${REACH[claim]}`;
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

/** What it would take to see a difference of 20 %, axes with the same answer in one line; empty when every axis is clear. */
export function decideLines({ axes, design }: ComparedPair): string[] {
  const open = axes.filter(({ says }) => says === 'noClearDifference');
  const answers = new Map<string, AxisRatio[]>();
  for (const ratio of open) {
    const answer = neededWords(ratio, design);
    answers.set(answer, [...(answers.get(answer) ?? []), ratio]);
  }
  const lines = [...answers].map(
    ([answer, ratios]) =>
      `${listed(ratios.map(({ axis }) => axis)).replace(/^./, (c) => c.toUpperCase())}: ${answer}`,
  );
  return design === 'ownLanes' ? [...lines, 'Sooner: run both on one lane, in the order A B B A.'] : lines;
}

function neededWords({ needed }: AxisRatio, design: ComparedPair['design']): string {
  if (needed === null) return 'more passes of this kind would not decide it.';
  const count = String(needed.count);
  const what =
    needed.of === 'passes'
      ? `${count} ${needed.count === 1 ? 'pass' : 'passes'} of each`
      : `${count} ${needed.count === 1 ? 'lane' : 'lanes'} ${design === 'ownLanes' ? 'for each' : 'with both'}`;
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
    median: medianPercent === null ? 'not foretold' : `${figure(medianPercent)} %`,
    upper: upper95Percent === null ? 'no bound' : `${figure(upper95Percent)} %`,
  };
}
