/**
 * Shapes added to the floor, unit height or depth, as an axle sees them during an exposure (metres), and as sparse columns over the
 * nodes of a stretch.
 *
 * A shape is kept as its differences from node to node: a step has a few at its place and none behind, a bump a few that add up to
 * nothing. With S(i, j) the sum of the information over all nodes from i and j on, e' Q f = sum over i, j of the differences of e
 * and f times S(i, j), so a product costs a few multiplications whatever the length of the run.
 */

/** What a ramp is wider than the way during the exposure: wheel and edge, metres. */
const EDGE_M = 0.004;
/** Base of the dip of a wheel into a gap, metres. */
export const GAP_M = 0.006;
/** The half width by which it is blunter than a triangle, metres. */
const BLUNT_M = 0.001;
/** Shortest way during an exposure that a shape is averaged over, metres. */
const LEAST_BLUR_M = 1e-4;

/** A shape by its differences: node `at[k]` is higher than the one before by `by[k]`; `at` rises. */
export interface SparseColumn {
  readonly at: readonly number[];
  readonly by: readonly number[];
}

/** Height of a shape of unit size, by the way from its place, metres, and how far from its place it changes. */
export interface UnitShape {
  readonly heightAt: (wayM: number) => number;
  readonly reachM: number;
}

/** A rise from 0 to 1 that lasts behind its place; a ramp over the way of the exposure and 4 mm. */
export function unitStep(blurM: number): UnitShape {
  const width = blurM + EDGE_M;
  return { heightAt: (way) => Math.min(1, Math.max(0, way / width + 0.5)), reachM: width / 2 };
}

/** A narrow dip of unit depth as it lasts for the wheel (height -1), shallower by what the exposure averages. */
export function unitDip(blurM: number): UnitShape {
  const half = GAP_M / 2 + BLUNT_M;
  const area = (y: number): number => {
    if (y < -half) return 0;
    if (y < 0) return (y + half) ** 2 / (2 * half);
    if (y < half) return half - (half - y) ** 2 / (2 * half);
    return half;
  };
  const hump = averaged(area, half, blurM);
  return { ...hump, heightAt: (way) => -hump.heightAt(way) };
}

/** A raised cosine of unit height, averaged over the exposure. */
export function unitBump(lengthM: number, blurM: number): UnitShape {
  const half = lengthM / 2;
  const area = (y: number): number => {
    const inside = Math.min(half, Math.max(-half, y));
    return (inside + half + (half / Math.PI) * Math.sin((Math.PI * inside) / half)) / 2;
  };
  return averaged(area, half, blurM);
}

/** The shape of an event that was found: a step, the narrow dip of a wheel into a gap, or a raised cosine of its length. */
export function unitShape(
  { shape, lengthM }: { readonly shape: 'step' | 'dip' | 'bump'; readonly lengthM: number },
  blurM: number,
): UnitShape {
  if (shape === 'step') return unitStep(blurM);
  return shape === 'dip' && lengthM <= GAP_M ? unitDip(blurM) : unitBump(lengthM, blurM);
}

/** A hump given by the area under it up to a way, averaged over the way of an exposure. */
function averaged(area: (way: number) => number, halfM: number, blurM: number): UnitShape {
  const blur = Math.max(blurM, LEAST_BLUR_M);
  return {
    heightAt: (way) => (area(way + blur / 2) - area(way - blur / 2)) / blur,
    reachM: halfM + blur / 2,
  };
}

/** A shape at a place, on rising nodes; one that begins before the first node stands at it already. */
export function columnAt(shape: UnitShape, placeM: number, nodesM: Readonly<Float64Array>): SparseColumn {
  const at: number[] = [];
  const by: number[] = [];
  let before = 0;
  for (let i = firstNodeFrom(nodesM, placeM - shape.reachM); i < nodesM.length; i++) {
    const way = nodesM[i] - placeM;
    const height = shape.heightAt(way);
    if (height !== before) {
      at.push(i);
      by.push(height - before);
      before = height;
    }
    if (way > shape.reachM) break;
  }
  return { at, by };
}

/** Index of the first node at or behind a place; the number of nodes when there is none. */
export function firstNodeFrom(nodesM: Readonly<Float64Array>, placeM: number): number {
  let low = 0;
  let high = nodesM.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (nodesM[middle] < placeM) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Sum of a column's differences times the sums from their nodes on: the shape times what was summed. */
export function along({ at, by }: SparseColumn, sumsFrom: Readonly<Float64Array>): number {
  let sum = 0;
  for (let k = 0; k < at.length; k++) sum += by[k] * sumsFrom[at[k]];
  return sum;
}
