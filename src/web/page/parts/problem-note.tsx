/** A failure in one sentence, and a way to try again where there is one. */
import { frameTexts } from '../../../texts/index.js';
import type { Problem } from '../../api.js';
import { mayHelpAgain } from '../problems.js';

/** Shows it; screen readers read it at once. That the page is not let in any more is told once, in the frame. */
export function ProblemNote({ problem, retry }: { readonly problem: Problem; readonly retry?: () => void }) {
  if (problem.status === 401) return null;
  return (
    <div class="problem" role="alert">
      <p>{problem.detail}</p>
      {retry !== undefined && mayHelpAgain(problem) && (
        <button type="button" onClick={retry}>
          {frameTexts.again}
        </button>
      )}
    </div>
  );
}
