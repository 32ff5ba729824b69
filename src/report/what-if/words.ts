/** The figures of an answer as they are printed: the pass as measured beside the pass as asked for, and the rows of the tables. */
import {
  figure,
  figureBeside,
  limitFigure,
  percentBeside,
  percentFigure,
  percentUp,
  type Ranged,
  type WhatIfDocument,
  type WhatIfRow,
  type WhatIfState,
} from '../../run/index.js';
import { gradeWord, type PointGrade } from '../charts/index.js';
import { headline, WAY_WORDS, type Headline } from '../wording.js';

/** Where more than this share of the picture is lost, nobody delivers the shot. */
const NOT_USABLE_PERCENT = 50;

/** A row of figures: its name, and a text for each column. */
export type Compared = readonly [name: string, ...texts: string[]];

/** What the ranges take in, for whoever reads them. */
export const RANGES_HOLD =
  'Ranges hold what the prediction leaves open, the measuring error and, for crops, a repeat of the move.';

/** A figure with the range that decides. */
export interface Figure {
  readonly text: string;
  /** "1.1 to 1.5"; empty where both ends read the same. */
  readonly range: string;
}

/** The figure in one line. @example inLine({ text: '1.3 %', range: '1.1 to 1.5' }) // "1.3 % (1.1 to 1.5)" */
export function inLine({ text, range }: Figure): string {
  return range === '' ? text : `${text} (${range})`;
}

const NOTHING: Figure = { text: '–', range: '' };

/** A row of a table; a refusal stands in the place of the figures. */
export interface Case {
  readonly name: string;
  /** Whether it is the case of the pass, or the one that was asked for; else nothing. */
  readonly note: string;
  readonly crop: Figure;
  readonly left: Figure;
  readonly grade: PointGrade | null;
  readonly refused: string | null;
}

/** One of the tables. */
export interface Cases {
  readonly title: string;
  readonly head: string;
  readonly cases: readonly Case[];
  /** In the place of the table. */
  readonly refused: string | null;
  /** A sentence below the table; null where there is nothing to say. */
  readonly below: string | null;
}

/** The one line that stands first: the verdict on what was asked, else on the pass as it is. */
export function firstLine({ measured, then, refused }: WhatIfDocument): Headline & { grade: VerdictGrade } {
  if (refused !== null)
    return {
      grade: 'unmeasurable',
      word: 'Not foretold',
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
    from === to ? `${what} ${to}, as it was` : `${what} ${to} instead of ${from}`,
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
  // Blur is no figure of the verdict: it is told when the shutter is the question.
  const blur = asked.some(({ what }) => what === 'Shutter') ? [row('Blur that pulses', blurWords)] : [];
  return {
    head: then === null ? ['As measured'] : ['As measured', 'Then'],
    rows: [
      row('Grade', ({ verdict }) => gradeWord(verdict.grade)),
      row('Crop', (state) =>
        inLine(cropWords(state.cropPercent, state.coverable, state.delivery.maxCropPercent)),
      ),
      row('Crop, px', ({ cropPx, delivery, coverable }) =>
        coverable ? `${figure(cropPx)} of ${delivery.widthPx}` : '–',
      ),
      row('Zoom', ({ zoom, coverable }) => (coverable ? zoom.toFixed(3) : '–')),
      row('Shake left, RMS', (state) =>
        inLine(leftWords(state.residualPx, state.delivery.maxResidualPx, state.residualAtMost)),
      ),
      ...blur,
      row('Longest lens', longestWords),
      row('Frame wider by', framingWords),
      ...take,
      row('Way', ({ mode, smoothingS }) =>
        smoothingS === null ? WAY_WORDS[mode] : `${WAY_WORDS[mode]}, ${limitFigure(smoothingS)} s`,
      ),
      row(
        'Limits',
        ({ delivery }) =>
          `${limitFigure(delivery.maxCropPercent)} %, ${limitFigure(delivery.maxResidualPx)} px`,
      ),
    ],
  };
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
      title: 'Other lenses',
      head: 'Lens',
      cases: rows(tables.focal, ({ focalLengthMm, factor }) =>
        focalLengthMm === null ? `${figure(factor)} x` : `${limitFigure(focalLengthMm)} mm`,
      ),
      refused: null,
      below: null,
    },
    {
      title: 'Other speeds',
      head: 'Speed',
      cases: rows(tables.speed, ({ speedMps }) => `${figure(speedMps)} m/s`),
      refused: tables.speedRefused,
      below: null,
    },
    {
      title: 'Other deliveries',
      head: 'Delivery',
      cases: rows(
        tables.deliveries,
        (row) => deliveryName(row.delivery),
        (row) => row.delivery,
      ),
      refused: null,
      below: tables.deliveriesNote,
    },
    {
      title: 'Other smoothings',
      head: 'Smoothing',
      cases: rows(tables.smoothing, ({ smoothingS }) => `${limitFigure(smoothingS)} s`),
      refused: null,
      below: null,
    },
    {
      title: 'Other wheelbases',
      head: 'Wheelbase',
      cases: rows(tables.wheelbase, ({ wheelbaseM }) => `${figure(1000 * wheelbaseM)} mm`),
      refused: tables.wheelbaseRefused,
      below: null,
    },
  ];
  return all.filter(({ cases, refused }) => cases.length > 0 || refused !== null);
}

/** Where more was asked than this table varies, not even the case of the pass is as it was measured. */
function noteOn({ measured, asked }: WhatIfRow, nothingAsked: boolean): string {
  if (measured) return nothingAsked ? 'as measured' : 'as in the pass';
  return asked ? 'asked' : '';
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

function deliveryName({
  name,
  widthPx,
  heightPx,
  maxCropPercent,
  maxResidualPx,
}: WhatIfState['delivery']): string {
  const limits = `${limitFigure(maxCropPercent)} %, ${limitFigure(maxResidualPx)} px`;
  return `${name === null ? '' : `${name}, `}${widthPx} x ${heightPx} (${limits})`;
}

function cropWords({ value, low, high }: Ranged, coverable: boolean, limit: number): Figure {
  if (!coverable) return { text: 'more than half', range: '' };
  return {
    text: `${percentBeside(value, limit)} %`,
    range: rangeWords(low, high, (end) => percentBeside(end, limit)),
  };
}

function leftWords(left: Ranged | null, limit: number, atMost: boolean): Figure {
  if (left === null) return { text: 'not known', range: '' };
  return {
    text: `${atMost ? 'at most ' : ''}${figureBeside(left.value, limit)} px`,
    range: rangeWords(left.low, left.high, (end) => figureBeside(end, limit)),
  };
}

/** "3.9 to 4.8"; nothing where both ends read the same. */
function rangeWords(low: number, high: number, words: (end: number) => string): string {
  const [from, to] = [words(low), words(high)];
  return from === to ? '' : `${from} to ${to}`;
}

/** Where even the longest lens that was looked at keeps the limits, there is none to tell. */
function longestWords({ longestLens }: WhatIfState): string {
  if (longestLens === null) return 'none';
  const { focalLengthMm, factor, limitedBy } = longestLens;
  const longest = focalLengthMm === null ? `${figure(factor)} x the one used` : `${figure(focalLengthMm)} mm`;
  return limitedBy === null ? `no limit up to ${longest}` : longest;
}

function blurWords({ blurPx }: WhatIfState): string {
  if (blurPx === null) return 'not known';
  const { value, low, high } = blurPx;
  return inLine({ text: `${figure(value)} px`, range: rangeWords(low, high, figure) });
}

function framingWords({ framing }: WhatIfState): string {
  return framing === null
    ? 'no lens is wide enough'
    : `${figure(framing.overscanPercent)} %, ${figure(framing.overscanPx)} px`;
}

/** @example takeName(states) // "Take of 60 s, then 90 s" */
function takeName(states: readonly WhatIfState[]): string {
  const lengths = new Set(states.flatMap(({ take }) => (take === null ? [] : [`${figure(take.takeS)} s`])));
  return `Take of ${[...lengths].join(', then ')}`;
}

/** Takes are foretold for the way that keeps the move alone. */
function takeWords(state: WhatIfState): string {
  const words = takeFigures(state);
  return state.take === null || state.mode === 'keepMove' ? words : `${words}, where the move is kept`;
}

function takeFigures({ take }: WhatIfState): string {
  if (take === null) return '–';
  const { medianPercent, upper95Percent, atLeast } = take;
  if (medianPercent !== null && medianPercent > NOT_USABLE_PERCENT) return 'not usable';
  const typical = medianPercent === null ? 'not known' : `about ${percentFigure(medianPercent)} %`;
  if (upper95Percent === null) return `${typical}, no bound`;
  if (upper95Percent > NOT_USABLE_PERCENT) return `${typical}, may need over half`;
  return `${typical}, ${atLeast ? 'allow at least' : '19 in 20 below'} ${percentUp(upper95Percent)} %`;
}
