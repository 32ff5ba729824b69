/** Shapes of joints, steps, bumps and dips in the strip, px: the shape tells the kind, filled is up and empty is down. */
import { symbol, symbolCircle, symbolDiamond, symbolSquare, symbolTriangle, type SymbolType } from 'd3-shape';
import type { StripBump } from './floor-strip-data.js';
import { element, px } from './svg.js';

const SHAPES: Record<StripBump['kind'], SymbolType> = {
  joint: symbolDiamond,
  step: symbolTriangle,
  bump: symbolCircle,
  dip: symbolSquare,
};

/** Area of the highest mark and the least of any, px². */
const HIGHEST_PX2 = 250;
const LEAST_PX2 = 34;

/** Draws a mark about a place; its area goes with its height against `mostMm`, the height of the highest. */
export function bumpMark(
  kind: StripBump['kind'],
  heightMm: number,
  mostMm: number,
  x: number,
  y: number,
): string {
  const area = mostMm > 0 ? Math.max(LEAST_PX2, (HIGHEST_PX2 * Math.abs(heightMm)) / mostMm) : LEAST_PX2;
  // A triangle points where the wheel goes.
  const turned = kind === 'step' && heightMm < 0 ? ' rotate(180)' : '';
  return element('path', {
    class: heightMm < 0 ? 'bump-mark down' : 'bump-mark',
    transform: `translate(${px(x)} ${px(y)})${turned}`,
    d: symbol(SHAPES[kind], area).digits(2)() ?? '',
  });
}

/** A number at its place. */
export interface PlacedMark {
  readonly mark: string;
  readonly x: number;
  /** 0 is the row next to the wheel line. */
  readonly row: number;
}

const LETTER_PX = 7;
const GAP_PX = 5;

/** Numbers in rows so that none covers another; the first ones (the worst bumps) choose first, and what finds no room is left out. */
export function placeMarks(
  marks: readonly { readonly mark: string; readonly x: number }[],
  rows = 2,
): PlacedMark[] {
  const placed: PlacedMark[] = [];
  for (const { mark, x } of marks) {
    if (mark === '') continue;
    const free = (row: number): boolean =>
      placed.every(
        (other) =>
          other.row !== row ||
          Math.abs(other.x - x) >= (LETTER_PX * (mark.length + other.mark.length)) / 2 + GAP_PX,
      );
    const row = Array.from({ length: rows }, (_, i) => i).find(free);
    if (row !== undefined) placed.push({ mark, x, row });
  }
  return placed;
}
