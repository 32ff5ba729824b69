/** The running angles as they are put together on the page. */
import { describe, expect, it } from 'vitest';
import type { Trace } from '../../../src/web/api.js';
import { joinTrace } from '../../../src/web/page/joined-trace.js';

const piece = (from: number, timeS: readonly number[]): Trace => ({
  job: 'j1',
  from,
  timeS,
  panDeg: timeS.map((s) => s * 2),
  tiltDeg: timeS.map((s) => -s),
  rollDeg: timeS.map(() => 0.5),
});

describe('a trace in pieces', () => {
  it('grows by each, its columns together', () => {
    const joined = joinTrace(joinTrace(undefined, piece(0, [0, 1])), piece(2, [2]));
    expect(joined).toEqual({
      timeS: [0, 1, 2],
      panDeg: [0, 2, 4],
      tiltDeg: [-0, -1, -2],
      rollDeg: [0.5, 0.5, 0.5],
    });
  });

  it('begins anew with a piece from the start', () => {
    const before = joinTrace(undefined, piece(0, [0, 1, 2]));
    expect(joinTrace(before, piece(0, [7])).timeS).toEqual([7]);
  });

  it('has a stretch told twice only once, as it was told last', () => {
    const before = joinTrace(undefined, piece(0, [0, 1, 2]));
    expect(joinTrace(before, piece(1, [1.5, 2.5, 3])).timeS).toEqual([0, 1.5, 2.5, 3]);
    expect(before.timeS).toEqual([0, 1, 2]);
  });
});
