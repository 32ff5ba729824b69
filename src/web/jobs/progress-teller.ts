/** Passes progress on as often as somebody can read it. */
import type { JobStage } from '../api.js';
import type { FromWorker } from './protocol.js';

/** Least time between two reports of one stage, ms. */
const BETWEEN_MS = 100;

/** Reports that are told at the start of each stage, at its end, and now and then between. */
export function progressTeller(
  tell: (message: FromWorker) => void,
): (stage: JobStage, done: number, total: number | null) => void {
  let lastStage: JobStage | null = null;
  let lastMs = 0;
  return (stage, done, total) => {
    const nowMs = performance.now();
    if (stage === lastStage && done !== total && nowMs - lastMs < BETWEEN_MS) return;
    lastStage = stage;
    lastMs = nowMs;
    tell({ kind: 'progress', stage, done, total });
  };
}
