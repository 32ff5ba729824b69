/**
 * Prints how fast things are: `npm run bench -- [clips] [scaling] [cores] [features] [startup] [page] [questions] [log] [live] [kernel]
 * [proof] [capacity] [--repeats 3] [--quick] [--json FILE]`. Medians within one run on this machine, whatever else it does; compare the
 * ratios rather than the milliseconds. --quick takes one kind of clip and times it once. Capacity is taken once, with clips of so many
 * times ten seconds.
 */
import fs from 'node:fs';
import { parseArgs } from 'node:util';
import { printCapacityTable } from './capacity.js';
import {
  machineLine,
  printClipTables,
  printCoreTable,
  printFeatureTable,
  printScalingTable,
  printStartTable,
  type SpeedRow,
} from './speed-clips.js';
import { printKernelTable } from './speed-kernel.js';
import { printLiveTable } from './speed-live.js';
import { printLogTable } from './speed-log.js';
import { printPageTable } from './speed-page.js';
import { printProofTable } from './speed-proof.js';
import { printQuestionTable } from './speed-questions.js';

const write = (text: string): void => void process.stdout.write(text);

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    repeats: { type: 'string', default: '3' },
    quick: { type: 'boolean', default: false },
    json: { type: 'string' },
  },
});
const wish = { repeats: values.quick ? 1 : Number(values.repeats), quick: values.quick };
const wants = (kind: string): boolean => positionals.length === 0 || positionals.includes(kind);
const rows: SpeedRow[] = [];
const head = machineLine();

write(head);
if (wants('clips')) rows.push(...(await printClipTables(write, wish)));
if (wants('scaling')) rows.push(...(await printScalingTable(write, wish)));
if (wants('cores')) rows.push(...(await printCoreTable(write, wish)));
if (wants('features')) rows.push(...(await printFeatureTable(write, wish)));
if (wants('startup')) rows.push(...(await printStartTable(write)));
if (wants('page')) await printPageTable(write);
if (wants('questions')) printQuestionTable(write);
if (wants('log')) printLogTable(write);
if (wants('live')) printLiveTable(write);
if (wants('kernel')) await printKernelTable(write);
if (wants('proof')) await printProofTable(write);
if (wants('capacity')) await printCapacityTable(write, wish);
if (values.json !== undefined)
  fs.writeFileSync(values.json, JSON.stringify({ machine: head.trim(), rows }, null, 2));
