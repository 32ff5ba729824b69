/** How long the log takes with thousands of runs in it: keeping one, opening, listing, filtering; ms. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { logCsv, openLog, parseLogQuery } from '../../src/log/index.js';
import { madeUpEntry } from '../log/support/made-up-entry.js';
import { medianMs } from './median-ms.js';

const RUNS = 2000;
const FLOORS = ['dairy hall', 'tiled corridor', 'plywood loft', 'aluminium rail'];

/** Prints the table. */
export function printLogTable(write: (text: string) => void): void {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-bench-'));
  const file = path.join(folder, 'runs.db');
  const row = (name: string, work: () => unknown): void =>
    write(`| ${name} | ${medianMs(work).toFixed(1)} |\n`);
  try {
    const log = openLog(file);
    const entries = FLOORS.map((floor, i) =>
      madeUpEntry({
        pass: {
          floor,
          lane: String(i + 1),
          setup: i % 2 ? 'soft tyres' : 'hard tyres',
          tags: ['night', floor],
        },
        picture: new Uint8Array(40_000),
        thumbnail: new Uint8Array(8000),
      }),
    );
    const start = performance.now();
    for (let n = 0; n < RUNS; n++) log.add(entries[n % entries.length]);
    const eachMs = (performance.now() - start) / RUNS;
    write(`\nThe log with ${RUNS} runs, median of five, ms\n\n| what | ms |\n|---|---|\n`);
    write(`| keeping one run | ${eachMs.toFixed(1)} |\n`);
    row('listing all of them', () => log.list());
    row('the newest 50', () => log.list({ limit: 50 }));
    row('one floor and a tag', () => log.list(parseLogQuery('floor=Dairy Hall, tag=night')));
    row('words anywhere', () => log.list(parseLogQuery('text=loft soft, limit=50')));
    row('one run as a whole', () => log.get(RUNS));
    const rows = log.list();
    row('CSV of all', () => logCsv(rows));
    log.close();
    row('opening and closing', () => openLog(file).close());
    write(`| MB on disk | ${(fs.statSync(file).size / 2 ** 20).toFixed(0)} |\n`);
  } finally {
    fs.rmSync(folder, { recursive: true, force: true });
  }
}
