/** What to do first, beside the verdict: the step with what it comes to; what there is more to say of it is folded away. */
import { passesLikeTest, stepInShort } from '../../../report/in-browser.js';
import type { RunDocument } from '../../../run/index.js';
import { firstScreenTexts } from '../../../texts/index.js';
import { said } from '../parts/said.js';

/** The step; nothing where there is no advice. */
export function DoFirst({ run }: { readonly run: RunDocument }) {
  const { verdict, delivery, units } = run;
  if (verdict.advice.length === 0) return null;
  const [step] = verdict.advice;
  const { outcome, more } = stepInShort(step, delivery, Infinity);
  const told = step.predicted === null ? outcome : firstScreenTexts.firstOutcome(outcome ?? '');
  const line = (
    <>
      <strong>{said(step.text, units)}</strong> {told !== null && said(told, units)}
    </>
  );
  return (
    <section class="run-first" aria-labelledby="do-first">
      <h2 id="do-first">{firstScreenTexts.doFirst}</h2>
      {more === null || more === '' ? (
        <p>{line}</p>
      ) : (
        <details class="paper-open">
          <summary>{line}</summary>
          <p>{said(more, units)}</p>
        </details>
      )}
      {passesLikeTest(run) === 'first' && <p class="muted small">{firstScreenTexts.passesLikeTest}</p>}
    </section>
  );
}
