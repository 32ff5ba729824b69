/** To live with the crop: a limit that takes in what stabilising costs (per cent of the width), and the frame that is wider for it. */
import { figure, limitFigure, percentBeside } from '../../run/index.js';
import { outcomeOf } from '../pass/outcome.js';
import { lensToFrameWith } from './wider.js';
import type { Present } from './present.js';
import type { Step } from './step.js';

/** No shot to stabilise beyond this. */
const MOST_PERCENT = 50;

/** The limit to allow, a repeat of the move counted in, where the crop lies over the present one. */
export function allowCrop({ pass, measured, now }: Present): Step[] {
  const { delivery, sections } = pass;
  const { maxCropPercent } = delivery;
  if (now.cropPercent.value <= maxCropPercent || now.cropPercent.high > MOST_PERCENT) return [];
  const { forRepeat } = sections.stabilise.recommended;
  const allowed = Math.ceil(2 * now.cropPercent.high) / 2;
  const frame =
    forRepeat === null
      ? ''
      : ` and frame ${figure(forRepeat.overscanPercent)} % wider for it and a repeat of the move (${figure(forRepeat.overscanPx)} px of ${delivery.widthPx})${lensToFrameWith(forRepeat)}`;
  return [
    {
      code: 'allow-crop',
      text: `Allow ${limitFigure(allowed)} % of crop${frame}.`,
      effect: `Stabilising costs ${percentBeside(now.cropPercent.value, maxCropPercent)} %; the limit of ${limitFigure(maxCropPercent)} % is the crew's own.`,
      predicted: outcomeOf(pass, measured, { delivery: { ...delivery, maxCropPercent: allowed } }),
    },
  ];
}
