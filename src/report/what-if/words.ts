/** The figures of an answer as they are printed: the pass as measured beside the pass as asked for, and the rows of the tables. */
import {
  figure,
  limitFigure,
  percentFigure,
  percentUp,
  type WhatIfDocument,
  type WhatIfRow,
  type WhatIfState,
} from '../../run/index.js';
import { whatIfAskedTexts, whatIfTexts } from '../../texts/index.js';
import { gradeWord } from '../charts/index.js';
import { lensMm } from '../format.js';
import type { Case, Cases } from '../html/case-table.js';
import { headline, WAY_WORDS, type Headline } from '../wording.js';
import { NOTHING, cropWords, inLine, leftWords, rangeWords } from './figure-words.js';

/** Where more than this share of the picture is lost, nobody delivers the shot. */
const NOT_USABLE_PERCENT = 50;

/** A row of figures: its name, and a text for each column. */
export type Compared = readonly [name: string, ...texts: string[]];

/** The one line that stands first: the verdict on what was asked, else on the pass as it is. */
export function firstLine({ measured, then, refused }: WhatIfDocument): Headline & { grade: VerdictGrade } {
  if (refused !== null)
    return {
      grade: 'unmeasurable',
      word: whatIfTexts.notForetold,
      sentence: refused,
    };
  const { verdict, delivery, focalLengthMm, speedMps } = then ?? measured;
  const rig = { ...(focalLengthMm !== null && { focalLengthMm }), ...(speedMps !== null && { speedMps }) };
  return { grade: verdict.grade, ...headline({ verdict, rig, delivery }) };
}

type VerdictGrade = WhatIfState['verdict']['grade'];

/** What was asked, one sentence for each change. */
export function askedInWords({ asked }: WhatIfDocument): string[] {
  return asked.map(({ what, from, to }) =>
    from === to ? whatIfTexts.asItWas(what, to) : whatIfTexts.insteadOf(what, to, from),
  );
}

/** The two states beside each other; one column where nothing was asked or nothing can be foretold. */
export function comparedRows({ measured, then, asked }: WhatIfDocument): {
  head: string[];
  rows: Compared[];
} {
  const states = then === null ? [measured] : [measured, then];
  const row = (name: string, words: (state: WhatIfState) => string): Compared => [name, ...states.map(words)];
  const take = states.every((state) => state.take === null) ? [] : [row(takeName(states), takeWords)];
  const names = whatIfTexts.rows;
  // Blur is no figure of the verdict: it is told when the shutter is the question.
  const blur = asked.some(({ what }) => what === whatIfAskedTexts.names.shutter)
    ? [row(names.blur, blurWords)]
    : [];
  return {
    head: then === null ? [whatIfTexts.measuredHead] : [whatIfTexts.measuredHead, whatIfTexts.thenHead],
    rows: [
      row(names.grade, ({ verdict }) => gradeWord(verdict.grade)),
      row(names.crop, (state) =>
        inLine(cropWords(state.cropPercent, state.coverable, state.delivery.maxCropPercent)),
      ),
      row(names.cropPx, ({ cropPx, delivery, coverable }) =>
        coverable ? whatIfTexts.pxOf(figure(cropPx), delivery.widthPx) : '–',
      ),
      row(names.zoom, ({ zoom, coverable }) => (coverable ? zoom.toFixed(3) : '–')),
      row(names.left, (state) =>
        inLine(leftWords(state.residualPx, state.delivery.maxResidualPx, state.residualAtMost)),
      ),
      ...blur,
      row(names.longestLens, longestWords),
      row(names.framing, framingWords),
      ...take,
      row(names.way, ({ mode, smoothingS }) =>
        smoothingS === null ? WAY_WORDS[mode] : whatIfTexts.wayFor(WAY_WORDS[mode], limitFigure(smoothingS)),
      ),
      row(names.limits, ({ delivery }) => limitsOf(delivery)),
    ],
  };
}

function limitsOf({ maxCropPercent, maxResidualPx }: WhatIfState['delivery']): string {
  return whatIfTexts.limits(limitFigure(maxCropPercent), limitFigure(maxResidualPx));
}

/** All tables, in reading order; without those that have nothing to say. */
export function caseTables({ tables, measured, then }: WhatIfDocument): Cases[] {
  const { delivery } = then ?? measured;
  const rows = <Row extends WhatIfRow>(
    of: readonly Row[],
    name: (row: Row) => string,
    to: (row: Row) => WhatIfState['delivery'] = () => delivery,
  ): Case[] => of.map((row) => caseOf(row, { name: name(row), note: noteOn(row, then === null) }, to(row)));
  const all: Cases[] = [
    {
      title: whatIfTexts.titles.focal,
      head: whatIfTexts.heads.focal,
      cases: rows(tables.focal, ({ focalLengthMm, factor }) =>
        focalLengthMm === null ? whatIfTexts.lensTimes(figure(factor)) : lensMm(focalLengthMm),
      ),
      refused: null,
      below: null,
    },
    {
      title: whatIfTexts.titles.speed,
      head: whatIfTexts.heads.speed,
      cases: rows(tables.speed, ({ speedMps }) => whatIfTexts.speed(figure(speedMps))),
      refused: tables.speedRefused,
      below: null,
    },
    {
      title: whatIfTexts.titles.deliveries,
      head: whatIfTexts.heads.deliveries,
      cases: rows(
        tables.deliveries,
        (row) => deliveryName(row.delivery),
        (row) => row.delivery,
      ),
      refused: null,
      below: tables.deliveriesNote,
    },
    {
      title: whatIfTexts.titles.smoothing,
      head: whatIfTexts.heads.smoothing,
      cases: rows(tables.smoothing, ({ smoothingS }) => whatIfTexts.seconds(limitFigure(smoothingS))),
      refused: null,
      below: null,
    },
    {
      title: whatIfTexts.titles.wheelbase,
      head: whatIfTexts.heads.wheelbase,
      cases: rows(tables.wheelbase, ({ wheelbaseM }) => whatIfTexts.millimetres(figure(1000 * wheelbaseM))),
      refused: tables.wheelbaseRefused,
      below: null,
    },
  ];
  return all.filter(({ cases, refused }) => cases.length > 0 || refused !== null);
}

/** Where more was asked than this table varies, not even the case of the pass is as it was measured. */
function noteOn({ measured, asked }: WhatIfRow, nothingAsked: boolean): string {
  if (measured) return nothingAsked ? whatIfTexts.asMeasured : whatIfTexts.asInPass;
  return asked ? whatIfTexts.asked : '';
}

function caseOf(
  { outcome, refused }: WhatIfRow,
  { name, note }: Pick<Case, 'name' | 'note'>,
  delivery: WhatIfState['delivery'],
): Case {
  if (outcome === null)
    return { name, note, crop: NOTHING, left: NOTHING, grade: null, refused: refused ?? '' };
  const { cropPercent, residualPx, coverable, grade } = outcome;
  return {
    name,
    note,
    crop: cropWords(cropPercent, coverable, delivery.maxCropPercent),
    left: leftWords(residualPx, delivery.maxResidualPx, false),
    grade,
    refused: null,
  };
}

function deliveryName(delivery: WhatIfState['delivery']): string {
  const { name, widthPx, heightPx } = delivery;
  return whatIfTexts.delivery(name, widthPx, heightPx, limitsOf(delivery));
}

/** Where even the longest lens that was looked at keeps the limits, there is none to tell. */
function longestWords({ longestLens }: WhatIfState): string {
  if (longestLens === null) return whatIfTexts.noLensKeeps;
  const { focalLengthMm, factor, limitedBy } = longestLens;
  const longest = focalLengthMm === null ? whatIfTexts.timesUsed(figure(factor)) : lensMm(focalLengthMm);
  return limitedBy === null ? whatIfTexts.noLimitUpTo(longest) : longest;
}

function blurWords({ blurPx }: WhatIfState): string {
  if (blurPx === null) return whatIfTexts.notKnown;
  const { value, low, high } = blurPx;
  return inLine({ text: whatIfTexts.blurPx(figure(value)), range: rangeWords(low, high, figure) });
}

function framingWords({ framing }: WhatIfState): string {
  return framing === null
    ? whatIfTexts.noLensWideEnough
    : whatIfTexts.framing(figure(framing.overscanPercent), figure(framing.overscanPx));
}

/** @example takeName(states) // "Take of 60 s, then 90 s" */
function takeName(states: readonly WhatIfState[]): string {
  const lengths = new Set(
    states.flatMap(({ take }) => (take === null ? [] : [whatIfTexts.seconds(figure(take.takeS))])),
  );
  return whatIfTexts.takeOf([...lengths]);
}

/** Takes are foretold for the way that keeps the move alone. */
function takeWords(state: WhatIfState): string {
  const words = takeFigures(state);
  return state.take === null || state.mode === 'keepMove' ? words : whatIfTexts.whereMoveIsKept(words);
}

function takeFigures({ take }: WhatIfState): string {
  if (take === null) return '–';
  const { medianPercent, upper95Percent, atLeast } = take;
  if (medianPercent !== null && medianPercent > NOT_USABLE_PERCENT) return whatIfTexts.notUsable;
  const typical =
    medianPercent === null ? whatIfTexts.notKnown : whatIfTexts.takeAbout(percentFigure(medianPercent));
  if (upper95Percent === null) return whatIfTexts.takeNoBound(typical);
  if (upper95Percent > NOT_USABLE_PERCENT) return whatIfTexts.takeOverHalf(typical);
  const bound = atLeast ? whatIfTexts.takeAtLeast : whatIfTexts.takeBelow;
  return bound(typical, percentUp(upper95Percent));
}
