/** The verdict and the figures of an answer in words, beside those of the run that it was asked of. */
import type { LiveAnswer } from '../../../judge/index.js';
import {
  glued,
  headline,
  keyFigures,
  shakeLeftFigure,
  type Headline,
  type KeyFigure,
} from '../../../report/in-browser.js';
import { inUnits, type RunDocument } from '../../../run/index.js';

/** What the top of the page says. */
export interface TopWords extends Headline {
  readonly grade: RunDocument['verdict']['grade'];
}

/** A figure as measured, and as asked where that is something else. */
export interface FigurePair {
  readonly measured: KeyFigure;
  readonly asked: KeyFigure | null;
}

/** The verdict of a run. */
export function measuredWords(run: RunDocument): TopWords {
  return { ...told(headline(run), run), grade: run.verdict.grade };
}

/** The verdict of an answer; null where nothing is different from the run, or it cannot be foretold. */
export function askedWords(run: RunDocument, answer: LiveAnswer | null): TopWords | null {
  if (!isOther(answer)) return null;
  return { ...told(headline(foretoldRun(run, answer)), run), grade: answer.grade };
}

/** The key figures in their order; those that the answer does not change stand alone. */
export function figurePairs(run: RunDocument, answer: LiveAnswer | null): FigurePair[] {
  const measured = figuresOf(run);
  const asked = isOther(answer) ? figuresOf(foretoldRun(run, answer)) : measured;
  // A lens or a delivery changes what shake costs, not what was measured of it.
  return measured.map((figure, i) => ({
    measured: figure,
    asked: i < FORETOLD && !same(figure, asked[i]) ? asked[i] : null,
  }));
}

/** Crop and shake left stand first. */
const FORETOLD = 2;

function figuresOf(run: RunDocument): KeyFigure[] {
  const [crop, ...others] = keyFigures(run);
  return [crop, shakeLeftFigure(run), ...others].map((figure) => ({
    ...figure,
    remark: glued(inUnits(figure.remark, run.units)),
  }));
}

function isOther(answer: LiveAnswer | null): answer is LiveAnswer {
  return answer !== null && answer.changed && answer.refused === null;
}

/** The run with the figures of the answer in the places that words are made from. */
function foretoldRun(run: RunDocument, answer: LiveAnswer): RunDocument {
  const { grade, reasons, outcome, delivery, focalLengthMm, speedMps, zoom, cropPx } = answer;
  return {
    ...run,
    delivery,
    rig: {
      ...run.rig,
      ...(focalLengthMm !== null && { focalLengthMm }),
      ...(speedMps !== null && { speedMps }),
    },
    stabilise: {
      ...run.stabilise,
      cropPercent: outcome.cropPercent.value,
      coverable: outcome.coverable,
      zoom,
      cropPx,
      residual: { ...run.stabilise.residual, rmsPx: outcome.residualPx?.value ?? null, parallaxPx: null },
    },
    verdict: { ...run.verdict, grade, reasons },
  };
}

function same(a: KeyFigure, b: KeyFigure): boolean {
  return a.value === b.value && a.remark === b.remark;
}

function told({ word, sentence }: Headline, { units }: RunDocument): Headline {
  return { word, sentence: glued(inUnits(sentence, units)) };
}
