/** The runs of the log as a table, for a desk. */
import { webLogTexts } from '../../../texts/index.js';
import type { RunRow } from '../../api.js';
import type { SortBy } from './asked.js';
import { EditButton, RunName, RunVerdict, SelectBox, Tags, Thumbnail, type RowActions } from './run-cells.js';
import { cropLimitWords, cropWords, leftLimitWords, leftWords, passWords } from './run-words.js';

/** What the lists are given. */
export interface RunsProps {
  /** In the order to show. */
  readonly runs: readonly RunRow[];
  readonly selected: readonly number[];
  readonly sortBy: SortBy;
  readonly rising: boolean;
  readonly onSort: (by: SortBy) => void;
  readonly onSelectAll: (on: boolean) => void;
  readonly actions: RowActions;
}

const NUMERIC: readonly SortBy[] = ['crop', 'left'];

/** Shows it. */
export function RunTable(props: RunsProps) {
  const { runs, selected, onSelectAll } = props;
  const isAll = runs.length > 0 && runs.every(({ id }) => selected.includes(id));
  return (
    <table class="runs">
      <caption class="unseen">{webLogTexts.table}</caption>
      <thead>
        <tr>
          <td class="select-cell">
            <label class="select-box">
              <input
                type="checkbox"
                checked={isAll}
                aria-label={webLogTexts.selectAll}
                onClick={() => onSelectAll(!isAll)}
              />
            </label>
          </td>
          <td class="thumb-cell" />
          {(['measured', 'floor', 'grade', 'crop', 'left', 'surface'] as const).map((by) => (
            <Head key={by} by={by} {...props} />
          ))}
          <th scope="col">{webLogTexts.tags}</th>
          <td />
        </tr>
      </thead>
      <tbody>
        {runs.map((run) => (
          <Row key={run.id} run={run} isSelected={selected.includes(run.id)} actions={props.actions} />
        ))}
      </tbody>
    </table>
  );
}

function Head({
  by,
  sortBy,
  rising,
  onSort,
}: { readonly by: SortBy } & Pick<RunsProps, 'sortBy' | 'rising' | 'onSort'>) {
  const name = webLogTexts.sorts[by];
  const isSorted = by === sortBy;
  return (
    <th
      scope="col"
      class={NUMERIC.includes(by) ? 'num' : ''}
      aria-sort={isSorted ? (rising ? 'ascending' : 'descending') : undefined}
    >
      <button type="button" aria-label={webLogTexts.sortBy(name)} onClick={() => onSort(by)}>
        {name}
        <span class="sort-sign" aria-hidden="true">
          {isSorted ? (rising ? '↑' : '↓') : ''}
        </span>
      </button>
    </th>
  );
}

function Row({
  run,
  isSelected,
  actions,
}: {
  readonly run: RunRow;
  readonly isSelected: boolean;
  readonly actions: RowActions;
}) {
  return (
    <tr class={isSelected ? 'selected' : ''}>
      <td class="select-cell">
        <SelectBox run={run} isSelected={isSelected} actions={actions} />
      </td>
      <td class="thumb-cell">
        <Thumbnail id={run.id} />
      </td>
      <th scope="row" class="name-cell">
        <RunName run={run} />
      </th>
      <td class="pass-cell">
        {run.pass.floor !== undefined && <span>{run.pass.floor}</span>}
        <span class="sub">{passWords(run)}</span>
      </td>
      <td>
        <RunVerdict run={run} />
      </td>
      <Figure value={cropWords(run)} limit={cropLimitWords(run)} />
      <Figure value={leftWords(run)} limit={leftLimitWords(run)} />
      <td>{run.surfaceClass ?? '–'}</td>
      <td>
        <Tags run={run} />
      </td>
      <td class="edit-cell">
        <EditButton run={run} actions={actions} />
      </td>
    </tr>
  );
}

/** A figure over the limit that it is held against. */
function Figure({ value, limit }: { readonly value: string | null; readonly limit: string | null }) {
  return (
    <td class="num">
      {value ?? '–'}
      {limit !== null && <span class="sub">{limit}</span>}
    </td>
  );
}
