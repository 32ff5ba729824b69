/** What can be done with the selected runs: compare, plan the lanes, remove. */
import { useState } from 'preact/hooks';
import { webLogTexts } from '../../../texts/index.js';
import type { Problem, RunRow } from '../../api.js';
import { problemOf, sendJson } from '../api-client.js';
import { tell } from '../notices.js';
import { Confirm } from '../parts/confirm.js';
import { ProblemNote } from '../parts/problem-note.js';
import { go } from '../router.js';
import { comparisonPath, lanePlanPath } from '../routes.js';
import { hasLanePlan, offersFor } from './compare-offers.js';

/** Shows it at the foot of the window. */
export function SelectionBar({
  selected,
  known,
  unseen,
  onNone,
}: {
  readonly selected: readonly number[];
  /** Those of the selected runs of which anything is known. */
  readonly known: readonly RunRow[];
  /** How many of them the list does not show. */
  readonly unseen: number;
  readonly onNone: () => void;
}) {
  const [by, setBy] = useState('');
  const [isAsking, setIsAsking] = useState(false);
  const [problem, setProblem] = useState<Problem | null>(null);
  const isAllKnown = known.length === selected.length;
  const canCompare = selected.length > 1;
  const remove = async (): Promise<void> => {
    try {
      const { removed } = await sendJson<{ readonly removed: readonly number[] }>(
        'POST',
        '/api/runs/remove',
        {
          ids: selected,
        },
      );
      tell(webLogTexts.removed(removed.length));
      setProblem(null);
      onNone();
    } catch (error) {
      setProblem(problemOf(error));
    }
    setIsAsking(false);
  };
  return (
    <section class="selection-bar" aria-label={webLogTexts.selection}>
      {problem !== null && <ProblemNote problem={problem} />}
      <p role="status">
        {webLogTexts.selected(selected.length, unseen)}
        {!canCompare && <span class="muted"> {webLogTexts.selectMore}</span>}
      </p>
      <div class="selection-buttons">
        <span class="compare">
          <button
            type="button"
            class="main"
            disabled={!canCompare}
            onClick={() => go(comparisonPath(selected, by === '' ? null : by))}
          >
            {webLogTexts.compare}
          </button>
          <label>
            <span>{webLogTexts.compareBy}</span>
            <select value={by} disabled={!canCompare} onChange={(event) => setBy(event.currentTarget.value)}>
              <option value="">{webLogTexts.whatDiffers}</option>
              {offersFor(known).map((one) => (
                <option key={one} value={one}>
                  {webLogTexts.by[one]}
                </option>
              ))}
            </select>
          </label>
        </span>
        {isAllKnown && hasLanePlan(known) && (
          <button type="button" onClick={() => go(lanePlanPath(selected))}>
            {webLogTexts.lanePlan}
          </button>
        )}
        <button type="button" onClick={() => setIsAsking(true)}>
          {webLogTexts.remove}
        </button>
        <button type="button" onClick={onNone}>
          {webLogTexts.deselect}
        </button>
      </div>
      {isAsking && (
        <Confirm
          title={webLogTexts.removeTitle(selected.length)}
          sentence={webLogTexts.removeSentence}
          yes={webLogTexts.remove}
          onYes={remove}
          onClose={() => setIsAsking(false)}
        />
      )}
    </section>
  );
}
