/** The proof: the clip stabilised at the crop that was foretold, to look at and to measure again. */
export * from './types.js';
export { renderProof, PROOF_THREADS } from './render-proof.js';
export { distancesOutside } from './outside.js';
