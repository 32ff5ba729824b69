/** What a tracking thread uses: nothing of lenses and boards is loaded with it, nor the scalar engine unless it is needed. */
export { openPair } from './share-pictures.js';
export { cornerStrengthOfGradient } from './corner-strength.js';
