/** What is answered, in one slim line that stays in view while the sliders move: verdict, crop and shake left. */
import type { LiveAnswer } from '../../../judge/index.js';
import { cropWords, inLine, leftWords } from '../../../report/in-browser.js';
import { figure } from '../../../run/index.js';
import { tighterFocalLengthMm } from '../../../stabilise/index.js';
import { askedAnswerTexts } from '../../../texts/index.js';
import { GradeMark } from '../parts/grade-mark.js';

/** Shows it. @param props.answer null while there is none: the line keeps its place */
export function AnswerFigures({ answer }: { readonly answer: LiveAnswer | null }) {
  return (
    <dl class="ask-answer" aria-label={askedAnswerTexts.label}>
      <div>
        <dt>{askedAnswerTexts.grade}</dt>
        <dd>
          <span role="status">
            {answer === null ? askedAnswerTexts.none : <GradeMark grade={answer.grade} />}
          </span>
        </dd>
      </div>
      <div>
        <dt>{askedAnswerTexts.crop}</dt>
        <dd>{answer === null ? askedAnswerTexts.none : <Figure of={cropOf(answer)} />}</dd>
      </div>
      <div>
        <dt>{askedAnswerTexts.left}</dt>
        <dd>{answer === null ? askedAnswerTexts.none : <Figure of={leftOf(answer)} />}</dd>
      </div>
    </dl>
  );
}

/** The lens that would frame without a crop what the window holds; null where there is no such window. */
export function sameFraming({ focalLengthMm, focalFactor, outcome }: LiveAnswer): string | null {
  if (!outcome.coverable) return null;
  const kept = 1 / (1 - outcome.cropPercent.value / 100);
  return focalLengthMm === null
    ? askedAnswerTexts.tighterTimes(figure(focalFactor * kept))
    : askedAnswerTexts.tighterLens(figure(tighterFocalLengthMm(focalLengthMm, kept)));
}

type Words = ReturnType<typeof cropWords>;

/** The value; the range beside it where there is room. */
function Figure({ of }: { readonly of: Words }) {
  return (
    <>
      {of.text}
      <span class="ask-range">{inLine(of).slice(of.text.length)}</span>
    </>
  );
}

function cropOf({ outcome, delivery }: LiveAnswer): Words {
  return cropWords(outcome.cropPercent, outcome.coverable, delivery.maxCropPercent);
}

function leftOf({ outcome, delivery, residualAtMost }: LiveAnswer): Words {
  return leftWords(outcome.residualPx, delivery.maxResidualPx, residualAtMost);
}
