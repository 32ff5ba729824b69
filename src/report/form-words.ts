/** Sentences that were written for a command line, said to somebody who has a form: fields by their labels instead of options. */
import { formWordsTexts, settingTexts } from '../texts/index.js';

/** Options alone between brackets: what they stand for is said before them. */
const ASIDE = / \(--[a-z][a-z-]*(?: [a-z-]+)?(?:, --[a-z][a-z-]*)*\)/g;

const OPTION = /(?<![\w-])--([a-z][a-z-]*)/g;

/**
 * Rewrites what a stored or a fresh sentence says of options and commands; all else stays to the letter.
 *
 * Options between brackets go, others become the label of their field in quotes, and what a page cannot do is said in another way.
 * An option that no field stands for is left.
 *
 * @param text plain, not escaped
 * @example wordsForForm('give the track width (--track-width)') // 'give the track width'
 */
export function wordsForForm(text: string): string {
  const labels: Readonly<Record<string, string>> = settingTexts.labels;
  return formWordsTexts.instead
    .reduce((said, [command, words]) => said.replaceAll(command, words), text)
    .replace(ASIDE, '')
    .replace(OPTION, (option, name: string) => (Object.hasOwn(labels, name) ? `"${labels[name]}"` : option));
}
