/** Peaks of a spectrum: a triangle over each, with its number and, where there is room, what causes it; px of the drawing. */
import {
  boxAround,
  isInside,
  labelBox,
  overlap,
  placeLabel,
  type Box,
  type LabelPlace,
} from '../place-label.js';
import { element, textElement } from '../svg.js';

/** A peak in its place. */
export interface PlacedPeak {
  readonly x: number;
  /** Just above the curve. */
  readonly y: number;
  readonly mark: string;
  /** What causes it, in a word; empty where it has no name. */
  readonly name: string;
}

const HALF_TRIANGLE = 5;
/** Height of a line of small print, px. */
const LINE_PX = 12;

/**
 * Draws the peaks from left to right. A label stands where it covers neither another label nor a triangle: with its name, else as a
 * number, else as a number higher up.
 *
 * @param curve what else a label should keep off, such as pieces of the curve
 */
export function peakLabels(peaks: readonly PlacedPeak[], within: Box, curve: readonly Box[]): string[] {
  const sorted = [...peaks].sort((a, b) => a.x - b.x);
  const taken = sorted.map((peak) => boxAround({ x: peak.x, y: peak.y - 4 }, HALF_TRIANGLE));
  return sorted.map((peak) => {
    const { text, place } = labelOf(peak, within, curve, taken);
    taken.push(labelBox(text, place));
    return triangle(peak) + labelAt(text, place);
  });
}

function labelOf(
  peak: PlacedPeak,
  within: Box,
  curve: readonly Box[],
  taken: readonly Box[],
): { text: string; place: LabelPlace } {
  const texts = peak.name === '' ? [peak.mark] : [`${peak.mark} ${peak.name}`, peak.mark];
  for (const text of texts) {
    const place = placeLabel(text, { x: peak.x, y: peak.y - 4 }, within, [...taken, ...taken, ...curve]);
    if (fits(text, place, within, taken)) return { text, place };
  }
  const text = peak.mark;
  const place: LabelPlace = { x: peak.x, y: peak.y - 14, anchor: 'middle' };
  let y = place.y;
  while (taken.some((box) => overlap(labelBox(text, { ...place, y }), box))) y -= LINE_PX;
  return { text, place: { ...place, y } };
}

function fits(text: string, place: LabelPlace, within: Box, taken: readonly Box[]): boolean {
  const box = labelBox(text, place);
  return isInside(box, within) && !taken.some((other) => overlap(box, other));
}

function triangle({ x, y }: PlacedPeak): string {
  return element('path', { class: 'peak', d: `M${x.toFixed(2)} ${y.toFixed(2)}l-4 -7h8z` });
}

function labelAt(text: string, { x, y, anchor }: LabelPlace): string {
  return textElement({ class: 'peak-label', x, y, 'text-anchor': anchor }, text);
}
