/** The texts of a finished piece of HTML, put into other words: what is read or read out, never tags, data or names of somebody else. */

/** Comments, scripts and styles whole, then one tag, then the text up to the next tag. */
const PIECE =
  /<!--[\s\S]*?-->|<(?<raw>script|style)\b[\s\S]*?<\/\k<raw>\s*>|<(?<end>\/?)(?<name>[a-zA-Z][\w:-]*)(?<attributes>(?:[^>"']|"[^"]*"|'[^']*')*)>|[^<]+/gu;

/** Elements that have no end tag. */
const VOID = new Set(['area', 'base', 'br', 'col', 'hr', 'img', 'input', 'link', 'meta', 'source', 'wbr']);

/** Attributes that are read out or shown as text. */
const SPOKEN = /(?<before>\s(?:title|aria-label)=")(?<text>[^"]*)(?=")/gu;

/**
 * Rewrites every text and every title and aria-label of a piece of HTML.
 *
 * Scripts and styles stay as they are, and so does all inside an element with translate="no": names that were written by somebody
 * else. What is rewritten must stand in one text, as no sentence is read across tags.
 *
 * @param markup HTML as our own templates write it: attributes in quotes, every element ended that has an end
 * @param rewrite is given texts as they stand in HTML, escaped, and must give such
 */
export function rewriteTexts(markup: string, rewrite: (text: string) => string): string {
  /** Name of the outermost element that must stay as it is, and how many of that name are open inside. */
  let kept = '';
  let open = 0;
  return markup.replace(PIECE, (piece: string, ...rest: unknown[]) => {
    const { raw, end, name, attributes } = rest[rest.length - 1] as Record<string, string | undefined>;
    if (raw !== undefined || piece.startsWith('<!--')) return piece;
    if (name === undefined || attributes === undefined) return open > 0 ? piece : rewrite(piece);
    const holds = end === '' && !attributes.endsWith('/') && !VOID.has(name);
    if (open > 0) {
      if (name === kept) open += end === '' ? Number(holds) : -1;
      return piece;
    }
    if (/\stranslate="no"/.test(attributes)) {
      if (holds) [kept, open] = [name, 1];
      return piece;
    }
    return piece.replace(SPOKEN, (_, before: string, text: string) => `${before}${rewrite(text)}`);
  });
}
