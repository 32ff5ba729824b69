/** Where the name of a point in a chart stands so that it covers as little as it can; px of the chart. */

/** A place in px. */
export interface Spot {
  readonly x: number;
  readonly y: number;
}

/** A text at a place: x of its anchor, y of its base line. */
export interface LabelPlace extends Spot {
  readonly anchor: 'start' | 'middle' | 'end';
}

/** A rectangle in px; y grows downwards. */
export interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** Height of small print and mean width of its letters, px. */
const TEXT_PX = 11;
const LETTER_PX = 6;
/** Beside the point first, then above and below it. */
const PLACES: readonly LabelPlace[] = [
  { x: 10, y: 15, anchor: 'start' },
  { x: 10, y: -8, anchor: 'start' },
  { x: -10, y: -8, anchor: 'end' },
  { x: -10, y: 15, anchor: 'end' },
  { x: 0, y: -14, anchor: 'middle' },
  { x: 0, y: 23, anchor: 'middle' },
  { x: 0, y: -28, anchor: 'middle' },
  { x: 0, y: 37, anchor: 'middle' },
];

/**
 * The first place around a point that lies within the chart and covers nothing; where there is none, the one that covers least.
 *
 * @param covered what the text should keep off
 * @param names other names: one more of them covered counts more than all else
 */
export function placeLabel(
  text: string,
  at: Spot,
  within: Box,
  covered: readonly Box[],
  names: readonly Box[] = [],
): LabelPlace {
  const places = PLACES.map(({ x, y, anchor }): LabelPlace => ({ x: at.x + x, y: at.y + y, anchor }));
  const costs = places.map((place) => {
    const box = labelBox(text, place);
    const over = (boxes: readonly Box[]): number => boxes.filter((other) => overlap(box, other)).length;
    const outside = isInside(box, within) ? 0 : covered.length + 1;
    return outside + over(covered) + 2 * (covered.length + 1) * over(names);
  });
  return places[costs.indexOf(Math.min(...costs))];
}

/** What a text takes up, about. */
export function labelBox(text: string, { x, y, anchor }: LabelPlace): Box {
  const width = LETTER_PX * text.length;
  const left = anchor === 'start' ? x : anchor === 'end' ? x - width : x - width / 2;
  return { left, right: left + width, top: y - TEXT_PX + 2, bottom: y + 2 };
}

/** What a shape around a point takes up. */
export function boxAround({ x, y }: Spot, half: number): Box {
  return { left: x - half, right: x + half, top: y - half, bottom: y + half };
}

/** Whether two boxes share some room. */
export function overlap(a: Box, b: Box): boolean {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

/** Whether a box lies wholly within another. */
export function isInside(box: Box, within: Box): boolean {
  return (
    box.left >= within.left &&
    box.right <= within.right &&
    box.top >= within.top &&
    box.bottom <= within.bottom
  );
}
