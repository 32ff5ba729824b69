/** What stabilising costs and leaves: crop, pixels left, equivalent lens, trade-off, longer takes. */
import { figure, figureBeside, limitFigure } from '../../judge/index.js';
import type { RunDocument } from '../../run/index.js';
import { cropCurveChart } from '../charts/index.js';
import type { ReportBundle } from '../types.js';
import { html, trusted, type Insert, type Markup } from './markup.js';
import { behind, facts, table } from './table.js';

/** The section on cost. */
export function costSection({ run }: ReportBundle): Markup {
  const { stabilise, delivery } = run;
  const { smoothingS, cropPercent, residual, curve } = stabilise;
  const chart =
    curve.length === 0
      ? null
      : html`<figure class="chart-box">
          <figcaption><b>Crop and shake left</b> against smoothing</figcaption>
          ${trusted(
            cropCurveChart({
              label: `Trade-off: at ${limitFigure(smoothingS)} s of smoothing the crop is ${figure(cropPercent)} % of the width`,
              points: curve,
              maxCropPercent: delivery.maxCropPercent,
              maxResidualPx: delivery.maxResidualPx,
              chosen: { smoothingS, cropPercent, residualPx: residual.rmsPx },
            }),
          )}
          <p class="legend">Diamond: the setting of this report. Dashed: the limits of the delivery.</p>
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
  return html`<section aria-labelledby="cost">
    <h2 id="cost">What stabilising costs</h2>
    <div class="side">
      ${chart}
      <div>${facts(costFacts(run))}</div>
    </div>
    ${longerTakes(run)}
  </section>`;
}

function px(value: number | null): string {
  return value === null ? 'not known' : `${figure(value)} px`;
}

function costFacts({ stabilise, delivery, clip, rig }: RunDocument): [string, Insert][] {
  const { cropPercent, zoom, residual, recommended } = stabilise;
  // The window has the delivery's shape, so a frame of another shape loses more on one side.
  const shape = delivery.heightPx / delivery.widthPx;
  const width = Math.min(clip.widthPx, clip.heightPx / shape) / zoom;
  const size = `${Math.floor(width)} x ${Math.floor(width * shape)} px of ${clip.widthPx} x ${clip.heightPx}`;
  const scale = width / delivery.widthPx;
  const enough =
    scale >= 1 ? 'enough for the delivery' : `scaled up ${figure(1 / scale)} times for the delivery`;
  const entries: [string, Insert][] = [
    [
      'Crop',
      `${figureBeside(cropPercent, delivery.maxCropPercent)} % of the frame width (limit ${limitFigure(delivery.maxCropPercent)} %)`,
    ],
    ['Picture left', `${size}; ${enough}`],
    [
      'Frame wider by',
      `${figure(recommended.overscanPercent)} %, at ${limitFigure(recommended.smoothingS)} s of smoothing`,
    ],
  ];
  if (rig.focalLengthMm !== undefined)
    entries.push([
      'Looks like',
      `a ${figure(rig.focalLengthMm * zoom)} mm lens in place of ${figure(rig.focalLengthMm)} mm`,
    ]);
  if (stabilise.movingCropPercent !== null)
    entries.push(['With a moving crop', `${figure(stabilise.movingCropPercent)} % on average`]);
  if (stabilise.worstFrameS !== null) entries.push(['Worst frame', `at ${figure(stabilise.worstFrameS)} s`]);
  entries.push(
    [
      'Shake left',
      residual.rmsPx === null
        ? 'not known'
        : `${residual.atMost ? 'at most ' : ''}${figureBeside(residual.rmsPx, delivery.maxResidualPx)} px RMS at delivery size (limit ${limitFigure(delivery.maxResidualPx)} px)`,
    ],
    ['of it parallax', `${px(residual.parallaxPx)}: near and far part, no warp removes it`],
    ['Blur that pulses', px(residual.blurPx)],
    ['Rolling-shutter bend', px(residual.readoutPx)],
  );
  return entries;
}

function longerTakes({ stabilise, clip }: RunDocument): Markup | null {
  if (stabilise.longerTake.length === 0) return null;
  const testS = clip.rangeS[1] - clip.rangeS[0];
  return html`${table({
    caption: `Crop of other takes on a surface like this (this test: ${figure(testS)} s)`,
    head: ['Take', 'Typical crop', '19 in 20 below', 'Needs more than the test'],
    rows: stabilise.longerTake.map((take): Insert[] => [
      `${figure(take.takeS)} s`,
      take.medianPercent === null ? '–' : `${figure(take.medianPercent)} %`,
      take.upper95Percent === null ? '–' : `${figure(take.upper95Percent)} %`,
      `${Math.round(100 * take.chanceExceeds)} in 100`,
    ]),
    numeric: [1, 2, 3],
  })}`;
}
