/**
 * Every sentence that people read in a report, a picture or a summary, in one place: functions from figures to words, by topic.
 *
 * The words of a language are one folder; a translation is a folder with the same names, whose types are checked against English.
 */
export * from './english/index.js';
