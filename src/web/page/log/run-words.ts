/** The figures of a run of the log in words. Pure functions. */
import { figure, percentFigure } from '../../../run/index.js';
import { logPageTexts, webLogTexts } from '../../../texts/index.js';
import type { RunRow } from '../../api.js';

/** What it would cost to stabilise; null where the clip could not be measured. */
export function cropWords({ grade, coverable, cropPercent }: RunRow): string | null {
  if (grade === 'unmeasurable') return null;
  return coverable ? logPageTexts.percent(percentFigure(cropPercent)) : logPageTexts.moreThanHalf;
}

/** Shake left after stabilising. */
export function leftWords({ grade, residualPx }: RunRow): string | null {
  return grade === 'unmeasurable' || residualPx === null ? null : logPageTexts.px(figure(residualPx));
}

/** The most crop that the delivery allows; null where there is no crop to hold against it, or the limit is not known. */
export function cropLimitWords(run: RunRow): string | null {
  const { maxCropPercent } = run.delivery;
  if (maxCropPercent === null || cropWords(run) === null) return null;
  return webLogTexts.ofLimit(logPageTexts.percent(figure(maxCropPercent)));
}

/** The most shake that the delivery allows; null as for the crop. */
export function leftLimitWords(run: RunRow): string | null {
  const { maxResidualPx } = run.delivery;
  if (maxResidualPx === null || leftWords(run) === null) return null;
  return webLogTexts.ofLimit(logPageTexts.px(figure(maxResidualPx)));
}

/** Where it was rolled, with what, how fast, for what. */
export function passWords({ pass, speedMps, focalLengthMm, delivery }: RunRow): string {
  const { lane, setup, direction } = pass;
  return [
    lane === undefined ? null : logPageTexts.lane(lane),
    setup ?? null,
    direction === undefined ? null : logPageTexts.way(direction),
    focalLengthMm === null ? null : logPageTexts.lens(`${figure(focalLengthMm)}\u202fmm`),
    speedMps === null ? null : logPageTexts.speed(figure(speedMps)),
    logPageTexts.delivery(delivery.name ?? `${delivery.widthPx}x${delivery.heightPx}`),
  ]
    .filter((part) => part !== null)
    .join(', ');
}

/** When it was measured, by the clock of this place. @example "14 Mar 2031, 09:30" */
export function whenWords({ createdAt }: Pick<RunRow, 'createdAt'>): string {
  return new Date(createdAt).toLocaleString('en-GB', {
    day: 'numeric',
    month: 'short',
    year: 'numeric',
    hour: '2-digit',
    minute: '2-digit',
  });
}
