/** Local maxima of a map of corner strengths, in plain code; what the SIMD kernel does in assembly/maxima.ts. */

/**
 * Places in a map, off its border, that exceed a floor and each of their eight neighbours; of equal neighbours the first one in
 * reading order counts, so that a plateau gives one place.
 * @param map row by row, a whole number of rows
 * @returns indices into the map, rising
 */
export function localMaxima(map: Float32Array, widthPx: number, floor: number): number[] {
  const places: number[] = [];
  const heightPx = map.length / widthPx;
  for (let row = 1; row < heightPx - 1; row++) {
    for (let i = row * widthPx + 1, end = i + widthPx - 2; i < end; i++) {
      const v = map[i];
      if (v <= floor) continue;
      const [above, below] = [i - widthPx, i + widthPx];
      if (v < map[i + 1] || v < map[below - 1] || v < map[below] || v < map[below + 1]) continue;
      if (v <= map[i - 1] || v <= map[above - 1] || v <= map[above] || v <= map[above + 1]) continue;
      places.push(i);
    }
  }
  return places;
}
