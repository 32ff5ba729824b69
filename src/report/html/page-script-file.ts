/** The script of the page as it was bundled, and the word of the content policy that lets it run, and nothing else. */
import { createHash } from 'node:crypto';
import fs from 'node:fs';

/** A script that may stand in a page. */
export interface InlineScript {
  /** Between the tags, to the letter. */
  readonly text: string;
  /** Source of the content policy, with its quotes. @example "'sha256-…'" */
  readonly source: string;
}

/** Beside this file where it was built, and in the build where it runs from its source. */
const PLACES = ['../page-script.js', '../../../dist/report/page-script.js'];

let read: InlineScript | null | undefined;

/** The script, read once; null where it has not been built: the page is complete without. */
export function pageScript(): InlineScript | null {
  if (read === undefined) {
    const file = PLACES.map((place) => new URL(place, import.meta.url)).find((place) => fs.existsSync(place));
    read = file === undefined ? null : inlineScript(fs.readFileSync(file, 'utf8'));
  }
  return read;
}

/** Makes a script fit to stand in a page. The browser compares the hash with the text between the tags, so not a letter may change. @throws RangeError where the text would end its element */
export function inlineScript(file: string): InlineScript {
  const text = file.replace(/\r\n?/g, '\n').trim();
  if (/<\/script|<!--/i.test(text))
    throw new RangeError('the script of a page must not hold what ends its element');
  return { text, source: `'sha256-${createHash('sha256').update(text).digest('base64')}'` };
}
