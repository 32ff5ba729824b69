/** The runs of the log as cards below each other, for a phone. */
import { useId } from 'preact/hooks';
import { webLogTexts } from '../../../texts/index.js';
import { SORTS, type SortBy } from './asked.js';
import { EditButton, RunName, RunVerdict, SelectBox, Tags, Thumbnail } from './run-cells.js';
import type { RunsProps } from './run-table.js';
import { cropLimitWords, cropWords, leftLimitWords, leftWords, passWords } from './run-words.js';

/** Shows them. */
export function RunCards({ runs, selected, sortBy, rising, onSort, actions }: RunsProps) {
  const id = useId();
  return (
    <>
      <div class="card-sort">
        <label for={id}>{webLogTexts.sort}</label>
        <select id={id} value={sortBy} onChange={(event) => onSort(event.currentTarget.value as SortBy)}>
          {SORTS.map((by) => (
            <option key={by} value={by}>
              {webLogTexts.sorts[by]}
            </option>
          ))}
        </select>
        <button type="button" onClick={() => onSort(sortBy)}>
          {webLogTexts.orders[sortBy][rising ? 'rising' : 'falling']}
        </button>
      </div>
      <ul class="runs run-cards" aria-label={webLogTexts.table}>
        {runs.map((run) => (
          <li key={run.id} class={selected.includes(run.id) ? 'selected' : ''}>
            <SelectBox run={run} isSelected={selected.includes(run.id)} actions={actions} />
            <Thumbnail id={run.id} />
            <div class="card-name">
              <RunName run={run} />
            </div>
            <p class="card-verdict">
              <RunVerdict run={run} />
              {figuresOf(run).map((words) => (
                <span key={words}>{words}</span>
              ))}
            </p>
            <p class="card-pass">
              {[run.pass.floor ?? '', passWords(run)].filter((part) => part !== '').join(', ')}
            </p>
            <div class="card-end">
              <Tags run={run} />
              <EditButton run={run} actions={actions} />
            </div>
          </li>
        ))}
      </ul>
    </>
  );
}

function figuresOf(run: RunsProps['runs'][number]): readonly string[] {
  const [crop, left] = [cropWords(run), leftWords(run)];
  return [
    ...(crop === null ? [] : [webLogTexts.crop(withLimit(crop, cropLimitWords(run)))]),
    ...(left === null ? [] : [webLogTexts.left(withLimit(left, leftLimitWords(run)))]),
    ...(run.surfaceClass === null ? [] : [webLogTexts.surface(run.surfaceClass)]),
  ];
}

function withLimit(words: string, limit: string | null): string {
  return limit === null ? words : `${words} ${limit}`;
}
