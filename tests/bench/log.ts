/** How long the log takes with thousands of runs in it: keeping one, opening, listing, filtering. Run with `npx tsx tests/bench/log.ts [runs]`. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { logCsv, openLog, parseLogQuery } from '../../src/log/index.js';
import { madeUpEntry } from '../log/support/made-up-entry.js';

const count = Number(process.argv[2] ?? 3000);
const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-bench-'));
const file = path.join(folder, 'runs.db');

/** The median of five, ms. */
function timed(name: string, work: () => unknown): void {
  const tookMs = Array.from({ length: 5 }, () => {
    const start = performance.now();
    work();
    return performance.now() - start;
  });
  const median = tookMs.sort((a, b) => a - b)[2];
  process.stdout.write(`${name.padEnd(34)} ${median.toFixed(1).padStart(8)} ms\n`);
}

try {
  const floors = ['dairy hall', 'tiled corridor', 'plywood loft', 'aluminium rail'];
  const entries = floors.map((floor, i) =>
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
  const log = openLog(file);
  const start = performance.now();
  for (let n = 0; n < count; n++) log.add(entries[n % entries.length]);
  const eachMs = (performance.now() - start) / count;
  process.stdout.write(`${count} runs, ${eachMs.toFixed(1)} ms to keep each\n`);
  timed('all of them', () => log.list());
  timed('the newest 50', () => log.list({ limit: 50 }));
  timed('one floor and a tag', () => log.list(parseLogQuery('floor=Dairy Hall, tag=night')));
  timed('words anywhere', () => log.list(parseLogQuery('text=loft soft, limit=50')));
  timed('one run as a whole', () => log.get(count));
  const rows = log.list();
  timed('CSV of all', () => logCsv(rows));
  log.close();
  process.stdout.write(`${(fs.statSync(file).size / 2 ** 20).toFixed(0)} MB on disk\n`);
  timed('opening and closing', () => openLog(file).close());
} finally {
  fs.rmSync(folder, { recursive: true, force: true });
}
