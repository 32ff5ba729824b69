/** To live with the crop: a limit that takes in what stabilising costs (per cent of the width), and the frame that is wider for it. */
import { limitFigure, percentNear } from '../../run/index.js';
import { framingAdviceTexts } from '../../texts/index.js';
import { outcomeOf } from '../pass/outcome.js';
import { widerFrame } from './wider.js';
import type { Present } from './present.js';
import type { Step } from './step.js';

/** No shot to stabilise beyond this. */
const MOST_PERCENT = 50;

/** The limit to allow, a repeat of the move counted in, where the crop lies over the present one. */
export function allowCrop({ pass, measured, now }: Present): Step[] {
  const { delivery, sections } = pass;
  const { maxCropPercent } = delivery;
  const { text, effect } = framingAdviceTexts.allowCrop;
  if (now.cropPercent.value <= maxCropPercent || now.cropPercent.high > MOST_PERCENT) return [];
  const { forRepeat } = sections.stabilise.recommended;
  const allowed = Math.ceil(2 * now.cropPercent.high) / 2;
  return [
    {
      code: 'allow-crop',
      text: text(limitFigure(allowed), forRepeat && widerFrame(forRepeat, delivery.widthPx)),
      effect: effect(percentNear(now.cropPercent.value, maxCropPercent), limitFigure(maxCropPercent)),
      predicted: outcomeOf(pass, measured, { delivery: { ...delivery, maxCropPercent: allowed } }),
    },
  ];
}
