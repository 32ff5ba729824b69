/** What is answered, beside the sliders: verdict, crop and shake left against their limits, the lens that would frame the same. */
import type { ComponentChildren } from 'preact';
import type { LiveAnswer } from '../../../judge/index.js';
import { cropWords, inLine, leftWords } from '../../../report/in-browser.js';
import { figure, limitFigure } from '../../../run/index.js';
import { tighterFocalLengthMm } from '../../../stabilise/index.js';
import { askedAnswerTexts } from '../../../texts/index.js';
import { GradeMark } from '../parts/grade-mark.js';

/** Shows them. */
export function AnswerFigures({ answer }: { readonly answer: LiveAnswer }) {
  const { outcome, delivery, cropPx, grade } = answer;
  const { maxCropPercent, maxResidualPx, widthPx } = delivery;
  const crop = cropWords(outcome.cropPercent, outcome.coverable, maxCropPercent);
  const left = leftWords(outcome.residualPx, maxResidualPx, answer.residualAtMost);
  return (
    <dl class="ask-answer" aria-label={askedAnswerTexts.label}>
      <div class="grade-cell">
        <dt>{askedAnswerTexts.grade}</dt>
        <dd>
          <span role="status">
            <GradeMark grade={grade} />
          </span>
        </dd>
      </div>
      <Figure name={askedAnswerTexts.crop} value={inLine(crop)}>
        {askedAnswerTexts.ofLimit(limitFigure(maxCropPercent), '%')}
        {outcome.coverable && `, ${askedAnswerTexts.px(String(Math.round(cropPx)), widthPx)}`}
      </Figure>
      <Figure name={askedAnswerTexts.left} value={inLine(left)}>
        {askedAnswerTexts.ofLimit(limitFigure(maxResidualPx), 'px')}
      </Figure>
      {outcome.coverable && <Figure name={askedAnswerTexts.lens} value={sameFraming(answer)} />}
    </dl>
  );
}

function Figure({
  name,
  value,
  children,
}: {
  readonly name: string;
  readonly value: string;
  readonly children?: ComponentChildren;
}) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>
        <b>{value}</b>
        {children !== undefined && <span class="muted"> {children}</span>}
      </dd>
    </div>
  );
}

/** The picture that is left, as a lens would frame it without any crop. */
function sameFraming({ focalLengthMm, focalFactor, outcome }: LiveAnswer): string {
  const kept = 1 / (1 - outcome.cropPercent.value / 100);
  return focalLengthMm === null
    ? askedAnswerTexts.tighterTimes(figure(focalFactor * kept))
    : askedAnswerTexts.tighterLens(figure(tighterFocalLengthMm(focalLengthMm, kept)));
}
