/** The style sheet of the first screen: advice as short lines, layers over the frame, the smoothing slider. */

/** Rules beside those of every page; later ones, so that they win. */
export const FIRST_SCREEN_STYLE = `
.first{grid-template-rows:auto auto auto 1fr;gap:.75rem 2rem;padding-top:1rem}
.first .picture{grid-row:1/span 4}
.reservation{margin:.5rem 0 0;font-size:.875rem;line-height:1.35}
.reservation .word{font-weight:650}
.figures>div{padding:.4rem .8rem .5rem}
.first .advice p,.first .advice h2+p,.step{margin:0;font-size:.9375rem;line-height:1.35;max-width:none}
@media (min-width:52.01rem){.do-first{position:relative}.first .do-first>.legend{position:absolute;right:0;top:0;margin:0}}
.first .do-first .step{font-size:1rem}
.first .do-first p.step{padding-left:0}
.first .steps-after .step{font-size:.875rem}
.first .steps-after summary{line-height:1.3;padding:.08rem 0}
.advice details{margin:0;font-size:.9375rem}
.advice summary{color:inherit;list-style-position:outside;padding:.12rem 0;margin-left:1rem;min-height:1.5rem;line-height:1.35;max-width:none}
.advice details>p{margin:.1rem 0 .5rem 1rem;padding-left:.8rem;border-left:1px solid var(--rule);font-size:.875rem;color:var(--muted)}
.steps-after{margin:0}
.steps-after li{padding:0;margin:0}
p.step{padding:.12rem 0}
.steps-after .word{display:inline;width:auto;margin:0}
p.step{padding-left:1rem}
.first .advice p:is(.legend,.muted){margin:.3rem 0 0;font-size:.8125rem;max-width:none}
.frame figcaption{margin:.4rem 0 0}
.layers{display:flex;flex-wrap:wrap;gap:0 1.2rem;font-size:.8125rem;color:var(--muted);line-height:1.3}
.layers label{display:flex;align-items:center;gap:.35rem;min-height:1.75rem;cursor:pointer}
.layers label:hover{color:var(--ink)}
.layers input{width:1rem;height:1rem;margin:0;accent-color:var(--ink)}
.frame:has([name=layer-others]:not(:checked)) .layer-others,.frame:has([name=layer-safe]:not(:checked)) .layer-safe,.frame:has([name=layer-points]:not(:checked)) .layer-points{display:none}
.safe-edge{fill:none;stroke:#000;stroke-opacity:.55;stroke-width:2px}
.safe-action,.safe-title{fill:none;stroke:#fff;stroke-opacity:.9;stroke-width:1px}
.safe-action{stroke-dasharray:7 5}
.safe-title{stroke-dasharray:1.5 3.5}
.point-dot,.point-dot-edge{fill:none;stroke-linecap:round}
.point-dot{stroke:#fff;stroke-width:2.4px}
.point-dot-edge{stroke:#000;stroke-opacity:.75;stroke-width:4.2px}
.point-cross,.point-cross-edge{fill:none}
.point-cross{stroke:#fff;stroke-width:1.2px}
.point-cross-edge{stroke:#000;stroke-opacity:.8;stroke-width:3px}
.window-deciding{display:none;fill:none;stroke:#fff;stroke-width:1px;stroke-dasharray:10 4}
.moved .window-deciding{display:inline}
.moved .window-other,.moved .inset-words{display:none}
.either{display:inline-grid}
.either>*{grid-area:1/1}
.moved .when-still,.frame:not(.moved) .when-moved{visibility:hidden}
.frame .window,.frame .window-edge{stroke-linejoin:round}
.frame .shade{fill-opacity:.6}
.frame .shade.slim{fill-opacity:.85}
.slim~.window{stroke-width:.9px}
.slim~.window-edge{stroke-width:1.7px}
.inset svg .window{stroke-width:1.8px}
.inset svg .window-edge{stroke-width:3.4px}
.inset-edge{fill:none;stroke:#000;stroke-width:3px}
.inset-frame{fill:none;stroke:#fff;stroke-width:1px}
.inset-band{fill:#000;fill-opacity:.8}
.chart text.inset-label{fill:#fff}
.crop-slider{border-top:1px solid var(--rule);margin-top:.4rem;padding-top:.5rem;font-size:.875rem}
.crop-slider label{font-weight:600}
.crop-slider input{display:block;width:100%;height:2rem;margin:.2rem 0;accent-color:var(--ink)}
.crop-slider input:focus-visible{outline-offset:-3px}
.slider-ends{display:flex;justify-content:space-between;font-size:.75rem;color:var(--muted)}
.slider-reading{display:grid;grid-template-columns:minmax(10rem,auto) minmax(10rem,auto) 1fr;gap:.1rem 1rem;align-items:center;margin:.3rem 0 0;max-width:none;line-height:1.45}
.slider-reading .stands{grid-column:1/span 2}
.moved .chosen-mark{visibility:hidden}
.slider-reading .chosen-mark,.slider-reading .lens{color:var(--muted)}
.stands{display:inline-flex;align-items:center;gap:.35rem;font-weight:600}
.stands .mark{width:1.15rem}
.stands .mark[hidden]{display:none}
.stands .chart{background:none}
@media (max-width:52rem){.first .picture{margin-top:1rem}.first>*+*{margin-top:.8rem}}
@media (max-width:38rem){.layers label{min-height:2.25rem}.slider-reading{grid-template-columns:1fr 1fr}.slider-reading .stands{order:1}.crop-slider input{height:2.75rem}}
@media print{.crop-slider,.layers input,.layers label:has(input:not(:checked)){display:none}.advice details.paper-open>summary{font-weight:400}}
`;
