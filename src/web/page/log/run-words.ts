/** The figures of a run of the log in words. Pure functions. */
import { figure, percentFigure } from '../../../run/index.js';
import { logPageTexts } from '../../../texts/index.js';
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

/** Where it was rolled, with what, how fast, for what. */
export function passWords({ pass, speedMps, focalLengthMm, delivery }: RunRow): string {
  const { lane, setup, direction } = pass;
  return [
    lane === undefined ? null : logPageTexts.lane(lane),
    setup ?? null,
    direction === undefined ? null : logPageTexts.way(direction),
    focalLengthMm === null ? null : logPageTexts.lens(`${figure(focalLengthMm)}\u202fmm`),
    speedMps === null ? null : logPageTexts.speed(figure(speedMps)),
    delivery.name === null ? null : logPageTexts.delivery(delivery.name),
  ]
    .filter((part) => part !== null)
    .join(', ');
}

/** When it was measured, by the clock of this place. @example "14 Mar 2031, 09:30" */
export function whenWords({ createdAt }: RunRow): string {
  return new Date(createdAt).toLocaleString('en-GB', {
    day: 'numeric',
    month: 'short',
    year: 'numeric',
    hour: '2-digit',
    minute: '2-digit',
  });
}
