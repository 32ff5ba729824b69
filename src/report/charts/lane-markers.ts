/** The shapes that tell lanes apart in charts: one for each lane, filled ones first, then the same with an empty inside. */
import {
  symbol,
  symbolCircle,
  symbolCross,
  symbolDiamond,
  symbolSquare,
  symbolStar,
  symbolTriangle,
  symbolWye,
  type SymbolType,
} from 'd3-shape';
import { element } from './svg.js';

const SHAPES: readonly SymbolType[] = [
  symbolCircle,
  symbolTriangle,
  symbolSquare,
  symbolDiamond,
  symbolCross,
  symbolStar,
  symbolWye,
];
/** Area of a shape, px². */
const AREA = 52;

/** So many lanes have a shape of their own; from there on they begin again. */
export const MARKERS = 2 * SHAPES.length;

/** The shape of lane number `lane` (from 0) about a place in px. @param leftOut drawn empty and broken: what does not count */
export function laneMarker(lane: number, x: number, y: number, leftOut = false): string {
  const empty = lane % MARKERS >= SHAPES.length;
  return element('path', {
    class: leftOut ? 'pass-dot left-out' : empty ? 'pass-dot empty' : 'pass-dot',
    transform: `translate(${x.toFixed(2)} ${y.toFixed(2)})`,
    d: symbol(SHAPES[lane % SHAPES.length], AREA).digits(2)() ?? '',
  });
}

/** The shape alone for a legend of text; hidden from those who hear the page, since its name stands beside it. */
export function markerKey(lane: number): string {
  return element(
    'svg',
    { viewBox: '0 0 16 16', width: 16, height: 16, 'aria-hidden': 'true', focusable: 'false', class: 'key' },
    laneMarker(lane, 8, 8),
  );
}
