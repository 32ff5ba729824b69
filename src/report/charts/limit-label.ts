/** The value of a limit, written at its line where it covers least of the curve; px of the chart. */
import type { PlotArea } from './axes.js';
import { boxAround, labelBox, overlap, type Box, type LabelPlace, type Spot } from './place-label.js';
import { textElement } from './svg.js';

/** A limit as it is drawn. */
export interface LimitLine {
  readonly text: string;
  /** Height of the line; the upper edge for a limit that lies above the chart. */
  readonly y: number;
}

/** How far a text stands from the end of the line, above it and below it, px. */
const INSET = 4;
const ABOVE = -4;
const BELOW = 12;

/** The text and what it takes up: above or below the line, at its left or its right end. */
export function limitLabel(
  { text, y }: LimitLine,
  area: PlotArea,
  covered: readonly Box[],
): { readonly svg: string; readonly box: Box } {
  const places = [ABOVE, BELOW].flatMap((offset): LabelPlace[] => [
    { x: area.left + INSET, y: y + offset, anchor: 'start' },
    { x: area.right - INSET, y: y + offset, anchor: 'end' },
  ]);
  const inside = places.filter((place) => {
    const { top, bottom } = labelBox(text, place);
    return top >= area.top - INSET && bottom <= area.bottom;
  });
  const place = leastCovered(text, inside.length > 0 ? inside : places, covered);
  return {
    svg: textElement(
      {
        class: 'limit-label',
        x: place.x,
        y: place.y,
        'text-anchor': place.anchor === 'start' ? null : place.anchor,
      },
      text,
    ),
    box: labelBox(text, place),
  };
}

/**
 * The first of the places where the text covers fewest boxes.
 *
 * @param places not empty
 * @param names other names: one more of them covered counts more than all of the boxes
 */
export function leastCovered<Place extends LabelPlace>(
  text: string,
  places: readonly Place[],
  covered: readonly Box[],
  names: readonly Box[] = [],
): Place {
  const costs = places.map((place) => {
    const box = labelBox(text, place);
    const over = (boxes: readonly Box[]): number => boxes.filter((other) => overlap(box, other)).length;
    return over(covered) + (covered.length + 1) * over(names);
  });
  return places[costs.indexOf(Math.min(...costs))];
}

/** What a curve takes up: small boxes along its straight pieces. */
export function boxesAlong(spots: readonly Spot[], everyPx = 10, half = 4): Box[] {
  return spots.slice(1).flatMap((to, i) => {
    const from = spots[i];
    const steps = Math.max(1, Math.ceil(Math.hypot(to.x - from.x, to.y - from.y) / everyPx));
    return Array.from({ length: steps + 1 }, (_, k) =>
      boxAround(
        { x: from.x + ((to.x - from.x) * k) / steps, y: from.y + ((to.y - from.y) * k) / steps },
        half,
      ),
    );
  });
}
