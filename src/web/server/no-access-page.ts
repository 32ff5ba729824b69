/** The page for those who may not come in: one sentence in the look of the program, nothing else of it. */
import { DARK_COLOURS, LIGHT_COLOURS, escapeText } from '../../report/in-browser.js';

/** Where its style is; answered to everybody, as it holds colours alone. */
export const NO_ACCESS_STYLE_PATH = '/assets/no-access.css';

/** Its style: the colours of the reports, dark or light as the system is; nobody has chosen a theme here. */
export const NO_ACCESS_STYLE = `:root{${LIGHT_COLOURS};color-scheme:light dark}
@media (prefers-color-scheme:dark){:root{${DARK_COLOURS}}}
body{margin:0;background:var(--paper);color:var(--ink);font:16px/1.5 system-ui,"Segoe UI","Noto Sans","Helvetica Neue",Arial,"DejaVu Sans",sans-serif}
main{box-sizing:border-box;min-height:100vh;padding:2rem clamp(.9rem,4vw,2.2rem);background:var(--sheet)}
h1{margin:0 0 .8rem;padding-left:.8rem;border-left:6px solid var(--fail);font-size:1.5rem;line-height:1.2}
p{margin:0;max-width:46rem;font-size:1.0625rem}
`;

/** @param title of the failure @param sentence why, and what to do */
export function noAccessPage(title: string, sentence: string): string {
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title}</title>
<meta name="color-scheme" content="dark light">
<link rel="icon" href="data:,">
<link rel="stylesheet" href="${NO_ACCESS_STYLE_PATH}">
</head>
<body><main><h1>${title}</h1><p>${escapeText(sentence)}</p></main></body>
</html>
`;
}
