/** The report on A4 and Letter: black on white, verdict and reasons on the first sheet, clip name and page number on every one. */
import { PRINT_COLOURS } from '../charts/index.js';

/** Text as a CSS string that can neither end the string nor the style element. */
export function cssString(text: string): string {
  return `"${text.replace(/[^A-Za-z0-9 _.,()+-]/gu, (c) => `\\${(c.codePointAt(0) ?? 0xfffd).toString(16)} `)}"`;
}

const MARGIN_TEXT = 'font:8pt sans-serif;color:#333';

/**
 * Sheets and what is different on them; must come after the style of the screen.
 *
 * Links are left out, and so is what is folded away, but for details of the class paper-open, which stand open.
 *
 * @param about and @param kind stand at the top of every sheet, left and right
 */
export function printStyle(about: string, kind: string): string {
  return `
@page{margin:16mm 12mm 15mm;@top-left{content:${cssString(about)};${MARGIN_TEXT}}@top-right{content:${cssString(kind)};${MARGIN_TEXT}}@bottom-right{content:"page " counter(page) " of " counter(pages);${MARGIN_TEXT}}}
@media print{${PAPER}}
`;
}

const PAPER = `
:root{${PRINT_COLOURS};color-scheme:light}
body{font-size:9pt;line-height:1.38}
body:has(.contents) :is(main,.top),main,.top{max-width:none;padding:0}
main{padding-bottom:0}
.skip,.contents{display:none}
.steps{height:2mm;margin:0;print-color-adjust:exact;-webkit-print-color-adjust:exact}
.slate{font-size:8pt}
.slate>span{padding:1.2mm 3mm 1.2mm 0;margin-right:3mm}
.badge,.noise-band,.angular-fill,.translational-fill,.shade,.strip,.bar,.dot,.peak,.grade-fill,[class^=shade-]{print-color-adjust:exact;-webkit-print-color-adjust:exact}
h2{font-size:13pt;margin-bottom:1.2mm}
h3{font-size:9.5pt;margin-bottom:1mm}
p,ul,ol{margin-bottom:1.6mm;max-width:150mm}
li{margin-bottom:.7mm}
.lead,h2+p:not(.legend,.muted,.note){font-size:9.5pt;line-height:1.35}
.legend,figcaption{font-size:7.5pt;line-height:1.3;max-width:none}
.sub,tbody .sub{font-size:7.5pt;line-height:1.25}
.mono,code,code.sub{font-size:7.5pt}
section{padding-top:2.4mm;margin-top:3.6mm}
section>*+h3,section>div>*+h3{margin-top:3mm}
.body,.body:has(.contents){display:block;margin-top:3mm;border:0;padding:0}
.contents+.sections>section:first-child{border-top:1px solid var(--rule);padding-top:3mm}
.sections>section[aria-labelledby=shake]{break-before:page;border-top:0;padding-top:0;margin-top:0}
.first{display:grid;grid-template-columns:minmax(0,1.12fr) minmax(0,1fr);grid-template-rows:auto 1fr;gap:2.5mm 5mm;padding-top:3mm}
.first>*+*,.first .picture{margin-top:0}
.first .picture{grid-row:1/span 2}
.first .advice{grid-column:1/-1}
.first .advice p,.first .advice h2+p,.first .step,.first .do-first .step,.first .steps-after .step,.advice details{font-size:9pt;line-height:1.35}
.first .advice h2,.first .advice p:is(.legend,.muted){font-size:8pt}
.first .advice details>p{margin:0 0 1mm;font-size:7.5pt}
.reservation,.layers,.first .steps-after .word{font-size:8pt}
.first :is(ul,ol){max-width:none}
.first .steps-after{columns:2;column-gap:6mm}
.first .steps-after>*{break-inside:avoid}
.notes{font-size:8.5pt;max-width:none}
.layers label{min-height:0}
h1 .word{font-size:20pt}
h1 .sentence{font-size:10pt;line-height:1.3}
h1{column-gap:3mm}
h1 .mark{width:11mm}
.figures .value{font-size:15pt}
.figures>div{padding:1.6mm 2.2mm}
.remark,dt{font-size:7.5pt}
.for-phone{display:none}.for-desk{display:block}
.charts{grid-template-columns:repeat(2,minmax(0,1fr));gap:3mm 6mm;margin:2mm 0}
.charts.spectra{grid-template-columns:repeat(auto-fit,minmax(34mm,1fr));gap:2mm 4mm}
.spectra .chart text,.spectra .chart .axis-title{font-size:16px}
.chart-box,.live{margin:2mm 0}
.chart-box>figcaption,.live>figcaption{font-size:8pt;margin-bottom:.8mm}
.along .chart{max-width:136mm}
.share{max-width:92mm;margin-bottom:2mm}
section>.live .chart text,section>.live .chart .axis-title{font-size:12.5px}
.side{grid-template-columns:minmax(0,1fr) minmax(0,1fr);gap:3mm 6mm}
.columns{columns:2;column-gap:6mm}
.columns,ul.columns{font-size:8pt}
.sources{font-size:8pt;line-height:1.3}
.sheets{display:block;columns:2;column-gap:6mm;margin-top:1.5mm}
.sheets>*+*{padding-top:1mm}
.scroll{overflow:visible;margin-bottom:2mm}
table{font-size:8pt;line-height:1.3}
caption,thead th{font-size:7.5pt}
th,td{padding:.7mm 3mm .7mm 0}
.facts,.sheets .facts{font-size:8pt;line-height:1.3;margin-bottom:2mm}
.facts>div{grid-template-columns:minmax(24mm,32mm) minmax(0,1fr);padding:.5mm 0;gap:0 3mm}
.facts dt{padding-top:0}
.cautions{padding:3mm 3.5mm 1mm}
.cautions h2{font-size:11pt}
details{display:none}
details.paper-open{display:block;font-size:8pt;margin:1.5mm 0}
details.paper-open::details-content{content-visibility:visible;display:block;block-size:auto;overflow:visible}
details.paper-open>summary{list-style:none;min-height:0;padding:0 0 .8mm;color:var(--ink);font-weight:650;break-after:avoid}
.steps-after details.paper-open>summary{font-weight:400}
details.paper-open>summary::-webkit-details-marker{display:none}
figure,tr,.facts>div,.advice,.cautions,.figures,.note{break-inside:avoid}
h2,h3,caption,thead,.lead,h2+p,h3+p{break-after:avoid}
.lead,h2+p,h3+p{break-inside:avoid}
tbody tr:first-child{break-after:avoid}
tbody tr:last-child{break-before:avoid}
.legend{break-before:avoid}
p,li{orphans:3;widows:3}
`;
