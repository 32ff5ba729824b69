/** The verdict at the head of a run: word, shape and sentence; as asked beside as measured once something is asked. */
import type { LiveAnswer } from '../../../judge/index.js';
import { reservations } from '../../../report/in-browser.js';
import type { RunDocument } from '../../../run/index.js';
import { runViewTexts } from '../../../texts/index.js';
import { GradeBadge, GradeMark } from '../parts/grade-mark.js';
import { said } from '../parts/said.js';
import { askedWords, measuredWords, type TopWords } from './as-asked.js';

/** The verdict. The one that holds for what is on the sliders is the large one. */
export function Verdict({ run, answer }: { readonly run: RunDocument; readonly answer: LiveAnswer | null }) {
  const measured = measuredWords(run);
  const asked = askedWords(run, answer);
  const shown = asked ?? measured;
  return (
    <div class={`verdict ${shown.grade}`}>
      <h1 aria-live="polite">
        <GradeBadge grade={shown.grade} />
        <span class="word">
          {shown.word} {asked !== null && <span class="which">{runViewTexts.withChanges}</span>}
        </span>{' '}
        <span class="sentence">{shown.sentence}</span>
      </h1>
      {reservations(run).map(([name, text]) => (
        <p key={text} class="reservation">
          <span class="word">{name}:</span> {said(text, run.units)}
        </p>
      ))}
      {/* It keeps its place, so that nothing jumps with the first move of a slider. */}
      {run.verdict.grade !== 'unmeasurable' && <Measured grade={measured.grade} hidden={asked === null} />}
    </div>
  );
}

function Measured({ grade, hidden }: { readonly grade: TopWords['grade']; readonly hidden: boolean }) {
  return (
    <p class={hidden ? 'measured keeps-place' : 'measured'} aria-hidden={hidden}>
      {runViewTexts.asMeasured}: <GradeMark grade={grade} />
    </p>
  );
}
