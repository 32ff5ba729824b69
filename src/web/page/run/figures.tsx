/** The key figures of a run; what a question changes stands before what was measured. */
import type { LiveAnswer } from '../../../judge/index.js';
import type { RunDocument } from '../../../run/index.js';
import { runViewTexts } from '../../../texts/index.js';
import { figurePairs } from './as-asked.js';

/** The figures. */
export function Figures({ run, answer }: { readonly run: RunDocument; readonly answer: LiveAnswer | null }) {
  return (
    <dl class="key-figures" aria-label={runViewTexts.figures}>
      {figurePairs(run, answer).map(({ measured, asked }) => {
        const { name, value, unit, remark } = asked ?? measured;
        return (
          <div key={measured.name} class={asked === null ? undefined : 'asked'}>
            <dt>{name}</dt>
            <dd>
              <span class="value">{value}</span>
              {unit !== '' && <span class="unit"> {unit}</span>}
              {asked !== null && <span class="was"> {runViewTexts.was(measured.value)}</span>}
              <span class="remark">{remark}</span>
            </dd>
          </div>
        );
      })}
    </dl>
  );
}
