/** Views whose code comes when they are first shown: the page paints before what only they need has loaded. */
import type { ComponentType } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { frameTexts } from '../../texts/index.js';
import { Busy } from './parts/busy.js';

/** The result of a run. */
export const RunView = lazy(async () => (await import('./run/run-view.js')).RunView);

/** Runs beside each other. */
export const ComparisonView = lazy(
  async () => (await import('./comparison/comparison-view.js')).ComparisonView,
);

function lazy<Props extends object>(load: () => Promise<ComponentType<Props>>): ComponentType<Props> {
  let Loaded: ComponentType<Props> | null = null;
  return function Lazy(props: Props) {
    const [isLoaded, setIsLoaded] = useState(Loaded !== null);
    const [failed, setFailed] = useState(false);
    useEffect(() => {
      if (Loaded !== null) return;
      load().then(
        (view) => {
          Loaded = view;
          setIsLoaded(true);
        },
        // The program was stopped or updated since the page was loaded.
        () => setFailed(true),
      );
    }, []);
    if (isLoaded && Loaded !== null) return <Loaded {...props} />;
    return (
      <main>
        {failed ? (
          <div class="problem" role="alert">
            <p>{frameTexts.notLoaded}</p>
            <button type="button" onClick={() => location.reload()}>
              {frameTexts.loadAnew}
            </button>
          </div>
        ) : (
          <Busy />
        )}
      </main>
    );
  };
}
