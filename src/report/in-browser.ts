/**
 * What pages in a browser know of the reports: charts as text, marks and words of verdicts. Nothing of it needs Node or a document; what
 * works on a document is entered by page-script/.
 */
export * from './charts/index.js';
export { wordsForForm } from './form-words.js';
export { keyFigures, shakeLeftFigure, type KeyFigure } from './key-figures.js';
export { passesLikeTest, reservations } from './reservations.js';
export { headline, type Headline } from './wording.js';
export { stepInShort } from './html/advice.js';
export { glued } from './html/markup.js';
export { cropWords, inLine, leftWords } from './what-if/figure-words.js';
