/** The report in parts, as markup for another page that lives: advice and sections as the file has them, without head, script and style. */
import type { Units } from '../run/index.js';
import { wordsForForm } from './form-words.js';
import { doMore } from './html/first-screen.js';
import { rewriteTexts } from './html/page-texts.js';
import { pageInUnits } from './html/page-units.js';
import { reportBody } from './html/page.js';
import type { ReportBundle } from './types.js';

/** Parts of a report: HTML of our own, in which all that comes from outside is escaped and nothing runs. */
export interface ReportPieces {
  /** What else can be done than what is done first, as the first screen has it. */
  readonly advice: string;
  /** Contents and sections from the reasons to the cautions. */
  readonly sections: string;
  /** Those of the run; lengths and speeds are written in them. */
  readonly units: Units;
}

/**
 * Renders the parts; the same text for the same bundle. Where a file names options and commands, they name fields of the form.
 *
 * The data of the charts stand beside them in `script` elements of type `application/json`, which no browser runs: whoever puts the
 * markup into a page starts the charts as the script of the report does.
 */
export function reportParts(bundle: ReportBundle): ReportPieces {
  const { run } = bundle;
  const forPage = ({ text }: { readonly text: string }): string =>
    pageInUnits(rewriteTexts(text, escapedForForm), run.units);
  return {
    advice: forPage(doMore(run)),
    sections: forPage(reportBody(bundle, 'page')),
    units: run.units,
  };
}

/** Quotes are all that `wordsForForm` reads or writes of what HTML escapes. */
function escapedForForm(text: string): string {
  return wordsForForm(text.replaceAll('&quot;', '"')).replaceAll('"', '&quot;');
}
