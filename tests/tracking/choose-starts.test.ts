import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/numerics/index.js';
import { BUCKETS, bucketArea, bucketOf, bucketsToFill, fillOf } from '../../src/tracking/buckets.js';
import { chooseStarts, weakestUseful } from '../../src/tracking/choose-starts.js';
import type { Corners } from '../../src/vision/index.js';

const SIZE = { widthPx: 960, heightPx: 540 };

/** Corners scattered at random, one list per bucket as the workers give them. */
function scattered(count: number, seed: number): Corners[] {
  const random = seededRandom(seed);
  const lists = Array.from({ length: BUCKETS }, () => ({
    x: [] as number[],
    y: [] as number[],
    s: [] as number[],
  }));
  for (let i = 0; i < count; i++) {
    const [x, y] = [Math.floor(960 * random()), Math.floor(540 * random())];
    const list = lists[bucketOf(x, y, 960, 540)];
    list.x.push(x);
    list.y.push(y);
    list.s.push(random());
  }
  return lists.map(({ x, y, s }) => ({
    xPx: Int32Array.from(x),
    yPx: Int32Array.from(y),
    strength: Float32Array.from(s),
  }));
}

const NONE = { xPx: [], yPx: [] };

describe('the buckets', () => {
  it.each([
    [320, 180],
    [160, 96],
    [333, 187],
  ])(
    'cover a picture of %i x %i px without gap or overlap',
    (widthPx, heightPx) => {
      const owner = new Int32Array(widthPx * heightPx).fill(-1);
      for (let bucket = 0; bucket < BUCKETS; bucket++) {
        const area = bucketArea(bucket, widthPx, heightPx);
        for (let y = area.yPx; y < area.yPx + area.heightPx; y++) {
          for (let x = area.xPx; x < area.xPx + area.widthPx; x++) {
            expect(owner[y * widthPx + x]).toBe(-1);
            owner[y * widthPx + x] = bucketOf(x, y, widthPx, heightPx);
            if (owner[y * widthPx + x] !== bucket)
              expect.unreachable(`${x}, ${y} is not in bucket ${bucket}`);
          }
        }
      }
      expect(owner.includes(-1)).toBe(false);
    },
    20_000,
  );

  it('are filled like vessels, the emptiest first', () => {
    expect(bucketsToFill([3, 0, 2, 0], 2)).toEqual([1, 3]);
    expect(bucketsToFill([3, 0, 2, 0], 4)).toEqual([1, 3]);
    expect(bucketsToFill([3, 0, 2, 0], 5)).toEqual([1, 2, 3]);
    expect(bucketsToFill([3, 0, 2, 0], 8)).toEqual([0, 1, 2, 3]);
    expect(bucketsToFill([1, 1], 0)).toEqual([]);
  });
});

describe('chooseStarts', () => {
  const corners = scattered(4000, 1);
  const request = { ...SIZE, count: 280, spacingPx: 9.6, weakest: 0 };

  it('gives the wanted number, two to a bucket at most one apart', () => {
    const starts = chooseStarts(corners, NONE, request);
    expect(starts.xPx).toHaveLength(280);
    const fill = fillOf(starts, 960, 540);
    expect(Math.max(...fill)).toBe(2);
    expect(Math.min(...fill)).toBe(1);
  });

  it('keeps its distance from live tracks and between starts', () => {
    const live = { xPx: [480.4], yPx: [270.2] };
    const starts = chooseStarts(corners, live, { ...request, count: 1000 });
    const x = [480.4, ...Array.from(starts.xPx)];
    const y = [270.2, ...Array.from(starts.yPx)];
    let nearest = Infinity;
    for (let i = 0; i < x.length; i++) {
      for (let j = 0; j < i; j++) nearest = Math.min(nearest, Math.hypot(x[i] - x[j], y[i] - y[j]));
    }
    expect(starts.xPx.length).toBeGreaterThan(500);
    expect(nearest).toBeGreaterThanOrEqual(9.6);
  });

  it('takes the strongest corner of a bucket first and none that is too weak', () => {
    const bucket = scattered(4000, 2)[40];
    const starts = chooseStarts([bucket], NONE, { ...request, count: 1 });
    const best = bucket.strength.indexOf(Math.max(...bucket.strength));
    expect([starts.xPx[0], starts.yPx[0]]).toEqual([bucket.xPx[best], bucket.yPx[best]]);
    expect(chooseStarts([bucket], NONE, { ...request, weakest: 2 }).xPx).toHaveLength(0);
  });

  it('chooses the same from the emptiest buckets alone as from the whole picture', () => {
    const all = chooseStarts(corners, NONE, request);
    for (const lost of [12, 40, 120]) {
      const random = seededRandom(lost);
      const kept = Array.from({ length: 280 }, (_, i) => i)
        .sort(() => random() - 0.5)
        .slice(lost);
      const live = { xPx: kept.map((i) => all.xPx[i]), yPx: kept.map((i) => all.yPx[i]) };
      const buckets = bucketsToFill(fillOf(live, 960, 540), lost);
      expect(buckets.length).toBeLessThan(BUCKETS);
      const part = chooseStarts(
        buckets.map((bucket) => corners[bucket]),
        live,
        { ...request, count: lost },
      );
      expect(part).toEqual(chooseStarts(corners, live, { ...request, count: lost }));
    }
  });

  it('measures "too weak" against the strong corners, not against one that outshines them', () => {
    const plain: Corners = {
      xPx: new Int32Array(400),
      yPx: new Int32Array(400),
      strength: new Float32Array(400).fill(1),
    };
    expect(weakestUseful([plain])).toBeCloseTo(0.003, 6);
    plain.strength[7] = 1e6;
    expect(weakestUseful([plain])).toBeCloseTo(0.003, 6);
    expect(weakestUseful([])).toBe(0);
  });
});
