/** The whole trace of a job out of its batches. */
import { describe, expect, it } from 'vitest';
import type { Trace } from '../../../src/web/api.js';
import { MOST_SAMPLES, TraceSoFar } from '../../../src/web/jobs/trace-so-far.js';

/** Samples that tell their own number. */
function batch(from: number, count: number): Parameters<TraceSoFar['add']>[0] {
  const numbers = Array.from({ length: count }, (_, i) => from + i);
  return {
    timeS: numbers.map((k) => k / 25),
    panDeg: numbers,
    tiltDeg: numbers.map((k) => 2 * k),
    rollDeg: numbers.map((k) => -k),
  };
}

/** What a page holds that has heard every word. */
function heard(traces: readonly (Trace | null)[]): number[] {
  const pan: number[] = [];
  for (const trace of traces) if (trace) pan.splice(trace.from, Infinity, ...trace.panDeg);
  return pan;
}

describe('the trace so far', () => {
  it('tells what is new with its place, and the whole to whom comes later', () => {
    const trace = new TraceSoFar('job');
    expect(trace.whole()).toBeNull();
    expect(trace.add(batch(0, 3))).toEqual({ job: 'job', from: 0, ...batch(0, 3) });
    expect(trace.add(batch(3, 2))).toEqual({ job: 'job', from: 3, ...batch(3, 2) });
    expect(trace.whole()).toEqual({ job: 'job', from: 0, ...batch(0, 5) });
  });

  it('is thinned out evenly on an hour of frames, and a page that listens holds the same', () => {
    const trace = new TraceSoFar('job');
    const told: (Trace | null)[] = [];
    for (let from = 0; from < 90_000; from += 7) told.push(trace.add(batch(from, 7)));
    const pan = trace.whole()?.panDeg ?? [];
    expect(pan.length).toBeLessThanOrEqual(MOST_SAMPLES);
    expect(pan.length).toBeGreaterThan(MOST_SAMPLES / 2);
    pan.forEach((value, i) => expect(value).toBe(32 * i));
    expect(heard(told)).toEqual(pan);
    expect(trace.whole()?.rollDeg).toEqual(pan.map((value) => -value));
  });
});
