/** Parts of a run that table and cards have in common. */
import { useState } from 'preact/hooks';
import { webLogTexts } from '../../../texts/index.js';
import type { RunRow } from '../../api.js';
import { GradeMark } from '../parts/grade-mark.js';
import { Link } from '../parts/link.js';
import { runPath } from '../routes.js';
import { whenWords } from './run-words.js';
import { shortName } from './short-name.js';

/** Characters of a name in a row: two lines of its column. */
const MOST_OF_NAME = 32;

/** What rows can do. */
export interface RowActions {
  /** @param withRange everything from the last click to here */
  readonly select: (id: number, on: boolean, withRange: boolean) => void;
  readonly edit: (id: number) => void;
}

/** The first frame of the stretch, on grey where none was kept. */
export function Thumbnail({ id }: { readonly id: number }) {
  const [isMissing, setIsMissing] = useState(false);
  return (
    <span class="thumb">
      {!isMissing && (
        <img src={`/api/runs/${id}/thumbnail`} alt="" loading="lazy" onError={() => setIsMissing(true)} />
      )}
    </span>
  );
}

/** Selects the run; with shift everything between. Arrows go to the run before and after. */
export function SelectBox({
  run,
  isSelected,
  actions,
}: {
  readonly run: RunRow;
  readonly isSelected: boolean;
  readonly actions: RowActions;
}) {
  return (
    <label class="select-box">
      <input
        type="checkbox"
        name="run"
        checked={isSelected}
        aria-label={webLogTexts.select(run.id, run.clipFile)}
        onClick={(event) => actions.select(run.id, event.currentTarget.checked, event.shiftKey)}
        onKeyDown={goBetween}
      />
    </label>
  );
}

/** The clip as the way to its result, its number and when it was measured. */
export function RunName({ run }: { readonly run: RunRow }) {
  return (
    <>
      {run.readable ? (
        <Link class="run-link" href={runPath(run.id)} title={run.clipFile}>
          {shortName(run.clipFile, MOST_OF_NAME)}
        </Link>
      ) : (
        <span class="run-link" title={run.clipFile}>
          {shortName(run.clipFile, MOST_OF_NAME)}
        </span>
      )}
      <span class="sub">
        {webLogTexts.run(run.id)}, {whenWords(run)}
      </span>
      {!run.readable && <span class="sub">{webLogTexts.otherVersion}</span>}
    </>
  );
}

/** The verdict, and that it is doubted: the result says why. */
export function RunVerdict({ run }: { readonly run: RunRow }) {
  return (
    <>
      <GradeMark grade={run.grade} />
      {run.doubts.length > 0 && run.grade !== 'unmeasurable' && (
        <span class="sub">{webLogTexts.inDoubt}</span>
      )}
    </>
  );
}

/** Opens the sheet. */
export function EditButton({ run, actions }: { readonly run: RunRow; readonly actions: RowActions }) {
  return (
    <button
      type="button"
      class="quiet"
      aria-label={webLogTexts.editOf(run.id)}
      onClick={() => actions.edit(run.id)}
    >
      {webLogTexts.edit}
    </button>
  );
}

/** The tags of the sheet. */
export function Tags({ run }: { readonly run: RunRow }) {
  const tags = run.pass.tags ?? [];
  if (tags.length === 0) return null;
  return (
    <ul class="tags" aria-label={webLogTexts.tags}>
      {tags.map((tag) => (
        <li key={tag}>{tag}</li>
      ))}
    </ul>
  );
}

function goBetween(event: KeyboardEvent & { readonly currentTarget: HTMLInputElement }): void {
  const by = event.key === 'ArrowDown' ? 1 : event.key === 'ArrowUp' ? -1 : 0;
  if (by === 0) return;
  event.preventDefault();
  const all = [
    ...(event.currentTarget.closest('.runs')?.querySelectorAll<HTMLInputElement>('[name=run]') ?? []),
  ];
  const next = all[all.indexOf(event.currentTarget) + by];
  if (next === undefined) return;
  next.focus();
  // With shift the selection grows along.
  if (event.shiftKey && !next.checked) next.click();
}
