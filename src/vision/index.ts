/** The image engine, started once per thread, behind functions on plain typed arrays. */
export * from './types.js';
export { startVision, type Vision } from './start-vision.js';
export type { PicturePair } from './picture-pair.js';
export { cornerStrengthOfGradient } from './corner-strength.js';
