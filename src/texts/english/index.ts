/** English: every topic under its name. Another language is a folder beside this one with the same names. */
export * from './figures.js';
export * from './terminal.js';
export * from './files.js';
