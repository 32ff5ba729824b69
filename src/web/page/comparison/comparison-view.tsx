/** Runs of the log beside each other: the comparison as the server makes it, what it is grouped by to choose, and ways back to its runs. */
import { useId } from 'preact/hooks';
import { COMPARE_BY } from '../../../run/index.js';
import { webComparisonTexts, webLogTexts } from '../../../texts/index.js';
import type { ComparisonParts } from '../../api.js';
import { logChanged } from '../events.js';
import { Busy } from '../parts/busy.js';
import { Link } from '../parts/link.js';
import { ProblemNote } from '../parts/problem-note.js';
import { ServerMarkup } from '../parts/server-markup.js';
import { useTitle } from '../parts/use-title.js';
import { go } from '../router.js';
import { comparisonPath, runPath } from '../routes.js';
import { useAnswer } from '../use-answer.js';

/** Shows it. @param props.by null where the program chooses */
export function ComparisonView({
  runs,
  by,
}: {
  readonly runs: readonly number[];
  readonly by: string | null;
}) {
  const isEnough = runs.length > 1;
  const query = comparisonPath(runs, by).replace(/^[^?]*/, '');
  const { value, problem, isAsking, retry } = useAnswer<ComparisonParts>(
    isEnough ? `/api/comparison${query}` : null,
    logChanged.value,
  );
  const id = useId();
  useTitle(value?.title ?? webComparisonTexts.title);
  const groupedBy = by ?? value?.by ?? '';
  return (
    <main class="comparison" aria-busy={isAsking}>
      <div class="comparison-tools">
        <Link class="button" href={`/log?selected=${runs.join(',')}`}>
          {webComparisonTexts.toLog}
        </Link>
        {isEnough && (
          <>
            <span class="comparison-by">
              <label for={id}>{webComparisonTexts.by}</label>
              <select
                id={id}
                value={groupedBy}
                disabled={groupedBy === ''}
                onChange={(event) => go(comparisonPath(runs, event.currentTarget.value))}
              >
                {!(COMPARE_BY as readonly string[]).includes(groupedBy) && (
                  <option value={groupedBy}>{groupedBy}</option>
                )}
                {COMPARE_BY.map((one) => (
                  <option key={one} value={one}>
                    {webLogTexts.by[one]}
                  </option>
                ))}
              </select>
            </span>
            {problem === null && value !== null && (
              <a class="button" href={`/api/comparison/page${query}`} download>
                {webComparisonTexts.download}
              </a>
            )}
          </>
        )}
        <nav class="comparison-runs" aria-label={webComparisonTexts.runs}>
          {runs.map((run) => (
            <Link key={run} href={runPath(run)}>
              {webComparisonTexts.run(run)}
            </Link>
          ))}
        </nav>
      </div>
      {!isEnough && <p>{webComparisonTexts.tooFew}</p>}
      {problem !== null && <ProblemNote problem={problem} retry={retry} />}
      {isEnough && value === null && problem === null && <Busy what={webComparisonTexts.comparing} />}
      {problem === null && value !== null && <ServerMarkup markup={value.body} units={value.units} />}
    </main>
  );
}
