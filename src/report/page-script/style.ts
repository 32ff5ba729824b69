/** Style of what the script of the page adds to its charts; nothing of it shows on paper. */
export const PAGE_SCRIPT_STYLE = `
.live-chart{position:relative}
.live-chart .for-phone{display:none}
@media (max-width:38rem){.live-chart .for-phone{display:block}.live-chart .for-desk{display:none}}
.live-reading{display:grid;min-height:1.4em;margin:0 0 .2rem;max-width:none;font-size:.8125rem;line-height:1.4}
.live-reading>span,.live-reading::after{grid-area:1/1;min-width:0}
.live-reading>span{height:0}
.live-reading::after{content:attr(data-longest);visibility:hidden;letter-spacing:.02em}
.live-reading.brief::after{content:none}
.live-reading.brief>span{height:auto;overflow:hidden;text-overflow:ellipsis;white-space:nowrap}
.live-reading b{font-weight:600}
.live-cursor,.live-layer{position:absolute;overflow:visible;top:0;left:0}
.live-cursor{pointer-events:none}
.live-layer{cursor:crosshair;touch-action:pan-y pinch-zoom;user-select:none;-webkit-user-select:none}
.live-layer:focus-visible{outline-offset:3px}
.live-line{stroke:var(--ink);stroke-width:1}
.live-dot{fill:var(--ink);stroke:var(--sheet);stroke-width:1.2}
.live-stretch{fill:var(--ink);fill-opacity:.14}
.live-tools,.live-series,.live-zoom{display:flex;flex-wrap:wrap;gap:.3rem}
.live-tools{gap:.3rem 1.2rem}
.live-tools:has(button){margin:.4rem 0 .3rem}
.live-tools button,.live-zoom button{display:inline-flex;align-items:center;gap:.4rem;min-width:1.75rem;min-height:1.75rem;padding:.1rem .55rem;border:1px solid var(--muted);background:none;color:var(--ink);font:inherit;font-size:.8125rem;line-height:1.2;cursor:pointer}
.live-tools button:hover,.live-zoom button:hover{background:var(--well)}
.live-tools button[aria-disabled=true],.live-zoom button[aria-disabled=true]{border-color:var(--rule);color:var(--muted);background:none;cursor:default}
.live-series button[aria-disabled=true]{border-color:var(--muted);color:var(--ink)}
.live-series button[aria-pressed=false]{border-style:dashed;color:var(--muted);text-decoration:line-through}
.live-series button[aria-pressed=false] svg{opacity:.35}
.live-series svg{width:22px;height:8px;flex:none}
.live-keys{display:none;flex-basis:100%;margin:0;max-width:none;font-size:.8125rem;line-height:1.4;color:var(--muted)}
.live:has(:focus-visible) .live-keys{display:block}
@media (pointer:coarse){.live-tools button,.live-zoom button{min-width:2.75rem;min-height:2.75rem}}
@media (forced-colors:active){.live-line{stroke:CanvasText}.live-dot{fill:CanvasText;stroke:Canvas}.live-series button[aria-pressed=true]{border-width:2px}}
@media print{
.live-reading,.live-cursor,.live-layer,.live-tools,.live-zoom{display:none}
.live-chart .for-phone{display:none}.live-chart .for-desk{display:block}
}
`;
