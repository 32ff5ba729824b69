/** The table at the end of a run: how many cases ended in which way, the slowest, the largest, and what went wrong. */
import type { CaseReply } from './case-worker.js';

/** A case that was run. */
export interface Sample extends CaseReply {
  /** Most memory seen with all programs it started, megabytes. */
  readonly peakMb: number;
}

/** As text, one line each. */
export function reportOf(samples: readonly Sample[]): string {
  if (samples.length === 0) return 'No case was run.\n';
  const counts = tally(samples.map(({ outcome }) => outcome));
  const oracle = tally(samples.flatMap((sample) => (sample.oracle ? [sample.oracle] : [])));
  const largest = (of: (sample: Sample) => number): Sample =>
    samples.reduce((most, one) => (of(one) > of(most) ? one : most));
  const slowest = largest(({ tookS }) => tookS);
  const fattest = largest(({ peakMb }) => peakMb);
  const faults = samples.filter(({ fault }) => fault !== null);
  return [
    `${samples.length} cases`,
    ...counts.map(([outcome, count]) => `  ${String(count).padStart(6)}  ${outcome}`),
    `figures held against the original's: ${oracle.map(([what, count]) => `${count} ${what}`).join(', ') || 'none'}`,
    `slowest ${slowest.tookS.toFixed(1)} s: ${slowest.id} (${slowest.clip})`,
    `most memory ${fattest.peakMb.toFixed(0)} MB with all programs: ${fattest.id} (${fattest.clip})`,
    `most memory kept after a case ${largest(({ residentMb }) => residentMb).residentMb.toFixed(0)} MB`,
    `${faults.length} faults${faults.length > 0 ? `: ${faults.map(({ id }) => id).join(', ')}` : ''}`,
    '',
  ].join('\n');
}

function tally(words: readonly string[]): [string, number][] {
  const counts = new Map<string, number>();
  for (const word of words) counts.set(word, (counts.get(word) ?? 0) + 1);
  return [...counts].sort((a, b) => b[1] - a[1]);
}
