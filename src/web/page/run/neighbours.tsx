/** The runs before and after this one in the log. */
import { useEffect, useState } from 'preact/hooks';
import { runViewTexts } from '../../../texts/index.js';
import type { RunList } from '../../api.js';
import { getJson } from '../api-client.js';
import { logChanged } from '../events.js';
import { Link } from '../parts/link.js';
import { runPath } from '../routes.js';

interface Neighbours {
  readonly earlier: number | null;
  readonly later: number | null;
}

/** Buttons to the runs measured before and after. */
export function RunNeighbours({ id }: { readonly id: number }) {
  const [{ earlier, later }, set] = useState<Neighbours>({ earlier: null, later: null });
  const changed = logChanged.value;
  useEffect(() => {
    const stop = new AbortController();
    getJson<RunList>('/api/runs', { signal: stop.signal }).then(
      ({ runs }) => {
        if (stop.signal.aborted) return;
        const readable = runs.filter((row) => row.readable || row.id === id);
        const place = readable.findIndex((row) => row.id === id);
        const at = (by: number): number | null => (place < 0 ? null : (readable[place + by]?.id ?? null));
        // The newest stands first.
        set({ earlier: at(1), later: at(-1) });
      },
      () => undefined, // the way through the log stays
    );
    return () => stop.abort();
  }, [id, changed]);
  return (
    <nav class="neighbours" aria-label={runViewTexts.neighbours}>
      <Link class="button" href="/log">
        {runViewTexts.backToLog}
      </Link>
      <To id={earlier} words={runViewTexts.previous} />
      <To id={later} words={runViewTexts.next} />
    </nav>
  );
}

/** It stands there without a run to lead to, too, so that the others keep their place. */
function To({ id, words }: { readonly id: number | null; readonly words: string }) {
  return id === null ? (
    <span class="button" aria-disabled="true">
      {words}
    </span>
  ) : (
    <Link class="button" href={runPath(id)}>
      {words}
    </Link>
  );
}
