/** Markup that our server made, put into the page as it is and brought to life; its charts end with it. */
import { useLayoutEffect, useRef } from 'preact/hooks';
import { CHART_KINDS } from '../../../report/in-browser.js';
import { startCharts, startCropSlider, startRunLists } from '../../../report/page-script/index.js';
import type { Units } from '../../../run/index.js';

/** Shows it. @param props.markup of the server alone: everything from outside is escaped in it already */
export function ServerMarkup({
  markup,
  units,
  class: className = 'report',
}: {
  readonly markup: string;
  readonly units: Units;
  readonly class?: string;
}) {
  const box = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    const root = box.current;
    if (root === null) return;
    const end = new AbortController();
    root.innerHTML = markup;
    startCharts(root, CHART_KINDS, { units, signal: end.signal });
    startCropSlider(root);
    startRunLists(root);
    return () => {
      end.abort();
      root.replaceChildren();
    };
  }, [markup, units]);
  return <div ref={box} class={className} />;
}
