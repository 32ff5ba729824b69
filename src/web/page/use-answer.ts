/** An answer of the server while a component is shown: asked for anew when the question changes, the last one kept until the next is there. */
import { useEffect, useState } from 'preact/hooks';
import type { Problem } from '../api.js';
import { getJson, problemOf } from './api-client.js';

/** What is known. */
export interface Answer<T> {
  /** The newest answer; null before the first. */
  readonly value: T | null;
  /** Why the last question failed; null otherwise. */
  readonly problem: Problem | null;
  /** A question is under way. */
  readonly isAsking: boolean;
  /** Asks again. */
  readonly retry: () => void;
}

/** Asks. @param path null for no question. @param again asks anew whenever it changes */
export function useAnswer<T>(path: string | null, again: unknown = null): Answer<T> {
  const [known, setKnown] = useState<Pick<Answer<T>, 'value' | 'problem'>>({ value: null, problem: null });
  const [isAsking, setIsAsking] = useState(path !== null);
  const [tries, setTries] = useState(0);
  useEffect(() => {
    if (path === null) return;
    const stop = new AbortController();
    setIsAsking(true);
    getJson<T>(path, { signal: stop.signal })
      .then(
        (value) => !stop.signal.aborted && setKnown({ value, problem: null }),
        (error: unknown) => {
          if (stop.signal.aborted) return;
          const problem = problemOf(error);
          setKnown(({ value }) => ({ value, problem }));
        },
      )
      .finally(() => !stop.signal.aborted && setIsAsking(false));
    return () => stop.abort();
  }, [path, again, tries]);
  return { ...known, isAsking, retry: () => setTries((count) => count + 1) };
}
