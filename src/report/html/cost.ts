/** What stabilising costs: crop, pixels left, how to frame, the trade-off with smoothing, the other ways to stabilise. */
import { lensToFrameWith } from '../../judge/index.js';
import { figure, limitFigure, percentBeside, percentFigure, type RunDocument } from '../../run/index.js';
import { tighterFocalLengthMm } from '../../stabilise/index.js';
import { cropCurveChart } from '../charts/index.js';
import type { ReportBundle } from '../types.js';
import { WAY_WORDS, wayInWords } from '../wording.js';
import { html, trusted, type Insert, type Markup } from './markup.js';
import { behind, facts, table } from './table.js';
import { takesPart } from './takes.js';
import { whatIfPart } from './what-if.js';

/** A window off the middle that saves less than this is not worth the trouble. */
const OFF_CENTRE_GAIN_PERCENT = 0.05;

/** The section on cost. */
export function costSection({ run }: ReportBundle): Markup {
  return html`<section aria-labelledby="cost">
    <h2 id="cost">What stabilising costs</h2>
    <div class="side">
      ${tradeOff(run)}
      <div>${facts(costFacts(run))}</div>
    </div>
    ${waysTable(run)} ${takesPart(run)} ${whatIfPart(run)}
  </section>`;
}

/** Crop and shake left against smoothing; for the way that keeps the move. */
function tradeOff({ stabilise, delivery }: RunDocument): Markup | null {
  const { smoothingS, cropPercent, residual, curve } = stabilise;
  if (curve.length === 0) return null;
  const chosen = smoothingS === null ? null : { smoothingS, cropPercent, residualPx: residual.rmsPx };
  return html`<figure class="chart-box">
    <figcaption><b>Crop and shake left</b> against smoothing, keeping the move</figcaption>
    ${trusted(
      cropCurveChart({
        label:
          chosen === null
            ? 'Trade-off of crop and shake left against smoothing'
            : `Trade-off: at ${limitFigure(chosen.smoothingS)} s of smoothing the crop is ${figure(cropPercent)} % of the width`,
        points: curve,
        maxCropPercent: delivery.maxCropPercent,
        maxResidualPx: delivery.maxResidualPx,
        chosen,
      }),
    )}
    <p class="legend">
      ${chosen === null ? '' : 'Diamond: the setting of this report. '}Dashed: the limits of the delivery.
      Less smoothing follows more of the shake: it costs less and leaves more.
    </p>
    ${behind({
      caption: 'crop and shake left by smoothing',
      head: ['Smoothing, s', 'Crop, %', 'Shake left, px RMS'],
      rows: curve.map((p): Insert[] => [
        limitFigure(p.smoothingS),
        figure(p.cropPercent),
        p.residualPx === null ? '–' : figure(p.residualPx),
      ]),
      numeric: [1, 2],
    })}
  </figure>`;
}

function costFacts(run: RunDocument): [string, Insert][] {
  const { stabilise, delivery, clip, rig } = run;
  const { cropPercent, cropPx, zoom, recommended, offCentre } = stabilise;
  const { pixels } = recommended;
  const entries: [string, Insert][] = [
    [
      'What is done',
      `${wayInWords(stabilise)}${stabilise.rowsCorrected ? '; frames are turned row by row' : ''}`,
    ],
    [
      'Crop',
      `${percentBeside(cropPercent, delivery.maxCropPercent)} % of the frame width, ${figure(cropPx)} px of ${delivery.widthPx} (limit ${limitFigure(delivery.maxCropPercent)} %)`,
    ],
    [
      'Picture left',
      `${pixels.leftWidthPx} x ${pixels.leftHeightPx} px of ${clip.widthPx} x ${clip.heightPx}; ${pixels.holds ? 'enough for the delivery' : `scaled up ${figure(pixels.upscale)} times for the delivery`}`,
    ],
    ['Frame wider by', frameWider(stabilise)],
  ];
  if (rig.focalLengthMm !== undefined)
    entries.push([
      'Framed as by',
      `a ${figure(tighterFocalLengthMm(rig.focalLengthMm, zoom))} mm lens in place of ${figure(rig.focalLengthMm)} mm`,
    ]);
  entries.push(['Longest lens within the limits', longestLens(run)]);
  if (offCentre.coverable)
    entries.push([
      'With a window off the middle',
      cropPercent - offCentre.cropPercent < OFF_CENTRE_GAIN_PERCENT
        ? 'nothing to gain'
        : `${percentFigure(offCentre.cropPercent)} %: ${offset(offCentre.rightPx, 'right', 'left')}, ${offset(offCentre.downPx, 'down', 'up')}`,
    ]);
  if (stabilise.movingCropPercent !== null)
    entries.push(['With a moving crop', `${percentFigure(stabilise.movingCropPercent)} % on average`]);
  if (stabilise.worstFrameS !== null) entries.push(['Worst frame', `at ${figure(stabilise.worstFrameS)} s`]);
  if (stabilise.smoothingS !== null && recommended.smoothingS !== stabilise.smoothingS)
    entries.push([
      'Smoothing to set',
      `${recommended.smoothingS === null ? '–' : `${limitFigure(recommended.smoothingS)} s`}. ${recommended.why}`,
    ]);
  return entries;
}

function offset(px: number, onward: string, back: string): string {
  return `${figure(Math.abs(px))} px ${px < 0 ? back : onward}`;
}

function frameWider({ recommended }: RunDocument['stabilise']): string {
  const { thisTake, forRepeat, reservePercent } = recommended;
  if (forRepeat === null || thisTake === null)
    return 'no wider lens helps: more than half of the picture would have to go';
  return `${figure(forRepeat.overscanPercent)} % (${figure(forRepeat.overscanPx)} px)${lensToFrameWith(forRepeat)}: room for a repeat of the move. This very take would have done with ${figure(thisTake.overscanPercent)} %, of it ${figure(reservePercent)} % in reserve for resampling and measuring error`;
}

function longestLens({ stabilise, delivery }: RunDocument): string {
  const { longestLens: longest } = stabilise.recommended;
  if (longest === null)
    return `none: a tenth of the focal length used still needs more than ${limitFigure(delivery.maxCropPercent)} % or leaves more than ${limitFigure(delivery.maxResidualPx)} px`;
  const lens =
    longest.focalLengthMm === null
      ? `${figure(longest.factor)} times the focal length used`
      : `${figure(longest.focalLengthMm)} mm`;
  const why =
    longest.limitedBy === null
      ? 'longer ones were not looked at'
      : longest.limitedBy === 'crop'
        ? 'a longer one needs too much crop'
        : 'a longer one leaves too much shake';
  return `${lens}; ${why}`;
}

/** The three ways side by side. */
function waysTable({ stabilise, delivery }: RunDocument): Markup {
  return table({
    caption: `Ways to stabilise this clip (limits: crop ${limitFigure(delivery.maxCropPercent)} %, ${limitFigure(delivery.maxResidualPx)} px left)`,
    head: ['Way', 'Crop', 'Shake left, RMS', 'Remark'],
    rows: stabilise.modes.map((way): Insert[] => [
      `${WAY_WORDS[way.mode]}${way.mode === stabilise.mode ? ' (this report)' : ''}`,
      way.coverable ? `${percentFigure(way.cropPercent)} %` : 'not possible',
      way.residualPx === null || !way.coverable ? '–' : `${figure(way.residualPx)} px`,
      way.coverable ? (way.remark ?? '') : 'more than half of the picture would have to go',
    ]),
    numeric: [1, 2],
    wideOnly: [3],
  });
}
