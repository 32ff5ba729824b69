/** One pair of setups in full: figures, whether it was fair, what would decide, bands, and the crop as a cost. */
import { figure, type ComparedPair } from '../../run/index.js';
import { html, type Insert, type Markup } from '../html/markup.js';
import { table } from '../html/table.js';
import { axesTable, bandsPart, wavelengthPart } from './pair-charts.js';
import { cropWords, decideLines, designWords, ratioFigures } from './words.js';

/**
 * The section.
 *
 * @param by what the groups differ in
 * @param number tells its headings from those of other pairs
 * @param span shared axis of the ratio charts
 */
export function pairSection(pair: ComparedPair, by: string, number: number, span: number): Markup {
  const id = `pair-${number}`;
  return html`<section aria-labelledby="${id}">
    <h2 id="${id}">${pair.a} against ${pair.b}</h2>
    <p>${designWords(pair, by)}</p>
    ${axesTable(pair)} ${wavelengthPart(pair, span)} ${bandsPart(pair)}
    <h3>What else differs</h3>
    ${conditions(pair)}
    <h3>Crop, as a cost</h3>
    ${crop(pair)}
  </section>`;
}

/** The box that says a comparison is not fair, and why; nothing when it is. */
export function unfairBox({ a, b, fair, unfair }: ComparedPair): Markup | null {
  if (fair) return null;
  return html`<div class="unfair">
    <h2>Not a fair comparison<span class="sub">${a} against ${b}</span></h2>
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
    <h2>What would decide</h2>
    ${lines.map((line) => html`<p>${line}</p>`)}
  </div>`;
}

function conditions({ a, b, conditions: all, fair }: ComparedPair): Markup {
  const verdict = fair
    ? 'The comparison is fair as far as it was noted.'
    : 'The comparison is not fair; see the box at the top.';
  if (all.length === 0) return html`<p>Nothing else that was noted differs. ${verdict}</p>`;
  return html`${table({
      caption: `What differs beside the setup: ${a} against ${b}`,
      head: ['What', a, b, 'What that does'],
      rows: all.map(({ what, a: first, b: second, matters }): Insert[] => [
        what,
        first,
        second,
        matters ?? 'nothing here',
      ]),
    })}
    <p>${verdict}</p>`;
}

function crop({ a, b, crop: { takeS, a: first, b: second, ratio, ci95, sentence } }: ComparedPair): Markup {
  const side = (name: string, side: typeof first): Insert[] => {
    const { median, upper } = cropWords(side);
    return [name, median, upper];
  };
  const { value, range } = ratioFigures({ ratio, ci95 });
  return html`<p>${sentence}</p>
    ${table({
      caption: `Crop of a take of ${figure(takeS)} s on the common lens, % of the frame width: ${a} against ${b}`,
      head: ['Setup', 'Median', '19 in 20 takes stay below'],
      rows: [side(a, first), side(b, second)],
      numeric: [1, 2],
    })}
    ${
      ratio === null
        ? null
        : html`<p>
            Ratio of the two: ${value}${range === '' ? '' : ` (${range})`}. This is a cost, no test: which
            setup is smoother is decided by the shake.
          </p>`
    }`;
}
