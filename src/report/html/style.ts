/** The style sheet of the report: neutral greys, one column on a phone, two on a desk, black on white on paper. */
import { CHART_STYLE, DARK_COLOURS, LIGHT_COLOURS, PRINT_COLOURS } from '../charts/index.js';

/** Text as a CSS string that can neither end the string nor the style element. */
export function cssString(text: string): string {
  return `"${text.replace(/[^A-Za-z0-9 _.,()+-]/gu, (c) => `\\${(c.codePointAt(0) ?? 0xfffd).toString(16)} `)}"`;
}

/** The whole style sheet. @param about and @param kind stand at the top of every printed page, left and right */
export function pageStyle(about: string, kind: string): string {
  return `
:root{${LIGHT_COLOURS};color-scheme:light dark}
@media (prefers-color-scheme:dark){:root{${DARK_COLOURS}}}
*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%;text-size-adjust:100%}
body{margin:0;background:var(--paper);color:var(--ink);font:16px/1.45 system-ui,"Segoe UI","Noto Sans","Helvetica Neue",Arial,"DejaVu Sans",sans-serif;font-variant-numeric:tabular-nums}
main,.top{max-width:75rem;margin:0 auto;background:var(--sheet);padding:0 clamp(.9rem,2.6vw,2.2rem)}
main{padding-bottom:2.5rem}
.top{padding-top:0}
.steps{height:10px;margin:0 calc(-1*clamp(.9rem,2.6vw,2.2rem));background:linear-gradient(90deg,#0b0b0b 0 9.1%,#222 0 18.2%,#393939 0 27.3%,#505050 0 36.4%,#686868 0 45.5%,#7f7f7f 0 54.6%,#969696 0 63.7%,#adadad 0 72.8%,#c5c5c5 0 81.9%,#dcdcdc 0 91%,#f3f3f3 0)}
.slate{display:flex;flex-wrap:wrap;margin:0;max-width:none;border-bottom:1px solid var(--rule);font-size:.8125rem;color:var(--muted)}
.slate>span{padding:.5rem .9rem .5rem 0;margin-right:.9rem;border-right:1px solid var(--rule);overflow-wrap:anywhere}
.slate>span:last-child{border:0;margin:0;padding-right:0}
.slate .name{color:var(--ink);font-weight:600}
h1,h2,h3{line-height:1.2;text-wrap:balance}
h1{margin:0;font-size:1rem;font-weight:400;display:grid;grid-template-columns:auto 1fr;column-gap:.9rem;align-items:center}
h1 .mark{grid-row:span 2;width:3.4rem}
h1 .word{font-size:2.1rem;font-weight:700;letter-spacing:-.01em;line-height:1}
h1 .sentence{font-size:1.0625rem;line-height:1.35;margin-top:.3rem;text-wrap:pretty}
h2{font-size:1.25rem;margin:0 0 .6rem}
h3{font-size:.8125rem;margin:0 0 .4rem;color:var(--muted);font-weight:600;text-transform:uppercase;letter-spacing:.06em}
p{margin:0 0 .8rem;max-width:46rem}
section>p+h3,section>ul+h3,section>details+h3{margin-top:1.4rem}
section{padding-top:1.6rem;margin-top:1.6rem;border-top:1px solid var(--rule)}
ul,ol{margin:0 0 .8rem;padding-left:1.2rem;max-width:46rem}
li{margin:0 0 .35rem}
.muted,.legend,figcaption,.sub,.remark{color:var(--muted)}
.legend,figcaption{font-size:.8125rem;line-height:1.4}
.legend{max-width:none}
.mono{font-family:ui-monospace,"SF Mono",Menlo,Consolas,"DejaVu Sans Mono",monospace;font-size:.8125rem;overflow-wrap:anywhere}
.sub{display:block;font-size:.8125rem;font-weight:400;line-height:1.3}
.narrow{display:none}
.note{border-left:3px solid var(--muted);padding-left:.8rem}
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
.advice h2{font-size:.8125rem;text-transform:uppercase;letter-spacing:.06em;color:var(--muted);margin-bottom:.2rem}
.advice p{margin-bottom:.4rem}
.steps-after{font-size:.9375em;list-style:none;padding:0;margin-bottom:.4rem}
.steps-after li{padding-left:2.6rem}
.steps-after .word{display:inline-block;width:2.3rem;margin-left:-2.6rem;font-size:.8125rem;font-weight:600;color:var(--muted)}
.scroll{overflow-x:auto;margin:0 0 1rem}
table{border-collapse:collapse;width:100%;font-size:.9375rem}
caption{text-align:left;font-size:.8125rem;color:var(--muted);padding:0 0 .35rem}
th,td{text-align:left;vertical-align:top;padding:.4rem .9rem .4rem 0;border-top:1px solid var(--rule);font-weight:400}
th:last-child,td:last-child{padding-right:0}
thead th{font-size:.8125rem;color:var(--muted);border-top:0;border-bottom:1px solid var(--muted);vertical-align:bottom}
tbody tr:first-child>*{border-top:0}
tbody th{font-weight:600}
.num{text-align:right;white-space:nowrap}
thead .num{white-space:normal}
.num+:not(.num){padding-left:1.2rem}
.columns{columns:2;column-gap:2.4rem;max-width:none}
.columns>*{break-inside:avoid}
#reasons~.scroll tbody th{font-weight:400}
.charts{display:grid;grid-template-columns:repeat(3,minmax(0,1fr));gap:1.2rem 1.8rem;margin:1rem 0 .8rem}
figure{margin:0}
.wide-chart{overflow-x:auto}
.wide-chart .chart{min-width:34rem}
.along .chart{max-width:50rem}
.chart-box>figcaption{margin-bottom:.35rem;font-size:.875rem}
.chart-box>figcaption b{color:var(--ink);margin-right:.35rem}
.empty{color:var(--muted);font-size:.875rem;border:1px dashed var(--rule);padding:1.5rem .8rem;margin:0}
.share{max-width:30rem;margin:0 0 1.2rem}
.share figcaption{margin-top:.4rem}
.side{display:grid;grid-template-columns:minmax(0,1fr) minmax(0,1.1fr);gap:1.4rem 2.4rem;align-items:start}
.side>*:only-child{grid-column:1/-1}
.side .chart{max-width:28rem}
.facts{margin:0 0 1rem}
.facts>div{display:grid;grid-template-columns:minmax(7.5rem,11rem) minmax(0,1fr);gap:0 1rem;padding:.32rem 0;border-top:1px solid var(--rule)}
.facts>div:first-child{border-top:0}
.facts dd{overflow-wrap:anywhere}
.facts dt{padding-top:.12rem}
details{margin:.4rem 0 1rem;font-size:.875rem}
summary{cursor:pointer;color:var(--muted);padding:.4rem 0;min-height:1.75rem}
summary:hover{color:var(--ink)}
:focus-visible{outline:2px solid var(--angular);outline-offset:2px}
.cautions{background:var(--well);border:1px solid var(--rule);padding:1.1rem 1.2rem .5rem}
@media (max-width:62rem){.charts{grid-template-columns:repeat(2,minmax(0,1fr))}}
@media (max-width:52rem){
.columns{columns:1}
.first{display:block}.first>*+*{margin-top:1rem}.first .picture{margin-top:1.2rem}
.side{grid-template-columns:minmax(0,1fr)}
}
@media (max-width:38rem){
body{font-size:15px}
.wide{display:none}.narrow{display:block;line-height:1.3;margin:.15rem 0}.num .sub{white-space:normal}
.charts{grid-template-columns:minmax(0,1fr)}
h1{column-gap:.7rem}h1 .mark{width:2.5rem;grid-row:1}h1 .word{font-size:1.7rem}h1 .sentence{grid-column:1/-1;font-size:1rem;margin-top:.5rem}
.verdict{padding-left:.8rem}
.figures>div{padding:.45rem .6rem .5rem}.figures .value{font-size:1.4rem}
table{font-size:.8125rem}th,td{padding-right:.45rem}thead th,.sub{font-size:.75rem}
.slate>span{padding:.4rem .6rem .4rem 0;margin-right:.6rem}
.facts>div{grid-template-columns:7.5rem minmax(0,1fr);gap:0 .7rem}
}
${CHART_STYLE}
@page{margin:16mm 12mm 15mm;@top-left{content:${cssString(about)};font:8pt sans-serif;color:#333}@top-right{content:${cssString(kind)};font:8pt sans-serif;color:#333}@bottom-right{content:"page " counter(page) " of " counter(pages);font:8pt sans-serif;color:#333}}
@media print{
:root{${PRINT_COLOURS};color-scheme:light}
body{font-size:9.5pt}
main,.top{max-width:none;padding:0}
main{padding-bottom:0}
.steps{margin:0;print-color-adjust:exact;-webkit-print-color-adjust:exact}
.badge,.noise-band,.angular-fill,.shade,.strip{print-color-adjust:exact;-webkit-print-color-adjust:exact}
section{padding-top:4mm;margin-top:4mm}
.first{display:grid;grid-template-columns:minmax(0,1fr) minmax(0,1fr);gap:3mm 5mm}
.first>*+*{margin-top:0}
h1 .word{font-size:20pt}h1 .sentence{font-size:11pt}
.figures .value{font-size:15pt}
.charts{grid-template-columns:repeat(2,minmax(0,1fr));gap:3mm 6mm}
.charts.spectra{grid-template-columns:repeat(3,minmax(0,1fr));gap:2mm 4mm}
.spectra .chart text,.spectra .chart .axis-title{font-size:14px}
.side{grid-template-columns:minmax(0,1fr) minmax(0,1fr);gap:4mm 6mm}
details{display:none}
.columns{columns:2;column-gap:6mm}
.scroll{overflow:visible}
figure,tr,.facts>div,.advice,.cautions,.figures{break-inside:avoid}
h2,h3,caption,thead{break-after:avoid}
table{font-size:9pt}
.sub{font-size:7.5pt}
.legend,figcaption{font-size:8pt}
}
`;
}
