/**
 * Prints measured against true: `npm run bench:accuracy -- [tracks] [clips] [proof] [floors] [causes] [causes-filmed] [changes] [comparison] [word...]`.
 * First simulated tracks, then made-up clips through the whole program, then clips rendered stabilised and measured again; words pick the scenarios
 * and clips whose name holds one of them. Floors are driven only when asked for, for filming all their mixtures takes hours, and so are
 * the simulated causes of shake (words: alarms, lines, names, wander, runs), which take ten minutes, the changes foretold,
 * and comparisons of setups (words: layouts, lengths, noise, spreads), which take one.
 */
import { BENCH_PASSES } from '../support/accuracy-passes.js';
import { printClipTable } from './accuracy-clips.js';
import { printFloorTable } from './accuracy-floors.js';
import { printProofTable } from './accuracy-proof.js';
import { printTrackTable } from './accuracy-tracks.js';
import { printCauseTables } from './causes.js';
import { printChangeTable } from './changes.js';
import { printComparisonTables } from './comparison.js';
import { printFilmedCauseTable } from './causes-filmed.js';

const KINDS = ['tracks', 'clips', 'proof', 'floors', 'causes', 'causes-filmed', 'changes', 'comparison'];
const given = process.argv.slice(2);
const kinds = given.filter((word) => KINDS.includes(word));
const words = given.filter((word) => !KINDS.includes(word));
const wants = (kind: string): boolean => kinds.length === 0 || kinds.includes(kind);
const write = (text: string): void => void process.stdout.write(text);

if (wants('tracks')) printTrackTable(words, write);
if (wants('clips')) await printClipTable(BENCH_PASSES, words, write);
if (wants('proof')) await printProofTable(words, write);
if (kinds.includes('floors')) await printFloorTable(words, write);
if (kinds.includes('causes')) printCauseTables(words, write);
if (kinds.includes('causes-filmed')) await printFilmedCauseTable(words, write);
if (kinds.includes('changes')) printChangeTable(write);
if (kinds.includes('comparison')) printComparisonTables(words, write);
