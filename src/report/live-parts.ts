/** The report in parts, as markup for another page that lives: advice and sections as the file has them, without head, script and style. */
import type { Units } from '../run/index.js';
import { doMore } from './html/first-screen.js';
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
 * Renders the parts; the same text for the same bundle.
 *
 * The data of the charts stand beside them in `script` elements of type `application/json`, which no browser runs: whoever puts the
 * markup into a page starts the charts as the script of the report does.
 */
export function reportParts(bundle: ReportBundle): ReportPieces {
  const { run } = bundle;
  const inUnits = (markup: { readonly text: string }): string => pageInUnits(markup.text, run.units);
  return {
    advice: inUnits(doMore(run)),
    sections: inUnits(reportBody(bundle)),
    units: run.units,
  };
}
