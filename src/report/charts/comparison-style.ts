/** Classes of the charts that compare setups and lanes: ink for what is clear, grey and dashes for what is not. */
export const COMPARISON_CHART_STYLE = `
.chart .side-name,.chart .row-name,.chart .lane-name,.chart .column-name{fill:var(--ink);font-weight:600}
.chart .row-value.clear,.chart .median-label{fill:var(--ink);font-weight:600}
.chart .side-name,.chart .row-value{font-size:13px}
.untold{fill:var(--ink);fill-opacity:.09;stroke:var(--muted);stroke-width:.7;stroke-dasharray:1 2}
.ratio-one{stroke:var(--ink);stroke-width:1.2}
.ratio-bar{stroke:var(--muted);stroke-width:1.4;stroke-dasharray:4 3}
.ratio-bar.clear{stroke:var(--ink);stroke-width:3.2;stroke-dasharray:none}
.ratio-end{fill:none;stroke:var(--muted);stroke-width:1.4}
.ratio-mark{fill:var(--sheet);stroke:var(--muted);stroke-width:1.8}
.ratio-mark.clear{fill:var(--ink);stroke:var(--sheet);stroke-width:1}
.median-line{stroke:var(--ink);stroke-width:2}
.pass-dot{fill:var(--angular);stroke:var(--sheet);stroke-width:.8}
.pass-dot.empty{fill:none;stroke:var(--angular);stroke-width:1.6}
.pass-dot.left-out{fill:var(--sheet);stroke:var(--muted);stroke-width:1.6;stroke-dasharray:2 1.6}
.beyond-end{fill:none;stroke:var(--muted);stroke-width:1.2;stroke-dasharray:4 3}
.key{display:inline-block;vertical-align:-.15em;margin-right:.3rem}
.lane-profile{fill:var(--angular);fill-opacity:.28;stroke:var(--angular);stroke-width:1.2;stroke-linejoin:round}
.keep-off{stroke:var(--ink);stroke-width:1.2}
.keep-off-hatch{stroke:var(--ink);stroke-width:1.5}
.keep-off-line{stroke:var(--ink);stroke-width:1}
.chart .keep-off-label{fill:var(--ink);font-weight:600}
.joint{stroke:var(--ink);stroke-width:1.6}
.chart .joint-label,.chart .start-label,.chart .lane-arrow{fill:var(--ink)}
.best-lane,.start-mark{fill:var(--ink)}
.start-line{stroke:var(--ink);stroke-width:2.4}
.scale-bar{fill:none;stroke:var(--ink);stroke-width:1.4}
.key-box{stroke:var(--muted);stroke-width:.5}
`;
