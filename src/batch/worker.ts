/** The process of one clip of many. */
import { printableLines } from '../run/plain.js';
import type { FromMeasuring, MeasureOrder } from './protocol.js';
import { serveWork } from './serve-work.js';

/** Least time between two reports of one stage, ms. */
const BETWEEN_MS = 200;

serveWork(async (order: MeasureOrder, tell: (message: FromMeasuring) => void, signal) => {
  // The line is loaded only now: so the first sign of life comes at once.
  const { failureOf } = await import('./failure.js');
  try {
    const { measureOne } = await import('./measure-one.js');
    let last = { stage: '', atMs: 0 };
    const measured = await measureOne(order, {
      signal,
      onProgress(stage, done, total) {
        const atMs = performance.now();
        if (stage === last.stage && atMs - last.atMs < BETWEEN_MS) return;
        last = { stage, atMs };
        tell({ kind: 'progress', stage, done, total });
      },
    });
    return { kind: 'done', measured } satisfies FromMeasuring;
  } catch (error) {
    const failure = failureOf(error);
    if (failure.code === 'fault' && process.env['TRUNDLE_DEBUG'] && error instanceof Error)
      process.stderr.write(printableLines(`${error.stack ?? error.message}\n`));
    return { kind: 'failed', failure } satisfies FromMeasuring;
  }
});
