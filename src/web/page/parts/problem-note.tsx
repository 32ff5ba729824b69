/** A failure in one sentence, and a way to try again where there is one. */
import { frameTexts } from '../../../texts/index.js';
import type { Problem } from '../../api.js';
import { connection } from '../connection.js';
import { isToldByFrame, mayHelpAgain } from '../problems.js';

/** Shows it; screen readers read it at once. What may be asked again and fails for want of the program is told once, in the frame. */
export function ProblemNote({ problem, retry }: { readonly problem: Problem; readonly retry?: () => void }) {
  if (retry !== undefined && isToldByFrame(problem, connection.value)) return null;
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
