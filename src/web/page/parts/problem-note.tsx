/** A failure in one sentence, and a way to try again where there is one. */
import { frameTexts } from '../../../texts/index.js';
import type { Problem } from '../../api.js';

/** Shows it; screen readers read it at once. */
export function ProblemNote({ problem, retry }: { readonly problem: Problem; readonly retry?: () => void }) {
  return (
    <div class="problem" role="alert">
      <p>{problem.detail}</p>
      {retry !== undefined && (
        <button type="button" onClick={retry}>
          {frameTexts.again}
        </button>
      )}
    </div>
  );
}
