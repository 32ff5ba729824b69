/** The steps of the advice as short lines with what they come to; what there is more to say of each is folded away, and open on paper. */
import type { RunDocument } from '../../run/index.js';
import { firstScreenTexts } from '../../texts/index.js';
import { adviceWords, firstSentence, outcomeInShort } from '../wording.js';
import { html, type Insert, type Markup } from './markup.js';

type Advised = Pick<RunDocument, 'verdict'> & {
  readonly delivery: Pick<RunDocument['delivery'], 'maxCropPercent' | 'maxResidualPx'>;
};
type Step = RunDocument['verdict']['advice'][number];

/** What to do first: the step in full, its outcome in short; null where there is no advice. */
export function firstStep({ verdict, delivery }: Advised): Markup | null {
  if (verdict.advice.length === 0) return null;
  const [step] = verdict.advice;
  const { outcome, more } = stepInShort(step, delivery, Infinity);
  const told = step.predicted === null ? outcome : firstScreenTexts.firstOutcome(outcome ?? '');
  return html`<h2>${firstScreenTexts.doFirst}</h2>
    ${folded(html`<strong>${step.text}</strong> ${told}`, more)}`;
}

/** The other steps, each with a word on how it stands to the first: an alternative, or in addition; null where there are none. */
export function otherSteps({ verdict, delivery }: Advised): Markup | null {
  const [, ...rest] = verdict.advice;
  if (rest.length === 0) return null;
  const [, ...words] = adviceWords(verdict);
  return html`<ol start="2" class="steps-after">
      ${rest.map((step, i) => {
        const { outcome, more } = stepInShort(step, delivery, MOST_CHARACTERS);
        const told =
          outcome === null
            ? step.text
            : step.predicted === null
              ? `${step.text} ${outcome}`
              : firstScreenTexts.step(step.text, outcome);
        return html`<li>${folded(html`<span class="word">${words[i]}:</span> ${told}`, more)}</li>`;
      })}
    </ol>
    ${words.includes('Or') ? html`<p class="legend">${firstScreenTexts.stepsAlone}</p>` : null}`;
}

/** All steps. */
export function adviceList(advised: Advised): Markup {
  return html`${[firstStep(advised), otherSteps(advised)]}`;
}

/** A further step with more than this many characters is told without its effect. */
const MOST_CHARACTERS = 200;

/** What a step comes to, and what there is more to say of it. @param mostCharacters of a step that is told with the beginning of its effect */
export function stepInShort(
  { text, effect, predicted }: Step,
  delivery: Advised['delivery'],
  mostCharacters: number,
): { outcome: string | null; more: string | null } {
  if (predicted !== null) return { outcome: outcomeInShort(predicted, delivery), more: effect };
  const first = firstSentence(effect);
  if (text.length + first.length > mostCharacters) return { outcome: null, more: effect };
  const rest = effect.slice(first.length).trim();
  return { outcome: first === '' ? null : first, more: rest === '' ? null : rest };
}

function folded(line: Insert, more: string | null): Markup {
  if (more === null || more === '') return html`<p class="step">${line}</p>`;
  return html`<details class="paper-open step">
    <summary>${line}</summary>
    <p>${more}</p>
  </details>`;
}
