/** Measures the clip of a run again: goes to the start with its clip and settings. */
import { useState } from 'preact/hooks';
import { runViewTexts } from '../../../texts/index.js';
import type { About, Problem, StoredRun } from '../../api.js';
import { ProblemError } from '../api-client.js';
import { ProblemNote } from '../parts/problem-note.js';
import { startWith } from '../start/start-with.js';
import { settingsOfRun } from './settings-of-run.js';

/** The button. */
export function Again({ stored, about }: { readonly stored: StoredRun; readonly about: About }) {
  const [problem, setProblem] = useState<Problem | null>(null);
  const { run, series, clip } = stored;
  if (clip === null) return <p class="muted small">{runViewTexts.againWithoutClip}</p>;
  const begin = async (): Promise<void> => {
    try {
      await startWith(clip, settingsOfRun(run, series, about.deliveries));
    } catch (error) {
      if (!(error instanceof ProblemError)) throw error;
      setProblem(error.problem);
    }
  };
  return (
    <>
      <button type="button" onClick={() => void begin()}>
        {runViewTexts.again}
      </button>
      {problem !== null && <ProblemNote problem={problem} />}
    </>
  );
}
