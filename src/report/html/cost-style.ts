/** Style of the tables of cases, with their marks, and of the bars of what is left; on every page. */
export const COST_STYLE = `
.side .live .chart{max-width:36rem}
.grade-mark{width:.72em;height:.72em;margin-right:.35em;vertical-align:-.02em}
.tables{columns:2;column-gap:2.4rem;margin:1.2rem 0 .6rem}
.cases{break-inside:avoid;margin:0 0 1.4rem}
.cases .scroll{margin-bottom:.4rem}
.cases caption{color:var(--ink);font-weight:600;font-size:.9375rem}
.cases tbody th{font-weight:400}
.cases .grade,.cases .sub{white-space:nowrap}
.left-scale{width:10rem;margin:0 0 -1px}
thead .left-scale{margin-bottom:-.36rem}
#left-over~.scroll :is(th,td):last-child{padding-right:.4em}
.within-sure{fill:var(--ink);fill-opacity:.13}
.command{display:inline-block;max-width:100%;overflow-wrap:anywhere;vertical-align:bottom;background:var(--well);padding:.15rem .5rem}
@media (max-width:52rem){.tables{columns:1}}
@media (max-width:38rem){.left-scale{width:6rem}.chart.left-scale .limit-label{font-size:15px}}
@media print{
.tables{columns:2;column-gap:6mm}.cases caption{font-size:9.5pt}
.left-scale{width:38mm}
#left-over~.scroll{break-inside:avoid}
.left-bar,.left-hatch,.within,.within-sure,.open-band{print-color-adjust:exact;-webkit-print-color-adjust:exact}
}
`;
