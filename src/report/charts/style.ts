/**
 * Colours and strokes of the charts as CSS: custom properties for light, dark and print, and the classes that the charts use.
 *
 * Two hues carry meaning, blue for angular and orange for translational, apart for every common colour deficiency (after the idea
 * of Okabe and Ito: vary hue and lightness together); dashes, hatching and shapes repeat what colour says.
 */

/** Custom properties of the light theme; 4.5:1 for text and 3:1 for graphics on --sheet. */
export const LIGHT_COLOURS = `--paper:#e4e4e4;--sheet:#fbfbfb;--well:#efefef;--ink:#181818;--muted:#575757;--rule:#c9c9c9;
--angular:#0b5a8c;--translational:#a4530b;--noise:#c4c4c4;--limit:#3d3d3d;--pass:#0d6b50;--marginal:#7a5500;--fail:#9c2f18;--unmeasurable:#4d4d4d;--on-badge:#fff`;

/** Custom properties of the dark theme: neutral greys, no saturated surround. */
export const DARK_COLOURS = `--paper:#101010;--sheet:#1b1b1b;--well:#262626;--ink:#e8e8e8;--muted:#a9a9a9;--rule:#424242;
--angular:#74b6e4;--translational:#e59a52;--noise:#484848;--limit:#c9c9c9;--pass:#5cc4a0;--marginal:#e0b04f;--fail:#ee8a6c;--unmeasurable:#b9b9b9;--on-badge:#111`;

/** Custom properties for paper: black on white, greys that a black-and-white printer keeps apart. */
export const PRINT_COLOURS = `--paper:#fff;--sheet:#fff;--well:#f4f4f4;--ink:#000;--muted:#3f3f3f;--rule:#b5b5b5;
--angular:#000;--translational:#555;--noise:#d0d0d0;--limit:#000;--pass:#000;--marginal:#000;--fail:#000;--unmeasurable:#000;--on-badge:#fff`;

/** Classes of the charts. */
export const CHART_STYLE = `
.chart{display:block;width:100%;height:auto;overflow:visible}
.chart text{font-family:inherit;font-size:11px;fill:var(--muted);font-variant-numeric:tabular-nums}
.chart .axis-title{font-size:10.5px}
.chart .peak-label{font-weight:600;fill:var(--ink)}
.chart .row-name{font-weight:600;fill:var(--ink);font-size:12px}
.range-band{stroke:none;fill-opacity:.2}.range-band.angular{fill:var(--angular)}.range-band.translational{fill:var(--translational)}
.grid{stroke:var(--rule);stroke-width:.6;stroke-dasharray:1 3}
.axis,.tick{stroke:var(--muted);stroke-width:1}
.series{fill:none;stroke-width:1.3;stroke-linejoin:round}
.series.angular{stroke:var(--angular)}
.series.translational{stroke:var(--translational)}
.intended{fill:none;stroke:var(--muted);stroke-width:1.2;stroke-dasharray:5 3}
.strip{fill:var(--well)}
.noise-band{fill:var(--noise);fill-opacity:.75}
.noise-floor{stroke:var(--muted);stroke-width:1.2;stroke-dasharray:6 4}
.unused{fill:var(--sheet);fill-opacity:.72}
.range-bar{fill:none;stroke:var(--ink);stroke-width:1.2}
.peak{fill:var(--ink)}
.bump-mark{fill:var(--ink);stroke:var(--sheet);stroke-width:1}.bump-mark.down{fill:var(--sheet);stroke:var(--ink);stroke-width:1.7}
.wheel-line{fill:none;stroke:var(--muted);stroke-width:.8}
.unknown-box{fill:none;stroke:var(--muted);stroke-width:.8;stroke-dasharray:1.5 2}
.joint-row{fill:none;stroke:var(--ink);stroke-width:1}
.chart .line-name{font-weight:600;fill:var(--ink);paint-order:stroke;stroke:var(--sheet);stroke-width:3px;stroke-linejoin:round}
.floor-line-mean{fill:none;stroke:var(--ink);stroke-width:2.6;stroke-linejoin:round}
.floor-line{fill:none;stroke:var(--ink);stroke-width:1.3;stroke-linejoin:round}
.floor-line-right{fill:none;stroke:var(--muted);stroke-width:1.3;stroke-linejoin:round;stroke-dasharray:5 2.5}
.chart .key-box{stroke:var(--muted);stroke-width:.5}
.side-band{fill-opacity:.4}
.wave-level{stroke:var(--ink);stroke-width:2.8}
.wave-between{stroke:var(--muted);stroke-width:2;stroke-dasharray:3 2}
.bump{stroke:var(--ink);stroke-width:.9;stroke-dasharray:2 3}.bump-rear{stroke:var(--muted);stroke-width:.8;stroke-dasharray:1 5}
.limit{stroke:var(--limit);stroke-width:1.2;stroke-dasharray:7 4}
.chart .limit-label{fill:var(--ink);font-size:10.5px}
.background{fill:none;stroke:var(--ink);stroke-width:1;stroke-dasharray:2 2.5}
.bar.angular{fill:var(--angular)}
.bar.translational{fill:var(--translational)}
.bound{fill:none;stroke:var(--muted);stroke-width:1;stroke-dasharray:2 2}
.shade-0{fill:var(--ink);fill-opacity:.07}.shade-1{fill:var(--ink);fill-opacity:.17}.shade-2{fill:var(--ink);fill-opacity:.3}.shade-3{fill:var(--ink);fill-opacity:.46}.shade-4{fill:var(--ink);fill-opacity:.66}.shade-5{fill:var(--ink);fill-opacity:.92}
.border-thin{stroke:var(--rule);stroke-width:.6}
.dot{fill:var(--angular)}
.within{fill:var(--ink);fill-opacity:.07}
.left-bar.translational{fill:var(--translational);fill-opacity:.45}.left-bar.angular{fill:var(--angular)}.left-bar.other{fill:var(--noise)}.left-bar.total{fill:var(--ink);fill-opacity:.7}
.left-hatch{fill:none;stroke:var(--translational);stroke-width:2}
.open-band{fill:var(--angular);fill-opacity:.16}
.grade-fill{fill:var(--ink)}
.grade-line{fill:none;stroke:var(--ink);stroke-width:1.9;stroke-linecap:round}
.chosen{fill:var(--sheet);stroke:var(--ink);stroke-width:1.8}
.angular-fill{fill:var(--angular)}
.translational-fill{fill:var(--sheet)}
.hatch{stroke:var(--translational);stroke-width:4}
.border{stroke:var(--ink);stroke-width:2}
.badge.pass{fill:var(--pass)}.badge.marginal{fill:var(--marginal)}.badge.fail{fill:var(--fail)}.badge.unmeasurable{fill:var(--unmeasurable)}
.badge-sign{fill:none;stroke:var(--on-badge);stroke-width:4.5;stroke-linecap:round;stroke-linejoin:round}
.shade{fill:#000;fill-opacity:.45}
.window{fill:none;stroke:#fff;stroke-width:1.8px}
.window-edge{fill:none;stroke:#000;stroke-width:3.4px}
.window-other{fill:none;stroke:#fff;stroke-opacity:.4;stroke-width:.7px}
.no-picture{fill:#8a8a8a}
`;
