/**
 * Prints how fast things are: `npm run bench -- [questions] [log] [live] [kernel] [proof]`. Medians within one run on this machine, whatever else it does; compare the
 * ratios rather than the milliseconds.
 */
import { printKernelTable } from './speed-kernel.js';
import { printLiveTable } from './speed-live.js';
import { printLogTable } from './speed-log.js';
import { printProofTable } from './speed-proof.js';
import { printQuestionTable } from './speed-questions.js';

const write = (text: string): void => void process.stdout.write(text);

const given = process.argv.slice(2);
const wants = (kind: string): boolean => given.length === 0 || given.includes(kind);

if (wants('questions')) printQuestionTable(write);
if (wants('log')) printLogTable(write);
if (wants('live')) printLiveTable(write);
if (wants('kernel')) await printKernelTable(write);
if (wants('proof')) await printProofTable(write);
