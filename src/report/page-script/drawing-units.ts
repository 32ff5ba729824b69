/** Lengths and speeds of a drawing in the units that the page is shown in, as its writer did for the drawings in the file. */
import { inUnits, type Units } from '../../run/index.js';

/** Rewrites every text of a drawing and what is read out of it. */
export function showInUnits(drawing: Element, units: Units): void {
  if (units === 'metric') return;
  const texts = document.createTreeWalker(drawing, NodeFilter.SHOW_TEXT);
  while (texts.nextNode()) {
    const { currentNode: text } = texts;
    text.nodeValue = inUnits(text.nodeValue ?? '', units);
  }
  for (const part of drawing.querySelectorAll('[aria-label]'))
    part.setAttribute('aria-label', inUnits(part.getAttribute('aria-label') ?? '', units));
}
