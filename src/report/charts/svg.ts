/** Writes SVG as text: escaped, numbers rounded to two decimals, the same bytes for the same data. */

/** Attribute values; null and undefined leave the attribute out. */
export type Attributes = Readonly<Record<string, string | number | null | undefined>>;

const ENTITIES: Record<string, string> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Makes text from outside safe inside HTML and SVG, as content and inside quoted attributes; control characters, marks that turn the order of letters and what XML may not hold become U+FFFD. */
export function escapeText(text: string): string {
  return text
    .replace(
      /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069\ufffe\uffff]/g,
      '\ufffd',
    )
    .replace(/[&<>"']/g, (c) => ENTITIES[c]);
}

/** A length in px with at most two decimals; "-0" is written "0". */
export function px(value: number): string {
  const rounded = Math.round(value * 100) / 100;
  return String(rounded === 0 ? 0 : rounded);
}

/** One element with its children, which are SVG already. */
export function element(name: string, attributes: Attributes, ...children: readonly string[]): string {
  const written = Object.entries(attributes)
    .filter(([, value]) => value !== null && value !== undefined)
    .map(([key, value]) => ` ${key}="${typeof value === 'number' ? px(value) : escapeText(String(value))}"`)
    .join('');
  return children.length === 0 ? `<${name}${written}/>` : `<${name}${written}>${children.join('')}</${name}>`;
}

/** A text element; `content` is escaped here. */
export function textElement(attributes: Attributes, content: string): string {
  return element('text', attributes, escapeText(content));
}

/** The outer element of a chart: scales with its box, is one picture with a name for those who do not see it. */
export function svgRoot(
  widthPx: number,
  heightPx: number,
  label: string,
  ...children: readonly string[]
): string {
  return element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      viewBox: `0 0 ${px(widthPx)} ${px(heightPx)}`,
      role: 'img',
      'aria-label': label,
      class: 'chart',
    },
    ...children,
  );
}
