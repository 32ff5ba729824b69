/**
 * A process that keeps runs in a log, one after the other, and prints the number of each once it is reported as kept.
 * Called with the log, how many runs (0: until it is killed) and the name of the operator on their sheets.
 */
import fs from 'node:fs';
import { openLog } from '../../../src/log/index.js';
import { madeUpEntry } from './made-up-entry.js';

const [file = '', count = '0', operator = ''] = process.argv.slice(2);
const picture = new Uint8Array(60_000).map((_, i) => (i * 7919) % 251);
const entry = madeUpEntry({ pass: { operator, tags: ['written'] }, picture });
const log = openLog(file, { timeoutMs: 20_000 });
for (let n = 0; count === '0' || n < Number(count); n++) fs.writeSync(1, `${log.add(entry).id}\n`);
log.close();
