/** The verdict as a shape, with or without its word: never by colour alone. */
import { gradeMark, gradeWord, verdictBadge } from '../../../report/in-browser.js';
import type { RunDocument } from '../../../run/index.js';

type Grade = RunDocument['verdict']['grade'];

/** The small shape in a line of text with its word beside it. */
export function GradeMark({ grade, word = true }: { readonly grade: Grade; readonly word?: boolean }) {
  return (
    <span class={`grade ${grade}`}>
      <span class="grade-shape" aria-hidden="true" dangerouslySetInnerHTML={{ __html: gradeMark(grade) }} />
      {word ? gradeWord(grade) : <span class="unseen">{gradeWord(grade)}</span>}
    </span>
  );
}

/** The large mark of a heading; its word stands beside it. */
export function GradeBadge({ grade }: { readonly grade: Grade }) {
  return <span class="mark" aria-hidden="true" dangerouslySetInnerHTML={{ __html: verdictBadge(grade) }} />;
}
