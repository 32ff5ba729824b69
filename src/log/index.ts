/** The log of runs: every measured pass, kept in an embedded database in the user's data folder. */
export { dataFolder } from './data-folder.js';
