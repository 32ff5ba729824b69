/** The frame of every page: one HTML file that stands alone, with a content policy that forbids any request and any script but its own. */
import { escapeText } from '../charts/index.js';
import type { Units } from '../../run/index.js';
import { PAGE_SCRIPT_STYLE } from '../page-script/style.js';
import { hasPageData, type Markup } from './markup.js';
import { pageScript } from './page-script-file.js';
import { pageInUnits } from './page-units.js';
import { pageStyle } from './style.js';

/** What makes a page. */
export interface StandalonePage {
  /** Of the window; escaped here. */
  readonly title: string;
  /** Printed at the top of every sheet: what it is about, and what kind of page it is. */
  readonly about: string;
  readonly kind: string;
  /** Style beside that of every page; our own text. */
  readonly style?: string;
  /** How lengths and speeds are shown; metric when missing. */
  readonly units?: Units;
  readonly body: Markup;
}

/**
 * Writes the file; the same text for the same page. Pictures inside must be data URIs. A page that holds data for the script of the
 * page gets the script; nothing else may run in it, and it is complete where nothing runs.
 */
export function standalonePage({
  title,
  about,
  kind,
  style = '',
  units = 'metric',
  body,
}: StandalonePage): string {
  const script = hasPageData(body) ? pageScript() : null;
  const allowed = script === null ? '' : `script-src ${script.source}; `;
  return `<!doctype html>
<html lang="en" data-units="${units}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; ${allowed}img-src data:; style-src 'unsafe-inline'">
<meta name="color-scheme" content="light dark">
<title>${escapeText(title)}</title>
<link rel="icon" href="data:,">
<style>${pageStyle(about, kind)}${hasPageData(body) ? PAGE_SCRIPT_STYLE : ''}${style}</style>
</head>
<body>
${pageInUnits(body.text, units)}${script === null ? '' : `\n<script>${script.text}</script>`}
</body>
</html>
`;
}
