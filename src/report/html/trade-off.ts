/** Crop and shake left against smoothing, for the way that keeps the move: which smoothing keeps the limits, in a sentence and a chart. */
import { figure, limitFigure, percentFigure, type RunDocument } from '../../run/index.js';
import { costTexts } from '../../texts/index.js';
import { surelyWithin, withinLimits, type CropCurveData, type SmoothingStretch } from '../charts/index.js';
import { rangesAlong } from '../smoothing-to-set.js';
import { liveFigure } from './live-figure.js';
import { html, type Insert, type Markup } from './markup.js';
import { behind } from './table.js';

/** Which smoothing keeps this take within the limits, or what stands in the way; empty where there is no curve. */
export function smoothingWords(run: RunDocument): string {
  const { stabilise, delivery } = run;
  const { curve, smoothingS } = stabilise;
  if (curve.length < 2) return '';
  const kept = withinLimits(curve, delivery);
  if (kept.length === 0) {
    if (curve.every(({ cropPercent }) => cropPercent > delivery.maxCropPercent))
      return costTexts.noneFits.crop;
    const stays = curve.every(({ residualPx }) => residualPx === null || residualPx > delivery.maxResidualPx);
    return stays ? costTexts.noneFits.left : costTexts.noneFits.both;
  }
  const [[from, to]] = kept;
  const whole =
    kept.length === 1 && from === curve[0].smoothingS && to === curve[curve.length - 1].smoothingS;
  const which = whole
    ? costTexts.allFit(figure(from), figure(to))
    : costTexts.someFit(kept.map(([a, b]) => costTexts.stretch(figure(a), figure(b))));
  const known = curve.some(({ residualPx }) => residualPx !== null);
  const limits = known ? costTexts.bothLimits : costTexts.cropLimitAlone;
  const sure = surelyWithin(curve, delivery, rangesAlong(run));
  const counted =
    sure.length === 0
      ? costTexts.noneSure
      : alike(sure, kept)
        ? costTexts.alsoSure
        : costTexts.sureOnly(sure.map(([a, b]) => costTexts.stretch(figure(a), figure(b))));
  const end = smoothingS === null ? costTexts.sentenceEnd : costTexts.chosenHere(limitFigure(smoothingS));
  return `${which} ${limits}${counted}${end}`;
}

function alike(a: readonly SmoothingStretch[], b: readonly SmoothingStretch[]): boolean {
  return a.length === b.length && a.every(([from, to], i) => from === b[i][0] && to === b[i][1]);
}

/** The chart with its figures; null where there is no curve. */
export function tradeOff(run: RunDocument): Markup | null {
  const { curve, smoothingS } = run.stabilise;
  if (curve.length === 0) return null;
  return liveFigure({
    kind: 'cropCurve',
    data: chartData(run),
    caption: html`<b>${costTexts.tradeOffTitle}</b> ${costTexts.tradeOffOver}`,
    widthPx: 460,
    phoneWidthPx: 360,
    after: html`<p class="legend">
        ${smoothingS === null ? '' : costTexts.tradeOffDiamond} ${costTexts.tradeOffLegend}
        ${costTexts.tradeOffBands}
      </p>
      ${behind({
        caption: costTexts.tradeOffFigures,
        head: [costTexts.smoothingHead, costTexts.cropHead, costTexts.leftHead],
        rows: curve.map((point): Insert[] => [
          limitFigure(point.smoothingS),
          figure(point.cropPercent),
          point.residualPx === null ? '–' : figure(point.residualPx),
        ]),
        numeric: [1, 2],
      })}`,
  });
}

function chartData(run: RunDocument): CropCurveData {
  const { stabilise, delivery } = run;
  const { smoothingS, cropPercent, residual, curve } = stabilise;
  const chosen = smoothingS === null ? null : { smoothingS, cropPercent, residualPx: residual.rmsPx };
  return {
    label: costTexts
      .tradeOffLabel(
        chosen === null
          ? ''
          : costTexts.chosenLabel(limitFigure(chosen.smoothingS), percentFigure(cropPercent)),
      )
      .trim(),
    points: curve,
    maxCropPercent: delivery.maxCropPercent,
    maxResidualPx: delivery.maxResidualPx,
    chosen,
    ...rangesAlong(run),
  };
}
