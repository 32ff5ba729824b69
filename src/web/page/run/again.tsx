/** Measures the clip of a run again: goes to the start with its clip and settings. */
import { useState } from 'preact/hooks';
import { runViewTexts } from '../../../texts/index.js';
import type { About, Problem, StoredRun } from '../../api.js';
import { ProblemError } from '../api-client.js';
import { ProblemNote } from '../parts/problem-note.js';
import { place } from '../router.js';
import { startWith } from '../start/start-with.js';
import { askedFrom, type Asked } from '../what-if/asked.js';
import { rangesOf } from '../what-if/slider-ranges.js';
import { asksOfClip, settingsAsAsked, settingsOfRun } from './settings-of-run.js';

/** The button. */
export function Again({ stored, about }: { readonly stored: StoredRun; readonly about: About }) {
  const [problem, setProblem] = useState<Problem | null>(null);
  const { run, series, clip } = stored;
  if (clip === null) return <p class="muted small">{runViewTexts.againWithoutClip}</p>;
  const { query } = place.value;
  const asked: Asked =
    series === null ? {} : askedFrom(query, rangesOf(run, series), Object.keys(about.deliveries));
  const isAsked = asksOfClip(asked);
  const begin = async (): Promise<void> => {
    try {
      await startWith(clip, settingsAsAsked(settingsOfRun(run, series, about.deliveries), asked));
    } catch (error) {
      if (!(error instanceof ProblemError)) throw error;
      setProblem(error.problem);
    }
  };
  return (
    <>
      <button type="button" onClick={() => void begin()}>
        {isAsked ? runViewTexts.againAsAsked : runViewTexts.again}
      </button>
      {(asked.lens !== undefined || asked.speed !== undefined) && (
        <p class="muted small">{runViewTexts.againAsShot}</p>
      )}
      {problem !== null && <ProblemNote problem={problem} />}
    </>
  );
}
