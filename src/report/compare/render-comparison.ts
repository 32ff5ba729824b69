/** A comparison of runs as one HTML file that stands alone: the answer, the ratios, the passes side by side, and what it rests on. */
import { asTold } from './one-way.js';
import { figure, type ComparedPair, type Comparison, type Units } from '../../run/index.js';
import { compareTexts, pageTexts } from '../../texts/index.js';
import { cautionsSection } from '../html/closing.js';
import { bodyOf } from '../html/contents.js';
import { html, type Markup } from '../html/markup.js';
import { pageInUnits } from '../html/page-units.js';
import { standalonePage } from '../html/standalone.js';
import { comparisonMethod, comparisonWarnings, runsSection, spreadsSection } from './closing.js';
import { lanesSection } from './lanes-section.js';
import { axesChart, ratioLegend, sharedSpan } from './pair-charts.js';
import { decideBox, pairSection, unfairBox } from './pair-section.js';
import { passesSection } from './passes-section.js';
import { COMPARISON_STYLE } from './style.js';
import { costIs, cropWords } from './words.js';

/** How a comparison is shown. */
export interface ComparisonOptions {
  /** Of lengths and speeds; metric when missing. */
  readonly units?: Units | undefined;
}

/**
 * Renders the comparison; the same text for the same comparison.
 *
 * Names, folders and sentences are escaped; a content policy in the file forbids any request and any script but that of the page.
 */
export function renderComparison(compared: Comparison, { units = 'metric' }: ComparisonOptions = {}): string {
  const comparison = asTold(compared);
  const { groups, common, by } = comparison;
  const names = namesOf(comparison);
  const count = groups.reduce((sum, { runs }) => sum + runs.length, 0);
  const { focalLengthMm } = common;
  const body = html`<a class="skip" href="#passes">${pageTexts.skip}</a>
    <header class="top">
      <div class="steps" aria-hidden="true"></div>
      <p class="slate">
        <span class="name">${compareTexts.groups(by, names)}</span><span>${compareTexts.runs(count)}</span
        ><span>${focalLengthMm === null ? compareTexts.noLens : compareTexts.commonLens(focalLengthMm)}</span
        ><span>${compareTexts.kind}</span>
      </p>
    </header>
    <main>${comparisonBody(comparison, units)}</main>`;
  return standalonePage({
    title: compareTexts.title(names),
    about: names,
    kind: compareTexts.kind,
    units,
    style: COMPARISON_STYLE,
    body,
  });
}

/** A comparison as parts of another page, which has to bring the style of the report and `COMPARISON_STYLE`. */
export interface ComparisonPieces {
  /** What is compared, as the head line of the page tells it. */
  readonly title: string;
  /** HTML: answer, contents and sections; names from outside are escaped, and nothing in it runs. */
  readonly body: string;
}

/** The pieces of the page that `renderComparison` gives; the same text for the same comparison. */
export function comparisonParts(
  compared: Comparison,
  { units = 'metric' }: ComparisonOptions = {},
): ComparisonPieces {
  const comparison = asTold(compared);
  return {
    title: compareTexts.groups(comparison.by, namesOf(comparison)),
    body: pageInUnits(comparisonBody(comparison, units).text, units),
  };
}

/** @param comparison as it is told */
function comparisonBody(comparison: Comparison, units: Units): Markup {
  const span = sharedSpan(comparison.pairs);
  return html`${answer(comparison, span)} ${bodyOf(parts(comparison, span, units))}`;
}

function namesOf({ groups }: Comparison): string {
  return groups.map(({ name }) => name).join(', ');
}

/** The sections under the answer; lanes come first where nothing else is compared. */
function parts(comparison: Comparison, span: number, units: Units): Markup[] {
  const { pairs } = comparison;
  const lanes = lanesSection(comparison, units);
  return [
    ...(pairs.length === 0
      ? [lanes, passesSection(comparison)]
      : [
          passesSection(comparison),
          lanes,
          ...pairs.map((pair, i) => pairSection(pair, comparison, i + 1, span)),
        ]),
    pairs.length === 0 ? null : spreadsSection(comparison),
    comparisonWarnings(comparison),
    runsSection(comparison),
    comparisonMethod(),
    cautionsSection(),
  ].filter((part) => part !== null);
}

/** What is read in ten seconds: the sentence, whether it was fair, the ratios, what would decide and what it costs. */
function answer(comparison: Comparison, span: number): Markup {
  const { sentence, pairs } = comparison;
  return html`<section class="answer" aria-labelledby="answer">
    <h1 class="whole" id="answer">${sentence}</h1>
    ${pairs.map(unfairBox)}
    ${pairs.length > 0 && pairs.every(({ fair }) => fair) ? html`<p class="fair">${compareTexts.fair}</p>` : null}
    ${pairs.length === 1 ? onePair(pairs[0], comparison, span) : severalPairs(comparison, span)}
  </section>`;
}

function onePair(pair: ComparedPair, comparison: Comparison, span: number): Markup {
  return html`<div class="side">
    <div class="ratios">${axesChart(pair, span, 'alone', ratioLegend([pair]))}</div>
    <div>
      ${decideBox(pair, comparison.by)}
      <div class="advice">
        <h2>${compareTexts.costs}</h2>
        <p>${pair.crop.sentence}</p>
      </div>
    </div>
  </div>`;
}

/** The crop of every setup, takes of one length in a line: pairs of short passes are foretold for shorter takes. */
function cost(comparison: Comparison): Markup {
  const { pairs } = comparison;
  const lengths = [...new Set(pairs.map(({ crop }) => figure(crop.takeS)))];
  return html`<div class="advice costs">
    <h2>${compareTexts.costs}</h2>
    ${lengths.map((takeS) => {
      const ofLength = pairs.filter(({ crop }) => figure(crop.takeS) === takeS);
      return html`<p>${compareTexts.costOfTakes(takeS, mediansOf(ofLength))}</p>`;
    })}
    <p class="legend">${costIs(comparison, ...pairs.map(({ crop }) => crop.takeS))}</p>
  </div>`;
}

/** Each setup with its median. */
function mediansOf(pairs: readonly ComparedPair[]): string[] {
  const medians = new Map(
    pairs.flatMap(({ a, b, crop }) => [
      [a, cropWords(crop.a).median] as const,
      [b, cropWords(crop.b).median] as const,
    ]),
  );
  return [...medians].map(([name, median]) => compareTexts.medianOf(name, median));
}

function severalPairs(comparison: Comparison, span: number): Markup | null {
  const { pairs, by } = comparison;
  if (pairs.length === 0) return null;
  return html`<div class="pairs">
      ${pairs.map(
        (pair) =>
          html`<div class="ratios">
            <p>${pair.sentence}</p>
            <div>${axesChart(pair, span, 'beside')} ${decideBox(pair, by)}</div>
          </div>`,
      )}
    </div>
    ${cost(comparison)} ${ratioLegend(pairs)}`;
}
