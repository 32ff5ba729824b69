/** The page for those who may not come in: one sentence, nothing of the program. */
import { escapeText } from '../../report/in-browser.js';
import { serverTexts } from '../../texts/index.js';

/** @param sentence why, and what to do */
export function noAccessPage(sentence: string): string {
  return `<!doctype html>
<html lang="en" data-theme="dark">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${serverTexts.noAccessTitle}</title>
<meta name="color-scheme" content="dark light">
<link rel="icon" href="data:,">
</head>
<body><h1>${serverTexts.noAccessTitle}</h1><p>${escapeText(sentence)}</p></body>
</html>
`;
}
