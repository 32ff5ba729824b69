/** The shared vocabulary: axes, units, timecode, rig and delivery, the run document, failures. */
export * from './axes.js';
export * from './errors.js';
export * from './rig.js';
export * from './clip-schema.js';
export * from './motion-schema.js';
export * from './has-figure.js';
export * from './motion-log-schema.js';
export * from './verdict-schema.js';
export * from './document.js';
export * from './doubts.js';
export * from './comparison-schema.js';
export * from './lane-plan-schema.js';
export * from './what-if-schema.js';
export * from './pass-schema.js';
export * from './series-schema.js';
export * from './clip-order-schema.js';
export { CAUSES, spectrumSchema } from './spectrum-schema.js';
export { stabiliseSchema } from './stabilise-schema.js';
export {
  surfaceSchema,
  type SurfaceBump,
  type SurfacePrediction,
  type SurfaceSection,
} from './surface-schema.js';
export * from './bump-height.js';
export * from './units.js';
export * from './figures.js';
export * from './told-share.js';
export * from './worst-axis.js';
export * from './quantities.js';
export * from './timecode.js';
export * from './compare-by.js';
export * from './json-fault.js';
export * from './printable.js';
export * from './csv-cell.js';
export * from './nearest-name.js';
export * from './read-rig.js';
