/** How fast a picture grows, from steps of tracks, and the choice that follows from it. */
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/numerics/index.js';
import { RefineSwitch, scaleRate, type Steps } from '../../src/tracking/scale-change.js';
import { expectWithin } from '../support/expect-within.js';

/** Steps of 200 tracks spread over the picture. */
function steps(move: (x: number, y: number, track: number) => readonly [number, number]): Steps {
  const random = seededRandom(3);
  const xPx = Array.from({ length: 200 }, () => 960 * random());
  const yPx = Array.from({ length: 200 }, () => 540 * random());
  const moved = xPx.map((x, i) => move(x, yPx[i], i));
  return { xPx, yPx, dxPx: moved.map(([dx]) => dx), dyPx: moved.map(([, dy]) => dy) };
}

describe('scaleRate', () => {
  it('is the growth per frame, whatever shift and turn go with it', () => {
    const grown = steps((x, y) => [3 + 0.002 * x - 0.01 * y, -1 + 0.01 * x + 0.002 * y]);
    expectWithin(scaleRate(grown), 0.002, { rel: 1e-6, why: 'exact steps' });
    const shrunk = steps((x, y) => [-0.003 * x, -0.003 * y]);
    expectWithin(scaleRate(shrunk), -0.003, { rel: 1e-6, why: 'exact steps' });
  });

  it('hardly heeds one track in five that goes its own way', () => {
    const random = seededRandom(9);
    const mixed = steps((x, y, track) =>
      track % 5 === 0 ? [20 * random(), 20 * random()] : [0.002 * x, 0.002 * y],
    );
    expectWithin(scaleRate(mixed), 0.002, { rel: 0.25, why: 'less than the gap between the two limits' });
  });

  it('is none where a scene near on one side, or a floor, streams past', () => {
    const nearOnTheRight = steps((x, _, track) => [2 + 0.004 * x, 0.01 * Math.sin(track)]);
    expect(Math.abs(scaleRate(nearOnTheRight))).toBeLessThan(1e-4);
    const floor = steps((_, y) => [1 + 0.01 * y, 0]);
    expect(Math.abs(scaleRate(floor))).toBeLessThan(1e-9);
  });

  it('is none when the tracks are few or lie on one line', () => {
    const few = steps((x, y) => [0.002 * x, 0.002 * y]);
    const cut = (values: readonly number[]): number[] => values.slice(0, 11);
    const { xPx, yPx, dxPx, dyPx } = few;
    expect(scaleRate({ xPx: cut(xPx), yPx: cut(yPx), dxPx: cut(dxPx), dyPx: cut(dyPx) })).toBe(0);
    expect(scaleRate({ ...few, yPx: xPx })).toBe(0);
  });
});

describe('RefineSwitch', () => {
  const states = (rates: readonly number[], refine: 'auto' | 'always' | 'never' = 'auto'): boolean[] => {
    const choice = new RefineSwitch(refine);
    return rates.map((rate) => {
      choice.note(rate);
      return choice.isOn;
    });
  };

  it('comes on after five frames of a push-in and goes off when it stands still', () => {
    const on = states([...Array<number>(20).fill(1.05e-3), ...Array<number>(20).fill(0)]);
    expect(on.indexOf(true)).toBe(4);
    expect(on.lastIndexOf(true)).toBe(27);
    expect(on.slice(4, 28)).not.toContain(false);
  });

  it('does not flicker between its two limits', () => {
    const wavering = Array.from({ length: 60 }, (_, k) => 3e-4 + 0.8e-4 * Math.sin(k));
    expect(states(wavering)).not.toContain(true);
    expect(
      states([...Array<number>(10).fill(-1e-3), ...wavering.map((rate) => -rate)]).slice(5),
    ).not.toContain(false);
  });

  it('heeds nothing when it is told', () => {
    expect(states(Array<number>(20).fill(1e-3), 'never')).not.toContain(true);
    expect(states(Array<number>(20).fill(0), 'always')).not.toContain(false);
  });
});
