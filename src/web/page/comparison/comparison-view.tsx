/** Runs of the log beside each other: the comparison as the server makes it, what it is grouped by to choose, and ways back to its runs. */
import { useEffect, useId, useRef, useState } from 'preact/hooks';
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

/** Id of the heading of the plan in the markup of a comparison. */
const PLAN = 'lanes';

/** Shows it. @param props.by null where the program chooses @param props.plan goes to the plan of the lanes */
export function ComparisonView({
  runs,
  by,
  plan = false,
}: {
  readonly runs: readonly number[];
  readonly by: string | null;
  readonly plan?: boolean;
}) {
  const isEnough = runs.length > 1;
  const query = comparisonPath(runs, by).replace(/^[^?]*/, '');
  const { value, problem, isAsking, retry } = useAnswer<ComparisonParts>(
    isEnough ? `/api/comparison${query}` : null,
    logChanged.value,
  );
  const id = useId();
  useTitle(value?.title ?? webComparisonTexts.title);
  const isShown = problem === null && value !== null;
  const main = useRef<HTMLElement>(null);
  const hasNoPlan = usePlan(main, plan && isShown && !isAsking, value?.body);
  const groupedBy = by ?? value?.by ?? '';
  return (
    <main ref={main} class="comparison" aria-busy={isAsking}>
      <div class="comparison-tools">
        <Link class="button" href={`/log?selected=${runs.join(',')}`}>
          {webComparisonTexts.toLog}
        </Link>
        {isEnough && problem === null && (
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
            {isShown && (
              <a class="button" href={`/api/comparison/page${query}`} download>
                {webComparisonTexts.download}
              </a>
            )}
          </>
        )}
        {problem?.status !== 404 && (
          <nav class="comparison-runs" aria-label={webComparisonTexts.runs}>
            {runs.map((run) => (
              <Link key={run} href={runPath(run)}>
                {webComparisonTexts.run(run)}
              </Link>
            ))}
          </nav>
        )}
      </div>
      {!isEnough && <p>{webComparisonTexts.tooFew}</p>}
      {problem !== null && <ProblemNote problem={problem} retry={retry} />}
      {isEnough && value === null && problem === null && <Busy what={webComparisonTexts.comparing} />}
      {hasNoPlan && <p role="status">{webComparisonTexts.noPlan}</p>}
      {isShown && <ServerMarkup markup={value.body} units={value.units} />}
    </main>
  );
}

/** Goes to the plan of the lanes once the comparison is there. @returns true where it has none */
function usePlan(
  main: { readonly current: HTMLElement | null },
  isWanted: boolean,
  markup: string | undefined,
): boolean {
  const [isMissing, setIsMissing] = useState(false);
  useEffect(() => {
    const heading = isWanted ? main.current?.querySelector<HTMLElement>(`#${PLAN}`) : undefined;
    setIsMissing(heading === null);
    if (heading === null || heading === undefined) return;
    heading.tabIndex = -1;
    heading.focus({ preventScroll: true });
    heading.scrollIntoView();
  }, [isWanted, markup]);
  return isMissing;
}
