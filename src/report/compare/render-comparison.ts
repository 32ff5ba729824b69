/** A comparison of runs as one HTML file that stands alone: the answer, the ratios, the passes side by side, and what it rests on. */
import type { ComparedPair, Comparison } from '../../run/index.js';
import { cautionsSection } from '../html/closing.js';
import { html, type Markup } from '../html/markup.js';
import { standalonePage } from '../html/standalone.js';
import { comparisonMethod, comparisonWarnings, runsSection, spreadsSection } from './closing.js';
import { lanesSection } from './lanes-section.js';
import { RATIO_LEGEND, axesChart, sharedSpan } from './pair-charts.js';
import { decideBox, pairSection, unfairBox } from './pair-section.js';
import { passesSection } from './passes-section.js';
import { COMPARISON_STYLE } from './style.js';

/**
 * Renders the comparison; the same text for the same comparison.
 *
 * Names, folders and sentences are escaped; a content policy in the file forbids any request and any script.
 */
export function renderComparison(comparison: Comparison): string {
  const { groups, pairs, common, by } = comparison;
  const span = sharedSpan(pairs);
  const names = groups.map(({ name }) => name).join(', ');
  const count = groups.reduce((sum, { runs }) => sum + runs.length, 0);
  const body = html`<header class="top">
      <div class="steps" aria-hidden="true"></div>
      <p class="slate">
        <span class="name">By ${by}: ${names}</span><span>${count} runs</span
        ><span
          >${common.focalLengthMm === null ? 'lens not given' : `${common.focalLengthMm} mm lens for all crops`}</span
        ><span>Trundle comparison</span>
      </p>
    </header>
    <main>
      ${answer(comparison, span)} ${pairs.length === 0 ? lanesSection(comparison) : null}
      ${passesSection(comparison)} ${pairs.length === 0 ? null : lanesSection(comparison)}
      ${pairs.map((pair, i) => pairSection(pair, by, i + 1, span))}
      ${pairs.length === 0 ? null : spreadsSection(comparison)} ${comparisonWarnings(comparison)}
      ${runsSection(comparison)} ${comparisonMethod()} ${cautionsSection()}
    </main>`;
  return standalonePage({
    title: `Comparison: ${names}`,
    about: names,
    kind: 'Trundle comparison',
    style: COMPARISON_STYLE,
    body,
  });
}

/** What is read in ten seconds: the sentence, whether it was fair, the ratios, what would decide and what it costs. */
function answer({ sentence, pairs, by }: Comparison, span: number): Markup {
  return html`<section class="answer" aria-labelledby="answer">
    <h1 class="whole" id="answer">${sentence}</h1>
    ${pairs.map(unfairBox)}
    ${pairs.length === 1 ? onePair(pairs[0], by, span) : severalPairs(pairs, by, span)}
  </section>`;
}

function onePair(pair: ComparedPair, by: string, span: number): Markup {
  return html`<div class="side">
    <figure class="ratios">
      ${axesChart(pair, span)}
      <figcaption>${RATIO_LEGEND}</figcaption>
    </figure>
    <div>
      ${decideBox(pair, by)}
      <div class="cost">
        <h2>What it costs</h2>
        <p>${pair.crop.sentence}</p>
      </div>
    </div>
  </div>`;
}

function severalPairs(pairs: readonly ComparedPair[], by: string, span: number): Markup | null {
  if (pairs.length === 0) return null;
  return html`<div class="pairs">
      ${pairs.map(
        (pair) =>
          html`<figure class="ratios">
            <figcaption>${pair.sentence}</figcaption>
            <div>${axesChart(pair, span)} ${decideBox(pair, by)}</div>
          </figure>`,
      )}
    </div>
    <p class="legend">${RATIO_LEGEND}</p>`;
}
