/** The cases that every run foretells: the same shake on other lenses (mm) and the same stretch at other speeds (m/s), with their grades. */
import { outcomeOfFigures } from '../../judge/index.js';
import {
  figure,
  figureBeside,
  percentBeside,
  type PredictedOutcome,
  type Ranged,
  type RunDocument,
  type StabiliseSection,
} from '../../run/index.js';
import { whatIfTexts } from '../../texts/index.js';
import type { WhatIfPoint } from '../charts/index.js';
import { lensMm } from '../format.js';
import type { Case, Figure } from '../html/case-table.js';
import { NOTHING, cropWords, leftWords, rangeBeside } from './figure-words.js';

type FocalRow = StabiliseSection['whatIf']['focal'][number];
type SpeedRow = StabiliseSection['whatIf']['speed'][number];
type Judged = Pick<RunDocument, 'motion' | 'stabilise' | 'delivery'>;

/** A lens with what it would come to. */
interface Lens {
  readonly row: FocalRow;
  readonly outcome: PredictedOutcome;
}

/** The lenses of the run, in order of growing focal length. */
export function lensesOf({ motion, stabilise, delivery }: Judged): Lens[] {
  return stabilise.whatIf.focal.map((row) => ({
    row,
    outcome: outcomeOfFigures(motion, stabilise, delivery, row, row.factor),
  }));
}

/** The lenses as rows of a table. */
export function lensCases(run: Judged): Case[] {
  return lensesOf(run).map(({ row, outcome }) => ({
    name: row.focalLengthMm === null ? whatIfTexts.lensTimes(figure(row.factor)) : lensMm(row.focalLengthMm),
    note: row.used ? whatIfTexts.used : '',
    crop: cropWords(outcome.cropPercent, outcome.coverable, run.delivery.maxCropPercent),
    left: leftWords(outcome.residualPx, run.delivery.maxResidualPx, run.stabilise.residual.atMost),
    grade: outcome.grade,
    refused: null,
  }));
}

/** The lenses as points of a chart over the focal length in mm, or over that of the lens used where it is not known. */
export function lensPoints(run: Judged): WhatIfPoint[] {
  const lenses = lensesOf(run);
  const inMm = lenses.every(({ row }) => row.focalLengthMm !== null);
  return lenses.flatMap(({ row, outcome: { cropPercent, coverable, grade } }): WhatIfPoint[] =>
    coverable
      ? [
          {
            x: inMm ? (row.focalLengthMm ?? row.factor) : row.factor,
            name:
              row.focalLengthMm === null
                ? whatIfTexts.lensTimesUsed(figure(row.factor))
                : whatIfTexts.aLens(figure(row.focalLengthMm)),
            percent: cropPercent.value,
            low: cropPercent.low,
            high: cropPercent.high,
            grade,
          },
        ]
      : [],
  );
}

/** The speeds as rows of a table; the grade is that of both extremes together: all from the floor, all from the machine. */
export function speedCases(run: Judged): Case[] {
  return run.stabilise.whatIf.speed.map((row): Case => {
    const note = row.factor === 1 ? whatIfTexts.used : '';
    const empty: Case = {
      name: speedName(row),
      note,
      crop: NOTHING,
      left: NOTHING,
      grade: null,
      refused: null,
    };
    if (row.refused !== null) return { ...empty, refused: whatIfTexts.speedRefused[row.refused] };
    if (row.allFloor === null || row.allMachine === null) return empty;
    return { ...empty, ...bothExtremes(run, [row.allFloor, row.allMachine]) };
  });
}

/** The name of a speed: as such where it is known, else as a factor of that of the pass. */
export function speedName({ speedMps, factor }: SpeedRow): string {
  return speedMps === null ? whatIfTexts.speedTimes(figure(factor)) : whatIfTexts.speed(figure(speedMps));
}

type Extreme = NonNullable<SpeedRow['allFloor']>;

function bothExtremes(
  { motion, stabilise, delivery }: Judged,
  extremes: readonly Extreme[],
): Pick<Case, 'crop' | 'left' | 'grade'> {
  const { maxCropPercent, maxResidualPx } = delivery;
  const outcomes = extremes.map((extreme) => outcomeOfFigures(motion, stabilise, delivery, extreme));
  const grades = outcomes.map(({ grade }) => grade);
  // Each side of the limit is possible: which of the extremes it is, one pass cannot tell.
  const grade = grades.every((one) => one === grades[0]) ? grades[0] : 'marginal';
  const crop: Figure = outcomes.some(({ coverable }) => !coverable)
    ? { text: whatIfTexts.overHalf, range: '' }
    : spread(
        outcomes.map(({ cropPercent }) => cropPercent),
        maxCropPercent,
        percentBeside,
        whatIfTexts.percent,
      );
  const left = outcomes.flatMap(({ residualPx }) => (residualPx === null ? [] : [residualPx]));
  return {
    crop,
    left:
      left.length < outcomes.length
        ? leftWords(null, maxResidualPx, false)
        : spread(left, maxResidualPx, figureBeside, (words) =>
            whatIfTexts.leftPx(words, stabilise.residual.atMost),
          ),
    grade,
  };
}

/** Both values, and under them the range that takes in what is open of each. */
function spread(
  figures: readonly Ranged[],
  limit: number,
  print: (value: number, limit: number) => string,
  withUnit: (words: string) => string,
): Figure {
  const values = figures.map(({ value }) => value);
  const [least, most] = [print(Math.min(...values), limit), print(Math.max(...values), limit)];
  return {
    text: withUnit(least === most ? least : whatIfTexts.range(least, most)),
    range: rangeBeside(
      Math.min(...figures.map(({ low }) => low)),
      Math.max(...figures.map(({ high }) => high)),
      limit,
      print,
    ),
  };
}
