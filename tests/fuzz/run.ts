/**
 * Takes damaged clips through the program: `npm run fuzz -- [--count 2000] [--seed 1] [--from 0] [--processes 2] [--limit-s 60]
 * [--minutes 240] [--folder SCRATCH]`, or `-- --replay SEED:INDEX` for one of them.
 *
 * Ends with status 0 when every case ended as it must. A case that did not is printed with its seed and index, and its clip is kept.
 */
import { fork, type ChildProcess } from 'node:child_process';
import fs from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { parseArgs } from 'node:util';
import { findTools } from '../../src/footage/index.js';
import type { CaseReply, CaseRequest } from './case-worker.js';
import { makeCase } from './cases.js';
import { makeCorpus } from './corpus.js';
import { EXTREMES } from './extremes.js';
import { groupUse } from '../support/process-tree.js';
import { reportOf, type Sample } from './report-of.js';

const { values: given } = parseArgs({
  options: {
    count: { type: 'string', default: '2000' },
    seed: { type: 'string', default: '1' },
    from: { type: 'string', default: '0' },
    processes: { type: 'string', default: '2' },
    'limit-s': { type: 'string', default: '60' },
    minutes: { type: 'string', default: '240' },
    folder: { type: 'string', default: path.join(os.tmpdir(), 'trundle-fuzz') },
    replay: { type: 'string', multiple: true },
  },
});
/** Most computing time of a case; by the clock it may take so many times longer, on a machine that does much else. */
const limitS = Number(given['limit-s']);
const PATIENCE = 10;
const endMs = performance.now() + 60_000 * Number(given.minutes);
/** More than this, with all programs it started, and a case is one of too much memory. */
const MOST_BYTES = 3e9;
/** How often time and memory are looked at, ms. */
const LOOK_MS = 250;
/** Time to load the program and measure the first clip, ms. */
const START_MS = 180_000;

const write = (text: string): void => void process.stdout.write(text);
const corpusFolder = path.join(given.folder, 'corpus');
const { clips, unwritten } = await makeCorpus(corpusFolder, await findTools());
if (unwritten.length > 0) write(`not written by this FFmpeg: ${unwritten.join(', ')}\n`);

const queue = given.replay ?? [
  ...(Number(given.from) === 0 ? EXTREMES.map(({ name }) => `extreme:${name}`) : []),
  ...Array.from({ length: Number(given.count) }, (_, i) => `${given.seed}:${Number(given.from) + i}`),
];
const wanted = queue.length;
const samples: Sample[] = [];
/** One line a case, written as they end. */
const samplesFile = path.join(
  given.folder,
  given.replay ? 'replayed.jsonl' : `samples-${given.seed}-${given.from}.jsonl`,
);
await fs.rm(samplesFile, { force: true });
const WORKER = new URL(
  import.meta.url.endsWith('.ts') ? './case-worker.ts' : './case-worker.js',
  import.meta.url,
);
const alive = new Set<ChildProcess>();

/** Ends a worker with everything it started: it leads a group of its own. */
function end(worker: ChildProcess): void {
  alive.delete(worker);
  try {
    if (worker.pid !== undefined) process.kill(-worker.pid, 'SIGKILL');
  } catch {
    // It is gone already.
  }
}
for (const signal of ['SIGINT', 'SIGTERM'] as const)
  process.once(signal, () => {
    alive.forEach(end);
    write(`Stopped by ${signal} after ${samples.length} of ${wanted} cases.\n`);
    process.exit(130);
  });

async function start(number: number): Promise<ChildProcess> {
  const own = path.join(given.folder, `process-${number}`);
  const scratch = path.join(own, 'tmp');
  await fs.rm(own, { recursive: true, force: true });
  await fs.mkdir(scratch, { recursive: true });
  const worker = fork(WORKER, [corpusFolder, own], {
    detached: true,
    execArgv: [...process.execArgv.filter((word) => word !== '--expose-gc'), '--expose-gc'],
    env: { ...process.env, TMPDIR: scratch, TRUNDLE_DATA: path.join(own, 'data') },
    stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
  });
  alive.add(worker);
  if (worker.pid !== undefined) os.setPriority(worker.pid, 10);
  const ready = await answer(worker, START_MS);
  if (typeof ready === 'string') {
    end(worker);
    throw new Error(`A process for cases did not start: ${ready}`);
  }
  return worker;
}

/** The next message of a worker, or why none came. @param isTooMuch asked now and then: what is too much, or null */
function answer(
  worker: ChildProcess,
  withinMs: number,
  isTooMuch: () => string | null = () => null,
): Promise<CaseReply | string> {
  return new Promise((resolve) => {
    const settle = (what: CaseReply | string): void => {
      clearTimeout(timer);
      clearInterval(looking);
      worker.off('message', settle).off('exit', left);
      resolve(what);
    };
    const left = (code: number | null, signal: string | null): void =>
      settle(`the process ended (${code ?? signal})`);
    const timer = setTimeout(() => settle(`no end within ${withinMs / 1000} s`), withinMs);
    const looking = setInterval(() => {
      const what = isTooMuch();
      if (what !== null) settle(what);
    }, LOOK_MS);
    worker.once('message', settle).once('exit', left);
  });
}

async function ask(worker: ChildProcess, id: string): Promise<Sample> {
  const leader = worker.pid ?? 0;
  const before = groupUse(leader);
  let peakBytes = before.bytes;
  const startedMs = performance.now();
  worker.send({ id } satisfies CaseRequest);
  const reply = await answer(worker, PATIENCE * limitS * 1000, () => {
    const { bytes, computedS } = groupUse(leader);
    peakBytes = Math.max(peakBytes, bytes);
    return computedS - before.computedS > limitS ? `no end after ${limitS} s of computing` : null;
  });
  const peakMb = peakBytes / 1e6;
  if (typeof reply !== 'string') {
    const fault = reply.fault ?? (peakBytes > MOST_BYTES ? `took ${Math.round(peakMb)} MB of memory` : null);
    return { ...reply, fault, peakMb };
  }
  const { clip, steps } = makeCase(id, clips);
  const tookS = (performance.now() - startedMs) / 1000;
  const outcome = reply.startsWith('no end') ? 'hang' : 'crash';
  return { id, clip: clip.name, steps, outcome, fault: reply, tookS, residentMb: 0, peakMb };
}

async function keep(sample: Sample): Promise<void> {
  const folder = path.join(given.folder, 'failures');
  await fs.mkdir(folder, { recursive: true });
  const { bytes, extension } = makeCase(sample.id, clips);
  const stem = path.join(folder, `${sample.id.replace(/\W/g, '-')}-${sample.clip}`);
  await fs.writeFile(`${stem}${extension}`, bytes);
  await fs.writeFile(`${stem}.json`, JSON.stringify(sample, null, 2));
  write(`FAULT ${sample.id} ${sample.clip} (${sample.steps.join('; ')}): ${sample.fault}\n`);
}

async function serve(number: number): Promise<void> {
  let worker = await start(number);
  try {
    for (let id = queue.shift(); id !== undefined && performance.now() < endMs; id = queue.shift()) {
      const sample = await ask(worker, id);
      samples.push(sample);
      await fs.appendFile(samplesFile, `${JSON.stringify(sample)}\n`);
      if (sample.fault !== null) await keep(sample);
      if (given.replay) write(`${JSON.stringify(sample, null, 2)}\n`);
      else if (samples.length % 100 === 0) write(`${samples.length} of ${wanted}\n`);
      if (sample.outcome === 'hang' || sample.outcome === 'crash') {
        end(worker);
        worker = await start(number);
      }
    }
  } finally {
    end(worker);
  }
}

await Promise.all(Array.from({ length: Math.min(Number(given.processes), wanted) }, (_, i) => serve(i)));
write(reportOf(samples));
if (samples.length < wanted) write(`Time was up after ${samples.length} of ${wanted} cases.\n`);
process.exitCode = samples.length < wanted || samples.some(({ fault }) => fault !== null) ? 1 : 0;
