/** The log: every pass that was measured, to find, describe, compare and remove. What is asked for stands in the address. */
import { useEffect, useMemo, useRef } from 'preact/hooks';
import { webLogTexts } from '../../../texts/index.js';
import type { RunList, RunRow } from '../../api.js';
import { logChanged } from '../events.js';
import { useKeys } from '../keys.js';
import { Busy } from '../parts/busy.js';
import { Link } from '../parts/link.js';
import { ProblemNote } from '../parts/problem-note.js';
import { go, place, setQuery } from '../router.js';
import { comparisonPath } from '../routes.js';
import { useAnswer } from '../use-answer.js';
import { useNarrow } from '../use-narrow.js';
import { NOTHING_ASKED, askedIn, filterCount, listPath, queryFor, type Asked, type SortBy } from './asked.js';
import { FilterBar } from './filter-bar.js';
import { RunCards } from './run-cards.js';
import { RunTable, type RunsProps } from './run-table.js';
import { SelectionBar } from './selection-bar.js';
import { toggled, withRange } from './selection.js';
import { SheetDialog } from './sheet-dialog.js';
import { sortRuns } from './sort-runs.js';

/** What the server lists at most. */
const MOST_LISTED = 500;

/** Shows it. */
export function LogView() {
  const asked = askedIn(place.value.query);
  const { value: list, problem, retry } = useAnswer<RunList>(listPath(asked), logChanged.value);
  const { sortBy, rising, selected, edited } = asked;
  const runs = useMemo(() => sortRuns(list?.runs ?? [], sortBy, rising), [list, sortBy, rising]);
  const known = useKnown(list);
  const isNarrow = useNarrow();
  const lastClicked = useRef<number | null>(null);
  const listed = runs.map(({ id }) => id);

  const change = (part: Partial<Asked>, replace = true): void =>
    setQuery(queryFor({ ...askedIn(place.peek().query), ...part }), { replace });
  const select = (ids: readonly number[]): void => change({ selected: ids });
  const props: RunsProps = {
    runs,
    selected,
    sortBy,
    rising,
    onSort: (by) => change({ sortBy: by, rising: by === sortBy ? !rising : risesFirst(by) }),
    onSelectAll: (on) =>
      select(withRange(selected, listed, listed[0] ?? null, listed[listed.length - 1] ?? 0, on)),
    actions: {
      select: (id, on, isRange) => {
        select(isRange ? withRange(selected, listed, lastClicked.current, id, on) : toggled(selected, id));
        lastClicked.current = id;
      },
      edit: (id) => change({ edited: id }, false),
    },
  };
  useKeys([
    { key: '/', what: webLogTexts.keys.search, run: focusSearch },
    { key: 'a', what: webLogTexts.keys.all, run: () => props.onSelectAll(true) },
    { key: 'x', what: webLogTexts.keys.none, run: () => select([]) },
    {
      key: 'c',
      what: webLogTexts.keys.compare,
      run: () => selected.length > 1 && go(comparisonPath(selected)),
    },
  ]);

  return (
    <main class={`log${selected.length > 0 ? ' selecting' : ''}`}>
      <h1 class="view-title">{webLogTexts.title}</h1>
      {list?.all === 0 ? (
        <Empty />
      ) : (
        <>
          <FilterBar
            asked={asked}
            list={list}
            onText={(text) => change({ text })}
            onFilters={(filters, tags) => change({ filters, tags }, false)}
          />
          {problem !== null && <ProblemNote problem={problem} retry={retry} />}
          {list === null && problem === null && <Busy />}
          {list !== null && (
            <div class={problem === null ? undefined : 'stale'}>
              <p class="log-count" role="status">
                {problem === null ? webLogTexts.shown(list.runs.length, list.all) : webLogTexts.stale}
                {list.runs.length === MOST_LISTED && ` ${webLogTexts.newestOnly(MOST_LISTED)}`}
              </p>
              {runs.length === 0 ? (
                <NoneFit asked={asked} onClear={() => change({ text: '', filters: {}, tags: [] }, false)} />
              ) : isNarrow ? (
                <RunCards {...props} />
              ) : (
                <RunTable {...props} />
              )}
            </div>
          )}
        </>
      )}
      {selected.length > 0 && (
        <SelectionBar
          selected={selected}
          known={selected.flatMap((id) => known.get(id) ?? [])}
          unseen={list === null ? 0 : selected.filter((id) => !listed.includes(id)).length}
          onNone={() => select([])}
        />
      )}
      {edited !== null && (
        <EditedRun
          key={edited}
          id={edited}
          known={known.get(edited)}
          list={list}
          onClose={() => change({ edited: null })}
        />
      )}
    </main>
  );
}

function Empty() {
  return (
    <div class="log-empty">
      <p>{webLogTexts.empty}</p>
      <Link class="button main" href="/">
        {webLogTexts.measure}
      </Link>
    </div>
  );
}

function NoneFit({ asked, onClear }: { readonly asked: Asked; readonly onClear: () => void }) {
  const isNarrowed = asked.text !== NOTHING_ASKED.text || filterCount(asked) > 0;
  return (
    <div class="log-empty">
      <p>{webLogTexts.noneFit}</p>
      {isNarrowed && (
        <button type="button" onClick={onClear}>
          {webLogTexts.clear}
        </button>
      )}
    </div>
  );
}

/** The sheet of a run that the list may not hold: then the log is asked for it alone. */
function EditedRun({
  id,
  known,
  list,
  onClose,
}: {
  readonly id: number;
  readonly known: RunRow | undefined;
  readonly list: RunList | null;
  readonly onClose: () => void;
}) {
  const { value, problem } = useAnswer<RunList>(
    known === undefined && list !== null ? `/api/runs?id=${id}` : null,
  );
  const run = known ?? value?.runs[0];
  const isNone = known === undefined && value?.runs.length === 0;
  useEffect(() => {
    if (isNone) onClose();
  }, [isNone]);
  if (problem !== null) return <ProblemNote problem={problem} />;
  return run === undefined ? null : <SheetDialog run={run} list={list} onClose={onClose} />;
}

/** All runs that were listed while the view is shown, as they were last. */
function useKnown(list: RunList | null): ReadonlyMap<number, RunRow> {
  const known = useRef(new Map<number, RunRow>());
  return useMemo(() => {
    for (const run of list?.runs ?? []) known.current.set(run.id, run);
    return known.current;
  }, [list]);
}

/** Of figures the low ones matter first, of moments the last. */
function risesFirst(by: SortBy): boolean {
  return by !== 'measured';
}

function focusSearch(): void {
  document.querySelector('.log-search')?.querySelector('input')?.focus();
}
