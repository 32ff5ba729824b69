/**
 * Gaps under a straightedge that lies on two high points of a profile, metres, for every place where it can be laid.
 *
 * The bar is not levelled: within its length it rests on the upper convex hull of the profile. Every edge of that hull is a pair of
 * high points on which a bar of this length can lie with nothing in its way.
 */

/** The bar on one pair of high points; indices into the profile. */
export interface BarRest {
  readonly gapM: number;
  /** The two high points, and the lowest point between them as seen from the bar. */
  readonly from: number;
  readonly to: number;
  readonly lowest: number;
}

/** All gaps under a bar of one length. */
export interface BarGaps {
  readonly largest: BarRest;
  /** Largest gap of each placement of the bar, one for each point at which it can begin. */
  readonly byPlaceM: Float64Array;
  /** Largest gap between high points k steps apart, k = 0 .. steps; 0 where no such pair carries the bar. */
  readonly bySpanM: Float64Array;
}

/**
 * Lays the bar at every point of the profile.
 *
 * Exact; O(steps) for each placement (monotone chain of Andrew 1979, known from memory), gaps of edges that outlive a placement are
 * kept. A flat or bulging profile has gaps of 0.
 *
 * @param heightM heights at even steps, at least steps + 1
 * @param steps length of the bar in steps, rounded down, at least 2
 * @throws RangeError when the bar is longer than the profile or shorter than two steps
 * @example gapsUnderBar(Float64Array.of(0, -1e-3, 0), 2).largest.gapM // 0.001
 */
export function gapsUnderBar(heightM: Float64Array, steps: number): BarGaps {
  const placements = heightM.length - steps;
  if (!(steps >= 2)) throw new RangeError(`steps must be at least 2, got ${steps}`);
  if (placements < 1)
    throw new RangeError(`a bar of ${steps} steps needs more than ${heightM.length} points`);
  const byPlaceM = new Float64Array(placements);
  const bySpanM = new Float64Array(steps + 1);
  const hull = new Int32Array(steps + 1);
  const edgeTo = new Int32Array(heightM.length).fill(-1);
  const edgeGapM = new Float64Array(heightM.length);
  let from = 0;
  let to = steps;
  let largestM = -1;
  for (let place = 0; place < placements; place++) {
    const corners = upperHull(heightM, place, place + steps, hull);
    for (let k = 1; k < corners; k++) {
      const a = hull[k - 1];
      const b = hull[k];
      if (edgeTo[a] !== b) {
        edgeTo[a] = b;
        edgeGapM[a] = gapAt(heightM, a, b, lowestUnder(heightM, a, b));
      }
      const gapM = edgeGapM[a];
      if (gapM > byPlaceM[place]) byPlaceM[place] = gapM;
      if (gapM > bySpanM[b - a]) bySpanM[b - a] = gapM;
      if (gapM > largestM) {
        largestM = gapM;
        from = a;
        to = b;
      }
    }
  }
  return { largest: { gapM: largestM, from, to, lowest: lowestUnder(heightM, from, to) }, byPlaceM, bySpanM };
}

/** Fills `hull` with the corners of the upper convex hull of points first .. last and tells how many there are. */
function upperHull(heightM: Float64Array, first: number, last: number, hull: Int32Array): number {
  let count = 0;
  for (let c = first; c <= last; c++) {
    while (count >= 2) {
      const a = hull[count - 2];
      const b = hull[count - 1];
      // A corner stays when it stands above the line from the one before it to the new point.
      if ((heightM[b] - heightM[a]) * (c - a) > (heightM[c] - heightM[a]) * (b - a)) break;
      count--;
    }
    hull[count++] = c;
  }
  return count;
}

/** Point farthest below the line from a to b, both ends included; the first of equals. */
function lowestUnder(heightM: Float64Array, a: number, b: number): number {
  let lowest = a;
  let widestM = 0;
  for (let i = a + 1; i < b; i++) {
    const gapM = gapAt(heightM, a, b, i);
    if (gapM > widestM) {
      widestM = gapM;
      lowest = i;
    }
  }
  return lowest;
}

function gapAt(heightM: Float64Array, a: number, b: number, i: number): number {
  return heightM[a] + ((heightM[b] - heightM[a]) * (i - a)) / (b - a) - heightM[i];
}
