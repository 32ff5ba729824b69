/** HTML as text that is safe by default: whatever is put into a template is escaped unless it is markup already. */
import { escapeText } from '../charts/index.js';

/** A piece of HTML that needs no escaping any more. */
export class Markup {
  constructor(readonly text: string) {}
}

/** What may stand in a template: text is escaped, markup is not, lists are joined, null and false leave nothing. */
export type Insert = string | number | Markup | null | false | readonly Insert[];

/** Text that must stay as it is to the letter, such as a file name: escaped, but its spaces and quantities are left alone. */
export function verbatim(text: string): Markup {
  return new Markup(`<span translate="no">${escapeText(text)}</span>`);
}

/** Keeps a number and its unit on one line by a no-break space between them. @example glued("5 %") // "5\u00a0%" */
export function glued(text: string): string {
  return text.replace(/(\d) (?=(?:%|°|px|mm|m|m\/s|m³|s|ms|Hz|dB|RMS)(?![\w]))/g, '$1\u00a0');
}

/** Marks text as HTML that was made by our own code. */
export function trusted(text: string): Markup {
  return new Markup(text);
}

/** How data begin that the script of a page reads; text of others cannot hold it, since it is escaped. */
const DATA = '<script type="application/json"';

/** Data for the script of the page, which no browser runs or shows. @param json that cannot end its element, whatever it holds */
export function pageData(className: string, json: string): Markup {
  return trusted(`${DATA} class="${className}">${json.replace(/</g, '\\u003c')}</script>`);
}

/** Whether there is anything in the page for its script to work on. */
export function hasPageData({ text }: Markup): boolean {
  return text.includes(DATA);
}

/** A template of HTML; a number stays with its unit. @example html`<p>${'<b>'}</p>`.text // "<p>&lt;b&gt;</p>" */
export function html(parts: TemplateStringsArray, ...inserts: readonly Insert[]): Markup {
  return new Markup(parts.map((part, i) => part + (i < inserts.length ? written(inserts[i]) : '')).join(''));
}

function written(insert: Insert): string {
  if (insert === null || insert === false) return '';
  if (insert instanceof Markup) return insert.text;
  if (typeof insert === 'number') return String(insert);
  if (typeof insert === 'string') return escapeText(glued(insert));
  return insert.map(written).join('');
}
