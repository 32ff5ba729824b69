/** The part of the vocabulary that needs no schemas: what the command line starts with. Schemas take a tenth of a second to build. */
export * from './errors.js';
export * from './nearest-name.js';
export * from './printable.js';
