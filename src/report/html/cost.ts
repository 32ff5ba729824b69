/** What stabilising costs: the crop in the words of the set, how to frame for it, the trade-off with smoothing, the other ways, longer takes. */
import { lensToFrameWith } from '../../judge/index.js';
import {
  figure,
  figureBeside,
  limitFigure,
  percentBeside,
  percentFigure,
  type RunDocument,
} from '../../run/index.js';
import { costTexts } from '../../texts/index.js';
import { cropOnSet } from '../crop-on-set.js';
import { smoothingToSet } from '../smoothing-to-set.js';
import type { ReportBundle } from '../types.js';
import { WAY_WORDS, wayInWords } from '../wording.js';
import { html, type Insert, type Markup } from './markup.js';
import { facts, table } from './table.js';
import { takesPart } from './takes.js';
import { smoothingWords, tradeOff } from './trade-off.js';

/** A window off the middle that saves less than this is not worth the trouble. */
const OFF_CENTRE_GAIN_PERCENT = 0.05;

/** The section on cost. */
export function costSection({ run }: Pick<ReportBundle, 'run'>): Markup {
  return html`<section aria-labelledby="cost">
    <h2 id="cost">${costTexts.heading}</h2>
    <p><strong>${cropSentence(run)}</strong> ${smoothingWords(run)}</p>
    <div class="side">
      ${tradeOff(run)}
      <div>
        ${facts(costFacts(run))}
        <details>
          <summary>${costTexts.moreFigures}</summary>
          ${facts(moreFacts(run))}
        </details>
      </div>
    </div>
    ${waysTable(run)} ${takesPart(run)}
  </section>`;
}

/** The crop in per cent, in px that are left, and as the lens that would frame like it. */
export function cropSentence({ stabilise, delivery, rig }: RunDocument): string {
  const { cropPercent, coverable } = stabilise;
  if (!coverable) return costTexts.notCoverable;
  const { leftPx, tighter, focalLengthMm } = cropOnSet(cropPercent, delivery.widthPx, rig.focalLengthMm);
  const costs = costTexts.cropCosts(
    percentBeside(cropPercent, delivery.maxCropPercent),
    limitFigure(delivery.maxCropPercent),
    String(delivery.widthPx),
    String(leftPx),
  );
  const framed =
    focalLengthMm === null || rig.focalLengthMm === undefined
      ? costTexts.framedAsTimes(tighter.toFixed(3))
      : costTexts.framedAs(figure(focalLengthMm), figure(rig.focalLengthMm));
  return `${costs}${framed}.`;
}

/** What a crew needs on the day. */
function costFacts(run: RunDocument): [string, Insert][] {
  const { stabilise, delivery, clip } = run;
  const { recommended, worstFrameS } = stabilise;
  const { pixels, forRepeat } = recommended;
  const entries: [string, Insert][] = [
    [
      costTexts.frameWider,
      forRepeat === null
        ? costTexts.noWiderLens
        : costTexts.frameWiderBy(
            figure(forRepeat.overscanPercent),
            figure(forRepeat.overscanPx),
            String(delivery.widthPx),
            lensToFrameWith(forRepeat),
          ),
    ],
    [
      costTexts.pictureLeft,
      `${costTexts.pixelsLeft(`${pixels.leftWidthPx} x ${pixels.leftHeightPx}`, `${clip.widthPx} x ${clip.heightPx}`)}; ${pixels.holds ? costTexts.pixelsHold : costTexts.scaledUp(figure(pixels.upscale))}`,
    ],
    [costTexts.way, `${wayInWords(stabilise)}${stabilise.rowsCorrected ? costTexts.rowByRow : ''}`],
  ];
  const set = setWords(run);
  if (set !== null) entries.push([costTexts.smoothingToSet, set]);
  if (worstFrameS !== null) entries.push([costTexts.worstFrame, costTexts.atTime(figure(worstFrameS))]);
  return entries;
}

/** Another smoothing than that of the report, and why; null where that one is to be kept. */
function setWords(run: RunDocument): string | null {
  const { stabilise, delivery } = run;
  const set = smoothingToSet(run);
  if (set === null || set.kind === 'keep') return null;
  const { smoothingWhy } = costTexts;
  const used = limitFigure(stabilise.smoothingS ?? 0);
  if (set.kind === 'none') {
    const { smoothingS, cropPercent, residualPx } = set.nearest;
    return costTexts.noSmoothing(
      limitFigure(smoothingS),
      percentBeside(cropPercent, delivery.maxCropPercent),
      residualPx === null ? null : figureBeside(residualPx, delivery.maxResidualPx),
    );
  }
  const why = {
    sure: smoothingWhy.sure(used),
    asGood: stabilise.recommended.why,
    reserve: smoothingWhy.reserve(
      used,
      percentBeside(stabilise.cropPercent + stabilise.recommended.reservePercent, delivery.maxCropPercent),
      limitFigure(delivery.maxCropPercent),
    ),
    notSure: smoothingWhy.notSure(used),
  };
  return costTexts.smoothing(limitFigure(set.smoothingS), why[set.kind]);
}

/** What an engineer looks up. */
function moreFacts({ stabilise, delivery }: RunDocument): [string, Insert][] {
  const { cropPercent, cropPx, offCentre, movingCropPercent, recommended } = stabilise;
  const { thisTake, reservePercent } = recommended;
  const entries: [string, Insert][] = [
    [costTexts.cropPx, costTexts.pxOf(figure(cropPx), String(delivery.widthPx))],
  ];
  if (thisTake !== null)
    entries.push([
      costTexts.thisTakeOnly,
      costTexts.thisTakeBy(figure(thisTake.overscanPercent), figure(reservePercent)),
    ]);
  if (offCentre.coverable)
    entries.push([
      costTexts.offCentre,
      cropPercent - offCentre.cropPercent < OFF_CENTRE_GAIN_PERCENT
        ? costTexts.nothingToGain
        : costTexts.offCentreCosts(
            percentFigure(offCentre.cropPercent),
            offset(offCentre.rightPx, 'right', 'left'),
            offset(offCentre.downPx, 'down', 'up'),
          ),
    ]);
  if (movingCropPercent !== null)
    entries.push([costTexts.moving, costTexts.onAverage(percentFigure(movingCropPercent))]);
  return entries;
}

type Direction = Parameters<typeof costTexts.offset>[1];

function offset(px: number, onward: Direction, back: Direction): string {
  return costTexts.offset(figure(Math.abs(px)), px < 0 ? back : onward);
}

/** The three ways side by side. */
function waysTable({ stabilise, delivery }: RunDocument): Markup {
  const { way, crop, left, remark } = costTexts.waysHead;
  return table({
    caption: costTexts.waysCaption(limitFigure(delivery.maxCropPercent), limitFigure(delivery.maxResidualPx)),
    head: [way, crop, left, remark],
    rows: stabilise.modes.map((one): Insert[] => [
      `${WAY_WORDS[one.mode]}${one.mode === stabilise.mode ? costTexts.wayOfReport : ''}`,
      one.coverable ? `${percentFigure(one.cropPercent)} %` : costTexts.notPossible,
      one.residualPx === null || !one.coverable ? '–' : `${figure(one.residualPx)} px`,
      one.coverable ? (one.remark ?? '') : costTexts.overHalf,
    ]),
    numeric: [1, 2],
    wideOnly: [3],
  });
}
