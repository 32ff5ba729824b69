/** The image engine, started once per thread, behind functions on plain typed arrays; template matching and resampling beside it. */
export * from './types.js';
export { startVision, type Vision } from './start-vision.js';
export { openPair, sharePictures, type OpenPictures, type PictureShare } from './share-pictures.js';
export type { PictureUse } from './kernel/layout.js';
export { cornerStrengthOfGradient } from './corner-strength.js';
export type { Match } from './template-match.js';
export type { TemplateSize } from './template-window.js';
export type { Placement } from './window-samples.js';
export type { LensFit, LensFitOptions } from './fit-lens.js';
export type { BoardFinder } from './board-finder.js';
export {
  PlaneResampler,
  gridNodes,
  GRID_STEP_PX,
  type PlaceGrid,
  type PlaneSize,
  type Samples,
} from './plane-resampler.js';
