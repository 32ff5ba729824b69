/** The smoothing slider under the frame of the report: markup that only the script of the page shows, and its data. */
import { figure, figureBeside, limitFigure, percentBeside, type RunDocument } from '../../run/index.js';
import { firstScreenTexts } from '../../texts/index.js';
import { verdictBadge, type BadgeGrade, type CropSliderData, type CropSliderStep } from '../charts/index.js';
import { cropSteps, type CropStep } from '../crop-steps.js';
import { SAFE_SHARES } from '../crop-windows.js';
import type { ReportBundle } from '../types.js';
import { html, pageData, trusted, type Markup } from './markup.js';

const GRADES: readonly BadgeGrade[] = ['pass', 'marginal', 'fail'];

/**
 * The slider; null where the way does not keep the move. Without the script it is not shown: the section on cost has the same trade-off
 * as a chart and a table.
 *
 * @param size of the drawing of the frame, px
 */
export function cropSlider(
  bundle: ReportBundle,
  size: { readonly widthPx: number; readonly heightPx: number },
): Markup | null {
  const steps = cropSteps(bundle);
  const chosen = steps.findIndex((step) => step.chosen);
  if (chosen < 0) return null;
  const data: CropSliderData = {
    steps: steps.map((step) => stepInWords(step, bundle.run)),
    chosen,
    widthPx: size.widthPx,
    heightPx: size.heightPx,
    safe: [SAFE_SHARES.action, SAFE_SHARES.title],
  };
  const [weak, strong] = firstScreenTexts.sliderEnds;
  return html`<div class="crop-slider" hidden>
    <label for="smoothing">${firstScreenTexts.slider}</label>
    <input
      id="smoothing"
      type="range"
      min="0"
      max="${steps.length - 1}"
      step="1"
      value="${chosen}"
      aria-valuetext="${data.steps[chosen].spoken}"
    />
    <div class="slider-ends" aria-hidden="true"><span>${weak}</span><span>${strong}</span></div>
    <p class="slider-reading" aria-hidden="true">
      <span><b class="smoothing"></b> <span class="chosen-mark">${firstScreenTexts.sliderThis}</span></span>
      <span class="crop"></span>
      <span class="left"></span>
      <span class="stands"
        >${GRADES.map((grade) => html`<span class="mark" data-grade="${grade}" hidden>${trusted(verdictBadge(grade))}</span>`)}<span
          class="word"
        ></span
      ></span>
      <span class="lens"></span>
    </p>
    ${pageData('crop-slider-data', JSON.stringify(data))}
  </div>`;
}

function stepInWords(step: CropStep, { delivery }: RunDocument): CropSliderStep {
  const { cropPercent, cropPx, residualPx, lensMm, grade, hit } = step;
  const smoothing = limitFigure(step.smoothingS);
  const percent = percentBeside(cropPercent, delivery.maxCropPercent);
  const left = residualPx === null ? null : figureBeside(residualPx, delivery.maxResidualPx);
  const stands = firstScreenTexts.sliderStands(grade, hit, left !== null);
  return {
    smoothing: firstScreenTexts.seconds(smoothing),
    crop: firstScreenTexts.sliderCrop(percent, figure(cropPx)),
    left: left === null ? firstScreenTexts.sliderLeftUnknown : firstScreenTexts.sliderLeft(left),
    lens: lensMm === null ? '' : firstScreenTexts.sliderLens(figure(lensMm)),
    stands,
    spoken: firstScreenTexts.sliderValue(smoothing, percent, left, stands),
    grade,
    window: fractions(step.window),
    deciding: fractions(step.deciding),
  };
}

/** Four digits are a tenth of a pixel of the drawing. */
function fractions(outline: Float64Array): number[] {
  return Array.from(outline, (value) => Number(value.toFixed(4)));
}
