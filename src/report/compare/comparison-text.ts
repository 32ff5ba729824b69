/** A comparison in a few lines for a terminal: the answer first, a table for each pair, notes, and the lanes in words. */
import { figure, type ComparedPair, type Comparison, type LanePlan } from '../../run/index.js';
import { shorten, stretchWords } from '../charts/index.js';
import { columns, safe, type SummaryOptions } from '../terminal-text.js';
import { byRank, withLaneNames } from './lanes-section.js';
import {
  axisName,
  cropWords,
  decideLines,
  designWords,
  ratioFigures,
  ratioMark,
  saysWords,
  sideWords,
  spreadsLead,
} from './words.js';

/** Longer names end in dots where they head a column. */
const NAME_CHARS = 24;

const BOLD = '\u001b[1m';
const ALARM = '\u001b[1;33m';
const RESET = '\u001b[0m';

/** The text; lines end with "\n" except the last. No escape bytes unless `colour` is set. */
export function comparisonText(comparison: Comparison, { colour }: SummaryOptions): string {
  const { sentence, by, pairs, lanePlan, priors, common, warnings } = comparison;
  const paint = (text: string, style: string): string => (colour ? `${style}${text}${RESET}` : text);
  const lines = [paint(safe(sentence), BOLD)];
  for (const pair of pairs) lines.push('', ...pairLines(pair, by, pairs.length > 1, paint));
  if (lanePlan !== null) lines.push('', ...laneLines(withLaneNames(lanePlan), sentence));
  if (pairs.length > 0)
    lines.push(
      '',
      `Ranges: ${safe(spreadsLead(priors))} ${safe(priors.words)}`,
      `Crops:  ${safe(common.words)}`,
    );
  if (warnings.length > 0) {
    lines.push('', `Warnings: ${warnings.length}`);
    for (const { text } of warnings) lines.push(`  - ${safe(text)}`);
  }
  return lines.join('\n');
}

type Paint = (text: string, style: string) => string;

function pairLines(pair: ComparedPair, by: string, several: boolean, paint: Paint): string[] {
  const { fair, unfair, conditions, wavelength, crop } = pair;
  const lines = [
    `${safe(pair.a)} against ${safe(pair.b)}. ${safe(designWords(pair, by))}`,
    ...(several ? [safe(pair.sentence)] : []),
  ];
  if (!fair) {
    lines.push(`${paint('NOT FAIR', ALARM)}${unfair.length === 0 ? '' : ':'}`);
    lines.push(...unfair.map((why) => `  - ${safe(why)}`));
  }
  lines.push(
    '',
    ...ratioTable(
      pair,
      pair.axes.map((ratio) => [axisName(ratio.axis), ratio]),
    ),
    '',
  );
  if (wavelength !== null) lines.push(...wavelengthLines(pair, wavelength));
  if (pair.bands.length > 0) lines.push(bandsLine(pair.bands));
  lines.push(...decideLines(pair, by).map((line, i) => `${i === 0 ? 'Decide:' : '       '} ${safe(line)}`));
  lines.push(...cropLines(pair.a, pair.b, crop));
  const noted = conditions.map(
    ({ what, a, b, matters }) => `${what} ${a} / ${b}${matters === null ? '' : ` (${matters})`}`,
  );
  if (noted.length > 0) lines.push(`Differs: ${safe(noted.join('; '))}.`);
  return lines;
}

/** The bands that stand up to the correction for all of them, axis by axis. */
function bandsLine(bands: ComparedPair['bands']): string {
  const clear = bands.filter((band) => ['aSmoother', 'bSmoother'].includes(ratioMark(band, true)));
  if (clear.length === 0)
    return `Bands:  none of ${bands.length} stands out once corrected for looking at all of them.`;
  const axes = [...new Set(clear.map(({ axis }) => axis))];
  const each = axes.map((axis) => {
    const labels = clear.filter((band) => band.axis === axis).map(({ label }) => label);
    return `${axis} ${labels.join(', ')}`;
  });
  return `Bands:  clear in ${clear.length} of ${bands.length}: ${safe(each.join('; '))}.`;
}

function cropLines(a: string, b: string, crop: ComparedPair['crop']): string[] {
  const side = (name: string, side: ComparedPair['crop']['a']): string => {
    const { median, upper } = cropWords(side);
    return `${name} ${median} (19 in 20: ${upper})`;
  };
  return [
    `Crop:   ${figure(crop.takeS)} s take: ${safe(side(a, crop.a))}; ${safe(side(b, crop.b))}. A cost, no test.`,
  ];
}

function wavelengthLines(
  pair: ComparedPair,
  { bandM, refused, axes }: NonNullable<ComparedPair['wavelength']>,
): string[] {
  const band = bandM === null ? '' : ` (${figure(1000 * bandM[0])} to ${figure(1000 * bandM[1])} mm)`;
  const lead = `Setup alone, by wavelength${band}:`;
  if (refused !== null || axes.length === 0) return [`${lead} ${safe(refused ?? 'not compared.')}`];
  return [
    lead,
    ...ratioTable(
      pair,
      axes.map((ratio) => [axisName(ratio.axis), ratio]),
    ),
    '',
  ];
}

function ratioWords(ratio: Pick<ComparedPair['axes'][number], 'ratio' | 'ci95'>): string {
  const { value, range } = ratioFigures(ratio);
  return value === '' ? '-' : range === '' ? value : `${value} (${range})`;
}

function ratioTable(
  pair: ComparedPair,
  rows: readonly (readonly [string, ComparedPair['axes'][number]])[],
): string[] {
  const cells = [
    ['Axis', shorten(pair.a, NAME_CHARS), shorten(pair.b, NAME_CHARS), 'Ratio (95 % range)', 'Says'],
    ...rows.map(([name, ratio]) => [
      name,
      sideWords(ratio.aRms, ratio.unit, 'deg'),
      sideWords(ratio.bRms, ratio.unit, 'deg'),
      ratioWords(ratio),
      saysWords(ratio, pair),
    ]),
  ].map((row) => row.map(safe));
  return [
    ...columns(cells),
    ...rows.filter(([, { says }]) => says === 'notCompared').map(([, { sentence }]) => safe(sentence)),
  ];
}

function laneLines({ floor, setup, lanes, best, avoid, metric }: LanePlan, said: string): string[] {
  const about = [floor, setup].filter((part) => part !== null).join(', ');
  return [
    `Lanes${about === '' ? '' : ` of ${safe(about)}`}, the smoothest first:`,
    ...byRank(lanes).map(({ name, rank, shakePx, runs, directions, lengthM, joints, avoid: off }) => {
      const highest = [...joints].sort((x, y) => Math.abs(y.heightMm) - Math.abs(x.heightMm))[0];
      const parts = [
        `${figure(shakePx.value)} px RMS (${figure(shakePx.low)} to ${figure(shakePx.high)})`,
        `${runs.length} ${runs.length === 1 ? 'pass' : 'passes'}${directions.length === 0 ? '' : ` ${directions.join(' and ')}`}`,
        ...(metric ? [`${figure(lengthM)} m`] : []),
        joints.length === 0
          ? 'no joints'
          : `${joints.length} ${joints.length === 1 ? 'joint' : 'joints'}, the highest ${figure(Math.abs(highest.heightMm))} mm at ${metric ? `${figure(highest.atM)} m` : `${Math.round(100 * highest.atM)} % of the pass`}`,
        ...off.map((stretch) => `keep off ${stretchWords(stretch, metric)}`),
      ];
      return `  ${rank}. ${safe(name)}${name === best.lane ? ' (best)' : ''}: ${parts.join('; ')}`;
    }),
    ...[best.sentence, avoid].flatMap((text) => (text === null || text === said ? [] : [safe(text)])),
  ];
}
