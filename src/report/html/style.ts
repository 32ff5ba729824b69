/** The style sheet of every page: neutral greys, hairlines, one column on a phone, links at the side of a desk. */
import { COMPARISON_STYLE } from '../compare/style.js';
import { PAGE_SCRIPT_STYLE } from '../page-script/style.js';
import { CHART_STYLE, DARK_COLOURS, LIGHT_COLOURS } from '../charts/index.js';
import { COST_STYLE } from './cost-style.js';
import { FIRST_SCREEN_STYLE } from './first-screen-style.js';
import { printStyle } from './print-style.js';

/** The whole style sheet of a file. @param about and @param kind stand at the top of every printed page, left and right */
export function pageStyle(about: string, kind: string): string {
  return `${COLOURS_OF_SYSTEM}${SCREEN}${printStyle(about, kind)}`;
}

/**
 * The style of reports, comparisons and live charts for a page that is served: dark unless `data-theme` of its root says "light".
 *
 * The same text as that of the files but for the choice of colours.
 */
export function familyStyle(): string {
  return `${COLOURS_OF_THEME}${SCREEN}${printStyle('Trundle', '')}${PAGE_SCRIPT_STYLE}${COMPARISON_STYLE}`;
}

const LAYOUT = '--measure:46rem;--edge:clamp(.9rem,2.6vw,2.2rem)';

const COLOURS_OF_SYSTEM = `
:root{${LIGHT_COLOURS};${LAYOUT};color-scheme:light dark}
@media (prefers-color-scheme:dark){:root{${DARK_COLOURS}}}`;

/** No theme weighs more than the colours of paper, which come later. */
const COLOURS_OF_THEME = `
:root{${DARK_COLOURS};${LAYOUT};color-scheme:dark}
:root:where([data-theme=light]){${LIGHT_COLOURS};color-scheme:light}`;

/** Page, type, head line. Text runs at most 46 rem wide; tables and charts take the whole width. */
const BASE = `
*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%;text-size-adjust:100%}
body{margin:0;background:var(--paper);color:var(--ink);font:16px/1.5 system-ui,"Segoe UI","Noto Sans","Helvetica Neue",Arial,"DejaVu Sans",sans-serif;font-variant-numeric:tabular-nums}
main,.top{max-width:75rem;margin:0 auto;background:var(--sheet);padding:0 var(--edge)}
main{padding-bottom:3rem}
.skip{position:absolute;top:0;left:-200vw;z-index:2;padding:.8rem 1.2rem;background:var(--ink);color:var(--sheet)}
.skip:focus{left:0}
.steps{height:10px;margin:0 calc(-1*var(--edge));background:linear-gradient(90deg,#0b0b0b 0 9.1%,#222 0 18.2%,#393939 0 27.3%,#505050 0 36.4%,#686868 0 45.5%,#7f7f7f 0 54.6%,#969696 0 63.7%,#adadad 0 72.8%,#c5c5c5 0 81.9%,#dcdcdc 0 91%,#f3f3f3 0)}
.slate{display:flex;flex-wrap:wrap;margin:0;max-width:none;border-bottom:1px solid var(--rule);font-size:.8125rem;color:var(--muted)}
.slate>span{padding:.5rem .9rem .5rem 0;margin-right:.9rem;border-right:1px solid var(--rule);overflow-wrap:anywhere}
.slate>span:last-child{border:0;margin:0;padding-right:0}
.slate .name{color:var(--ink);font-weight:600}
h1,h2,h3{line-height:1.2;text-wrap:balance}
h2{font-size:1.5rem;font-weight:650;letter-spacing:-.008em;margin:0 0 .5rem;scroll-margin-top:1.2rem}
h3{font-size:1rem;font-weight:650;margin:0 0 .4rem}
p{margin:0 0 .8rem;max-width:var(--measure)}
.lead,h2+p:not(.legend,.muted,.note){font-size:1.0625rem;line-height:1.45;text-wrap:pretty}
ul,ol{margin:0 0 .8rem;padding-left:1.2rem;max-width:var(--measure)}
li{margin:0 0 .35rem}
.muted,.legend,figcaption,.sub,.remark{color:var(--muted)}
.legend,figcaption{font-size:.8125rem;line-height:1.45}
.legend{max-width:56rem}
.mono,code{font-family:ui-monospace,"SF Mono",Menlo,Consolas,"DejaVu Sans Mono",monospace;font-size:.8125rem;overflow-wrap:anywhere}
.sub{display:block;font-size:.8125rem;font-weight:400;line-height:1.35}
code.sub{font-size:.75rem;overflow-wrap:break-word}
abbr{text-decoration:none;color:var(--muted)}
.narrow{display:none}
.note{border-left:3px solid var(--muted);padding-left:.8rem}
:focus-visible{outline:2px solid var(--angular);outline-offset:2px}
`;

/** Verdict, figures, advice and picture. */
const FIRST_SCREEN = `
h1{margin:0;font-size:1rem;font-weight:400;display:grid;grid-template-columns:auto 1fr;column-gap:.9rem;align-items:center}
h1 .mark{grid-row:span 2;width:3.4rem}
h1 .word{font-size:2.1rem;font-weight:700;letter-spacing:-.01em;line-height:1}
h1 .sentence{font-size:1.0625rem;line-height:1.35;margin-top:.3rem;text-wrap:pretty}
.first{display:grid;grid-template-columns:minmax(0,1fr) minmax(0,1.02fr);grid-template-rows:auto auto 1fr;gap:1.1rem 2rem;border:0;margin:0;padding-top:1.3rem}
.first>*{grid-column:1}
.first .picture{grid-column:2;grid-row:1/span 3;margin:0}
.picture .chart{background:#808080}
.picture figcaption{margin-top:.5rem}
.verdict{border-left:6px solid var(--unmeasurable);padding-left:1rem}
.verdict.pass{border-color:var(--pass)}.verdict.marginal{border-color:var(--marginal)}.verdict.fail{border-color:var(--fail)}
.figures{display:grid;grid-template-columns:1fr 1fr;margin:0;border:1px solid var(--rule)}
.figures>div{padding:.6rem .8rem .7rem;border:0 solid var(--rule)}
.figures>div:nth-child(odd){border-right-width:1px}
.figures>div:nth-child(n+3){border-top-width:1px}
dt{font-size:.8125rem;color:var(--muted)}
dd{margin:0}
.figures .value{font-size:1.75rem;font-weight:600;line-height:1.15;letter-spacing:-.01em}
.figures .unit{font-size:1rem}
.remark{display:block;font-size:.8125rem;line-height:1.3}
.advice h2{font-size:.8125rem;font-weight:600;letter-spacing:0;color:var(--muted);margin-bottom:.2rem}
.advice p,.advice h2+p{margin-bottom:.4rem;font-size:1rem;line-height:1.4}
.advice p.legend,.advice p.muted{font-size:.8125rem}
.steps-after{font-size:.9375em;list-style:none;padding:0;margin-bottom:.4rem}
.steps-after li{padding-left:2.6rem}
.steps-after .word{display:inline-block;width:2.3rem;margin-left:-2.6rem;font-size:.8125rem;font-weight:600;color:var(--muted)}
`;

/** Sections, and the links to them: a line under the first screen, at the side where there is room. */
const BODY = `
section{padding-top:1.8rem;margin-top:2.8rem;border-top:1px solid var(--rule)}
.body{margin-top:1.8rem}
.sections>section:first-child{margin-top:0}
section>*+h3,section>div>*+h3{margin-top:1.8rem}
.contents{border:0 solid var(--rule);border-width:1px 0;padding:.2rem 0;margin-bottom:1.2rem;font-size:.875rem;line-height:1.3}
.contents ul{display:flex;flex-wrap:wrap;gap:0 1.3rem;list-style:none;margin:0;padding:0;max-width:none}
.contents li{margin:0}
.contents a{display:block;padding:.35rem 0;color:var(--muted);text-decoration:none}
.contents a:hover{color:var(--ink);text-decoration:underline}
.contents+.sections>section:first-child{border-top:0;padding-top:.4rem}
.columns{columns:2;column-gap:2.4rem;max-width:none}
.columns>*{break-inside:avoid}
ul.columns{font-size:.9375rem}
.sources{font-size:.875rem;line-height:1.4}
.sources>ul{break-inside:auto;list-style:none;padding:0;margin:0}
.sources li{break-inside:avoid}
.warnings{list-style:none;padding:0}
.at{font-weight:600;margin-right:.5rem;white-space:nowrap}
.sheets{display:grid;grid-template-columns:repeat(2,minmax(0,1fr));grid-template-rows:auto auto 1fr;gap:1.6rem 2.4rem;margin-top:1rem}
.sheets>:nth-child(2){grid-column:2;grid-row:1/span 3}
.cautions{background:var(--well);border:1px solid var(--rule);padding:1.3rem 1.3rem .6rem}
.cautions h2{font-size:1.1875rem}
details{margin:.4rem 0 1rem;font-size:.875rem}
summary{cursor:pointer;color:var(--muted);padding:.35rem 0;min-height:1.75rem;max-width:var(--measure)}
summary:hover{color:var(--ink)}
@media (min-width:80rem){
body:has(.contents) :is(main,.top){max-width:87rem}
.body:has(.contents){display:grid;grid-template-columns:9.5rem minmax(0,1fr);column-gap:2.4rem;border-top:1px solid var(--rule);padding-top:1.8rem}
.contents{position:sticky;top:1.2rem;align-self:start;border:0;padding:0;margin:0;font-size:.8125rem}
.contents ul{display:block}
.contents a{padding:.38rem 0 .38rem .8rem;border-left:1px solid var(--rule)}
.contents a:hover{border-color:var(--ink)}
.contents+.sections>section:first-child{padding-top:0}
}
`;

/** Tables and lists of names and values. */
const TABLES = `
.scroll{overflow-x:auto;margin:0 0 1.1rem}
table{border-collapse:collapse;width:100%;font-size:.875rem;line-height:1.4}
caption{text-align:left;font-size:.8125rem;color:var(--muted);padding:0 0 .3rem}
th,td{text-align:left;vertical-align:top;padding:.36rem 1rem .36rem 0;border-top:1px solid var(--rule);font-weight:400}
th:last-child,td:last-child{padding-right:0}
thead th{font-size:.8125rem;line-height:1.3;color:var(--muted);border-top:0;border-bottom:1px solid var(--muted);vertical-align:bottom}
tbody tr:first-child>*{border-top:0}
tbody th{font-weight:600}
tbody .sub{font-size:.78125rem}
.num{text-align:right;white-space:nowrap}
thead .num{white-space:normal}
.num+:not(.num){padding-left:1.2rem}
#reasons~.scroll tbody th{font-weight:400}
.facts{margin:0 0 1rem;font-size:.9375rem;line-height:1.4}
.facts>div{display:grid;grid-template-columns:minmax(7.5rem,11rem) minmax(0,1fr);gap:0 1rem;padding:.3rem 0;border-top:1px solid var(--rule)}
.facts>div:first-child{border-top:0}
.facts dd{overflow-wrap:anywhere}
.facts dt{padding-top:.1rem}
.sheets .facts{font-size:.875rem}
`;

/** Boxes that charts stand in. */
const FIGURES = `
figure{margin:0}
.charts{display:grid;grid-template-columns:repeat(3,minmax(0,1fr));gap:1.2rem 1.8rem;margin:1rem 0 .8rem}
.along .chart{max-width:50rem}
.chart-box,.live{margin:1.2rem 0 1rem}
.charts>.chart-box,.charts>.live,.side>.chart-box,.side>.live{margin:0}
.chart-box>figcaption,.live>figcaption{margin-bottom:.4rem;font-size:.875rem}
.chart-box>figcaption b,.live>figcaption b{color:var(--ink);margin-right:.35rem}
.for-phone{display:none}
.empty{color:var(--muted);font-size:.875rem;border:1px dashed var(--rule);padding:1.5rem .8rem;margin:0}
.share{max-width:30rem;margin:0 0 1.2rem}
.share figcaption{margin-top:.4rem}
.side{display:grid;grid-template-columns:minmax(0,1fr) minmax(0,1.1fr);gap:1.4rem 2.4rem;align-items:start}
.side>*:only-child{grid-column:1/-1}
.side .chart{max-width:28rem}
`;

/** Windows that are too narrow for columns, and phones. */
const NARROW = `
@media (max-width:62rem){.charts{grid-template-columns:repeat(2,minmax(0,1fr))}}
@media (max-width:52rem){
.columns{columns:1}
.first{display:block}.first>*+*{margin-top:1rem}.first .picture{margin-top:1.2rem}
.side,.sheets{grid-template-columns:minmax(0,1fr)}
.sheets>:nth-child(2){grid-column:1;grid-row:auto}
}
@media (max-width:38rem){
body{font-size:15px}
.wide{display:none}.narrow{display:block;line-height:1.3;margin:.15rem 0}.num .sub{white-space:normal}
.for-phone{display:block}.for-desk{display:none}
.charts{grid-template-columns:minmax(0,1fr)}
h1{column-gap:.7rem}h1 .mark{width:2.5rem;grid-row:1}h1 .word{font-size:1.7rem}h1 .sentence{grid-column:1/-1;font-size:1rem;margin-top:.5rem}
h2{font-size:1.3125rem}
.verdict{padding-left:.8rem}
.figures>div{padding:.45rem .6rem .5rem}.figures .value{font-size:1.4rem}
table{font-size:.8125rem}th,td{padding-right:.6rem}thead th,.sub,tbody .sub{font-size:.75rem}
.slate>span{padding:.4rem .6rem .4rem 0;margin-right:.6rem}
.facts>div{grid-template-columns:7.5rem minmax(0,1fr);gap:0 .7rem}
section{padding-top:1.4rem;margin-top:2rem}
}
`;

/** All that is seen on a screen, whatever the colours. */
const SCREEN = `${BASE}${FIRST_SCREEN}${BODY}${TABLES}${FIGURES}${CHART_STYLE}${COST_STYLE}${NARROW}${FIRST_SCREEN_STYLE}`;
