/** Asks the server for one run, and anew when the log says that something changed. */
import { useCallback, useEffect, useState } from 'preact/hooks';
import type { Problem, StoredRun } from '../../api.js';
import { ProblemError, getJson } from '../api-client.js';
import { logChanged } from '../events.js';

/** What is known of the run. */
export interface RunState {
  /** Null until the server has answered. */
  readonly stored: StoredRun | null;
  readonly problem: Problem | null;
  /** Asks once more. */
  readonly askAgain: () => void;
}

/** The run of a number. What was measured keeps its identity while the sheet or the place of the clip change. */
export function useStoredRun(id: number): RunState {
  const [stored, setStored] = useState<StoredRun | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  const [times, setTimes] = useState(0);
  const changed = logChanged.value;
  useEffect(() => {
    const stop = new AbortController();
    getJson<StoredRun>(`/api/runs/${id}`, { signal: stop.signal }).then(
      (found) => {
        if (stop.signal.aborted) return;
        setProblem(null);
        setStored((before) =>
          before?.row.id === id && before.run.createdAt === found.run.createdAt
            ? { ...found, run: before.run, series: before.series }
            : found,
        );
      },
      (error: unknown) => {
        if (!stop.signal.aborted && error instanceof ProblemError) setProblem(error.problem);
      },
    );
    return () => stop.abort();
  }, [id, changed, times]);
  const askAgain = useCallback(() => setTimes((before) => before + 1), []);
  return { stored: stored?.row.id === id ? stored : null, problem, askAgain };
}
