/** English: every topic under its name. Another language is a folder beside this one with the same names. */
export * from './figures.js';
export * from './terminal.js';
export * from './files.js';
export * from './floor-names.js';
export * from './judge-delivery.js';
export * from './judge-measurable.js';
export * from './judge-verdict.js';
export * from './method.js';
export * from './page.js';
export * from './setup.js';
export * from './cost.js';
export * from './takes.js';
export * from './left-over.js';
export * from './what-if.js';
export * from './log-page.js';
export * from './contact.js';
