/** A sentence that the program wrote, as the page says it: in the units of its run, and fields of the form instead of options. */
import { wordsForForm } from '../../../report/in-browser.js';
import { inUnits, type Units } from '../../../run/index.js';

/** The sentence for who reads the page. @param text plain, as a run stores it or an answer gives it */
export function said(text: string, units: Units): string {
  return inUnits(wordsForForm(text), units);
}
