/** Lengths and speeds of a finished page in the units that its reader asked for; metric leaves every byte as it is. */
import { inUnits, type Units } from '../../run/index.js';
import { rewriteTexts } from './page-texts.js';

/**
 * Rewrites the quantities in every text and in every title and aria-label of a piece of HTML by `inUnits`; names that were written by
 * somebody else stay, as `rewriteTexts` keeps them. A quantity must stand in one text.
 *
 * @param markup HTML as our own templates write it
 */
export function pageInUnits(markup: string, units: Units): string {
  return units === 'metric' ? markup : rewriteTexts(markup, (text) => inUnits(text, units));
}
