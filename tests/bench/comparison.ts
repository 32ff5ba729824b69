/**
 * What comparisons of setups are worth, on simulated floors whose truth is known, as Markdown tables: false alarms, half-widths and finds of
 * every layout of passes and lanes; other lengths; more noise; spreads half and twice what is taken for granted.
 */
import { gaussianRandom, quantile, seededRandom } from '../../src/numerics/index.js';
import { seriesTrial, type Layout } from '../judge/compare/support/simulated-setups.js';

type Write = (text: string) => void;

const TRIALS = 400;
const RATIOS = [1.1, 1.2, 1.5, 2];

const LAYOUTS: readonly (readonly [string, Layout])[] = [
  ...[1, 2, 3, 5].map((passes) => [`one lane, ${passes} each`, { lanes: 1, passes, shared: true }] as const),
  ...[2, 3, 5].map((lanes) => [`${lanes} lanes with both`, { lanes, passes: 1, shared: true }] as const),
  ...[2, 3].map((lanes) => [`${lanes} lanes with both, 2 each`, { lanes, passes: 2, shared: true }] as const),
  ...[1, 2, 3, 5, 10].map((lanes) => [`${lanes} lanes each`, { lanes, passes: 1, shared: false }] as const),
  ['one lane, 1 against 4', { lanes: 1, passes: 1, passesB: 4, shared: true }],
  ['one lane, 2 against 5', { lanes: 1, passes: 2, passesB: 5, shared: true }],
];

const TABLES: Readonly<Record<string, readonly (readonly [string, Layout])[]>> = {
  layouts: LAYOUTS,
  lengths: [5, 20].flatMap((durationS) =>
    LAYOUTS.slice(0, 4).map(
      ([name, layout]) => [`${name}, ${durationS} s`, { ...layout, durationS }] as const,
    ),
  ),
  noise: [0.3, 1].flatMap((noise) =>
    [LAYOUTS[0], LAYOUTS[2]].map(
      ([name, layout]) => [`${name}, noise x${noise}`, { ...layout, noise }] as const,
    ),
  ),
  spreads: (
    [
      ['half', [0.04, 0.12, 0.03]],
      ['twice', [0.16, 0.5, 0.1]],
    ] as const
  ).flatMap(([size, spreads]) =>
    LAYOUTS.slice(0, 14).map(
      ([name, layout]) => [`${name}, spreads ${size}`, { ...layout, spreads }] as const,
    ),
  ),
};

/** Prints the tables that `words` name, all when there are none. */
export function printComparisonTables(words: readonly string[], write: Write): void {
  write(
    `Setups compared, 10 s unless said, ${TRIALS} trials a row: false alarms in %, the factor that the 95 % interval reaches to either side, and in % how often a ratio is found.\n\n`,
  );
  const cells = ['passes', 'false', 'reaches', ...RATIOS.map((ratio) => `x${ratio}`)];
  for (const [name, rows] of Object.entries(TABLES)) {
    if (words.length > 0 && !words.includes(name)) continue;
    write(`| ${cells.join(' | ')} |\n| ${cells.map(() => '---').join(' | ')} |\n`);
    for (const [row, layout] of rows) write(`| ${[row, ...figuresOf(layout)].join(' | ')} |\n`);
    write('\n');
  }
}

/** A ratio of the truth moves the whole interval, so one set of trials serves all. */
function figuresOf(layout: Layout): string[] {
  const random = seededRandom(1);
  const gaussian = gaussianRandom(random);
  const intervals = Array.from({ length: TRIALS }, () => seriesTrial(layout, random, gaussian).ci95);
  const found = (ratio: number): string =>
    percent(intervals.filter(([low, high]) => low * ratio > 1 || high * ratio < 1).length);
  const reach = quantile(
    intervals.map(([low, high]) => Math.sqrt(high / low)),
    0.5,
  );
  return [found(1), `x${reach.toFixed(2)}`, ...RATIOS.map(found)];
}

function percent(count: number): string {
  return ((100 * count) / TRIALS).toFixed(1);
}
