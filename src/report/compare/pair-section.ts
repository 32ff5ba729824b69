/** One pair of setups in full: figures, whether it was fair, what would decide, bands, and the crop as a cost. */
import { figure, type ComparedPair, type Comparison } from '../../run/index.js';
import { compareTexts } from '../../texts/index.js';
import { html, type Insert, type Markup } from '../html/markup.js';
import { table } from '../html/table.js';
import { axesTable, bandsPart, wavelengthPart } from './pair-charts.js';
import { costIs, cropWords, decideLines, designWords, ratioWords } from './words.js';

/**
 * The section.
 *
 * @param comparison what the pair is of
 * @param number tells its headings from those of other pairs
 * @param span shared axis of the ratio charts
 */
export function pairSection(
  pair: ComparedPair,
  comparison: Pick<Comparison, 'by' | 'common'>,
  number: number,
  span: number,
): Markup {
  const id = `pair-${number}`;
  return html`<section aria-labelledby="${id}">
    <h2 id="${id}">${compareTexts.against(pair.a, pair.b)}</h2>
    <p>${designWords(pair, comparison.by)}</p>
    ${axesTable(pair)} ${wavelengthPart(pair, span)} ${bandsPart(pair)}
    <h3>${compareTexts.differs}</h3>
    ${conditions(pair)}
    <h3>${compareTexts.cropAsCost}</h3>
    ${crop(pair)}
    <p class="legend">${costIs(comparison, pair.crop.takeS)}</p>
  </section>`;
}

/** The box that says a comparison is not fair, and why; nothing when it is. */
export function unfairBox({ a, b, fair, unfair }: ComparedPair): Markup | null {
  if (fair) return null;
  return html`<div class="unfair">
    <h2>${compareTexts.notFair}<span class="sub">${compareTexts.against(a, b)}</span></h2>
    <ul>
      ${unfair.map((why) => html`<li>${why}</li>`)}
    </ul>
  </div>`;
}

/** What would decide, in a box of its own; nothing when every axis is clear. @param by what the groups differ in */
export function decideBox(pair: ComparedPair, by: string): Markup | null {
  const lines = decideLines(pair, by);
  if (lines.length === 0) return null;
  return html`<div class="advice">
    <h2>${compareTexts.decide}</h2>
    ${lines.map((line) => html`<p>${line}</p>`)}
  </div>`;
}

function conditions({ a, b, conditions: all, fair }: ComparedPair): Markup {
  const verdict = fair ? compareTexts.fair : compareTexts.unfair;
  if (all.length === 0) return html`<p>${compareTexts.nothingDiffers(verdict)}</p>`;
  return html`${table({
      caption: compareTexts.differsTable(a, b),
      head: compareTexts.differsHeads(a, b),
      rows: all.map(({ what, a: first, b: second, matters }): Insert[] => [
        what,
        first,
        second,
        matters ?? compareTexts.doesNothing,
      ]),
    })}
    <p>${verdict}</p>`;
}

function crop({ a, b, crop: { takeS, a: first, b: second, ratio, ci95, sentence } }: ComparedPair): Markup {
  const side = (name: string, side: typeof first): Insert[] => {
    const { median, upper } = cropWords(side);
    return [name, median, upper];
  };
  return html`<p>${sentence}</p>
    <div class="slim">
      ${table({
        caption: compareTexts.cropTable(figure(takeS), a, b),
        head: compareTexts.cropHeads,
        rows: [side(a, first), side(b, second)],
        numeric: [1, 2],
      })}
    </div>
    ${ratio === null ? null : html`<p>${compareTexts.cropRatio(a, b, ratioWords({ ratio, ci95 }))}</p>`}`;
}
