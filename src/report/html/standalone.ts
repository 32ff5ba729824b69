/** The frame of every page: one HTML file that stands alone, with a content policy that forbids any request and any script. */
import { escapeText } from '../charts/index.js';
import type { Units } from '../../run/index.js';
import type { Markup } from './markup.js';
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

/** Writes the file; the same text for the same page. Pictures inside must be data URIs. */
export function standalonePage({
  title,
  about,
  kind,
  style = '',
  units = 'metric',
  body,
}: StandalonePage): string {
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; img-src data:; style-src 'unsafe-inline'">
<meta name="color-scheme" content="light dark">
<title>${escapeText(title)}</title>
<link rel="icon" href="data:,">
<style>${pageStyle(about, kind)}${style}</style>
</head>
<body>
${pageInUnits(body.text, units)}
</body>
</html>
`;
}
