/** Timing of work that is repeated. */
import { median } from '../../src/numerics/index.js';

/** The median of several timings of the same work, ms; the first, which warms up, is not counted. */
export function medianMs(work: () => unknown, times = 5): number {
  work();
  const tookMs = Array.from({ length: times }, () => {
    const start = performance.now();
    work();
    return performance.now() - start;
  });
  return median(Float64Array.from(tookMs));
}
