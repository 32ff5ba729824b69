/** Runs errands in processes of their own, some times over, and keeps the medians. */
import { fork } from 'node:child_process';
import { median } from '../../../src/numerics/index.js';
import { groupUse } from '../../support/process-tree.js';
import type { Errand, Taken } from './clip-worker.js';

/** Medians of some runs. */
export interface Timing extends Taken {
  /** Most memory of the process and all it started, megabytes, shared pages counted once for each; null where the system does not tell. */
  readonly peakMb: number | null;
  /** From the start of the process to its word, seconds. */
  readonly sinceStartS: number;
}

const WORKER = new URL('./clip-worker.ts', import.meta.url);
/** The one errand in which the start of the program counts: nothing but the program may be loaded. */
const FIRST = new URL('./first-frame.mjs', import.meta.url);
const LOOK_MS = 20;

/** Medians of `repeats` runs. @throws Error when a run ends without a word */
export async function timed(errand: Errand, repeats: number): Promise<Timing> {
  const all: Timing[] = [];
  for (let n = 0; n < repeats; n++) all.push(await once(errand));
  const middle = (of: (one: Timing) => number): number => median(Float64Array.from(all, of));
  const [first] = all;
  return {
    ...first,
    wallS: middle(({ wallS }) => wallS),
    cpuS: middle(({ cpuS }) => cpuS),
    sinceStartS: middle(({ sinceStartS }) => sinceStartS),
    peakMb: first.peakMb === null ? null : middle(({ peakMb }) => peakMb ?? 0),
  };
}

function once(errand: Errand): Promise<Timing> {
  const startedMs = performance.now();
  const isFirst = errand.work === 'first';
  const worker = fork(isFirst ? FIRST : WORKER, [JSON.stringify(errand)], {
    execArgv: isFirst ? [] : process.execArgv,
    detached: true,
    stdio: ['ignore', 'ignore', 'inherit', 'ipc'],
  });
  let peakBytes = 0;
  const looking = setInterval(() => {
    peakBytes = Math.max(peakBytes, groupUse(worker.pid ?? 0).bytes);
  }, LOOK_MS);
  return new Promise((resolve, reject) => {
    let told: Timing | null = null;
    worker.once('message', (taken: Taken) => {
      const sinceStartS = (performance.now() - startedMs) / 1000;
      told = { ...taken, sinceStartS, peakMb: peakBytes > 0 ? peakBytes / 1e6 : null };
    });
    worker.once('exit', (code) => {
      clearInterval(looking);
      if (told) resolve(told);
      else reject(new Error(`${errand.work} of ${errand.clip} ended without a word (${code})`));
    });
  });
}
