/** Style of a comparison beside that of every page. */
import { COMPARISON_CHART_STYLE } from '../charts/index.js';

/** Comes after the style of every page, so it says what holds on paper and on a phone once more. */
export const COMPARISON_STYLE = `${COMPARISON_CHART_STYLE}
.answer{padding-top:1.3rem;border:0;margin:0}
h1.whole{display:block;font-size:1.5rem;font-weight:600;line-height:1.3;max-width:46rem;overflow-wrap:anywhere;text-wrap:pretty}
.answer .eyebrow{font-size:.8125rem;color:var(--muted);margin:0 0 .3rem;max-width:none;overflow-wrap:anywhere}
h2,.side,figcaption,caption,li,p{overflow-wrap:anywhere}
td,th{overflow-wrap:break-word}
.answer .side{margin-top:1.2rem}
.pairs{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,21rem),1fr));gap:1.6rem 2.4rem;margin:1.2rem 0 .6rem}
.ratios .live{margin:0 0 .8rem}
.ratios .chart{max-width:36rem}
.answer .side{grid-template-columns:minmax(0,1.2fr) minmax(0,1fr)}
.answer .side .chart text,.answer .side .chart .row-name{font-size:12.5px}
.answer .side .chart :is(.side-name,.row-value){font-size:14px}
.answer .fair{margin:.5rem 0 0;color:var(--muted)}
.answer .costs{margin:0 0 .6rem}
.ratios .legend{margin:.5rem 0 0}
.pairs .ratios{display:grid;grid-row:span 2;grid-template-rows:subgrid;row-gap:.5rem;align-content:start}
.pairs .ratios>p{margin:0;font-size:.9375rem;line-height:1.4}
.unfair{border:2px solid var(--ink);border-left-width:10px;background:var(--well);padding:.8rem 1rem .5rem;margin:1.1rem 0;max-width:46rem}
.unfair h2{font-size:1.0625rem;margin-bottom:.4rem}
.unfair .sub{color:var(--ink)}
.unfair ul{margin-bottom:.4rem}
.answer .advice{margin:0 0 1rem}
.dots{display:grid;grid-template-columns:repeat(4,minmax(0,1fr));gap:1.2rem 1.8rem;margin:1rem 0 .8rem}
.dots.many{grid-template-columns:repeat(2,minmax(0,1fr))}
.dots .chart{max-width:26rem}
.slim{max-width:32rem}
.lane-key{white-space:nowrap;margin-right:1rem;color:var(--ink)}
.lanes{margin:0 0 1rem}
.lanes .chart{max-width:60rem}
.lanes figcaption{margin-top:.5rem}
@media screen{
.scroll{background:linear-gradient(90deg,transparent,var(--sheet) 1rem) 100% 0/2.2rem 100% no-repeat local,linear-gradient(var(--muted) 0 0) right 2px top 0/3px 100% no-repeat scroll}
}
@media (max-width:62rem){.dots{grid-template-columns:repeat(2,minmax(0,1fr))}}
@media (max-width:52rem){.answer .side{grid-template-columns:minmax(0,1fr)}}
@media (max-width:38rem){
h1.whole{font-size:1.2rem}
.dots,.dots.many{grid-template-columns:minmax(0,1fr)}
.dots .chart{max-width:17rem}
.lane-key{white-space:normal}
}
@media print{
h1.whole{font-size:14pt}
.answer .fair,.answer .advice p,.answer .advice h2+p,.pairs .ratios>p{font-size:9pt;line-height:1.35}
.dots .chart{max-width:64mm}
h3+p:has(+.slim){break-after:avoid}
.for-phone{display:none}.for-desk{display:block}
.dots{grid-template-columns:repeat(4,minmax(0,1fr));gap:3mm 5mm}
.dots.many,.dots.three{grid-template-columns:repeat(2,minmax(0,1fr))}
.dots:not(.many,.three) .chart text{font-size:13px}
.pairs{grid-template-columns:repeat(2,minmax(0,1fr));gap:3mm 6mm}
.unfair,.ratios,.lanes{break-inside:avoid}
.strip,.lane-profile,.key-box,[class^=shade-],.ratio-mark,.pass-dot{print-color-adjust:exact;-webkit-print-color-adjust:exact}
}
`;
