/** A comparison in a few lines for a terminal: the answer first, a table for each pair, notes, and the lanes in words. */
import {
  figure,
  inUnits,
  type ComparedPair,
  type Comparison,
  type LanePlan,
  type Units,
} from '../../run/index.js';
import { comparedRatioTexts, compareLineTexts, lanePlanTexts } from '../../texts/index.js';
import { shorten, stretchWords } from '../charts/index.js';
import { brokenLines, columns, safe, type SummaryOptions } from '../terminal-text.js';
import { asTold } from './one-way.js';
import { byRank, withLaneNames } from './lanes-section.js';
import {
  axisName,
  cropWords,
  decideLines,
  designWords,
  ratioMark,
  ratioWords,
  saysWords,
  sideWords,
  spreadsLead,
} from './words.js';

/** Longer names end in dots where they head a column. */
const NAME_CHARS = 24;

const BOLD = '\u001b[1m';
const ALARM = '\u001b[1;33m';
const RESET = '\u001b[0m';

/** How the text is printed. */
export interface ComparisonTextOptions extends SummaryOptions {
  /** Of lengths and speeds; metric when missing. */
  readonly units?: Units | undefined;
}

/** The text; lines end with "\n" except the last. No escape bytes unless `colour` is set. */
export function comparisonText(
  comparison: Comparison,
  { colour, columns: width, units = 'metric' }: ComparisonTextOptions,
): string {
  const { sentence, by, pairs, lanePlan, priors, common, warnings } = asTold(comparison);
  const paint = (text: string, style: string): string => (colour ? `${style}${text}${RESET}` : text);
  const lines = [paint(safe(sentence), BOLD)];
  for (const pair of pairs) lines.push('', ...pairLines(pair, by, pairs.length > 1, paint, units));
  if (lanePlan !== null) lines.push('', ...laneLines(withLaneNames(lanePlan), sentence));
  if (pairs.length > 0)
    lines.push(
      '',
      compareLineTexts.ranges(safe(spreadsLead(priors)), safe(priors.words)),
      compareLineTexts.crops(safe(common.words)),
    );
  if (warnings.length > 0) {
    lines.push('', compareLineTexts.warnings(warnings.length));
    lines.push(...warnings.map(({ text }) => compareLineTexts.because(safe(text))));
  }
  return brokenLines(
    lines.map((line) => inUnits(line, units)),
    width,
  ).join('\n');
}

type Paint = (text: string, style: string) => string;

function pairLines(pair: ComparedPair, by: string, several: boolean, paint: Paint, units: Units): string[] {
  const { fair, unfair, conditions, wavelength, crop } = pair;
  const lines = [
    safe(compareLineTexts.pair(pair.a, pair.b, designWords(pair, by))),
    ...(several ? [safe(pair.sentence)] : []),
  ];
  if (!fair) {
    lines.push(`${paint(compareLineTexts.notFair, ALARM)}${unfair.length === 0 ? '' : ':'}`);
    lines.push(...unfair.map((why) => compareLineTexts.because(safe(why))));
  }
  lines.push(
    '',
    ...ratioTable(
      pair,
      pair.axes.map((ratio) => [axisName(ratio.axis), ratio]),
      units,
    ),
    '',
  );
  if (wavelength !== null) lines.push(...wavelengthLines(pair, wavelength, units));
  if (pair.bands.length > 0) lines.push(bandsLine(pair.bands));
  lines.push(
    ...decideLines(pair, by).map(
      (line, i) =>
        `${i === 0 ? compareLineTexts.decide : ' '.repeat(compareLineTexts.decide.length)} ${safe(line)}`,
    ),
  );
  lines.push(...cropLines(pair.a, pair.b, crop));
  const noted = conditions.map(({ what, a, b, matters }) => compareLineTexts.condition(what, a, b, matters));
  if (noted.length > 0) lines.push(safe(compareLineTexts.differs(noted)));
  return lines;
}

/** The bands that stand up to the correction for all of them, axis by axis. */
function bandsLine(bands: ComparedPair['bands']): string {
  const clear = bands.filter((band) => ['aSmoother', 'bSmoother'].includes(ratioMark(band, true)));
  if (clear.length === 0) return compareLineTexts.noBands(bands.length);
  const axes = [...new Set(clear.map(({ axis }) => axis))];
  const each = axes.map((axis) => {
    const labels = clear.filter((band) => band.axis === axis).map(({ label }) => label);
    return compareLineTexts.bandsOf(axis, labels);
  });
  return safe(compareLineTexts.clearBands(clear.length, bands.length, each));
}

function cropLines(a: string, b: string, crop: ComparedPair['crop']): string[] {
  const side = (name: string, side: ComparedPair['crop']['a']): string => {
    const { median, upper } = cropWords(side);
    return compareLineTexts.cropOf(name, median, upper);
  };
  return [safe(compareLineTexts.crop(figure(crop.takeS), side(a, crop.a), side(b, crop.b)))];
}

function wavelengthLines(
  pair: ComparedPair,
  { bandM, refused, axes }: NonNullable<ComparedPair['wavelength']>,
  units: Units,
): string[] {
  const lead = compareLineTexts.wavelengths(
    bandM === null ? null : comparedRatioTexts.waveBand(figure(1000 * bandM[0]), figure(1000 * bandM[1])),
  );
  if (refused !== null || axes.length === 0)
    return [`${lead} ${safe(refused ?? compareLineTexts.notCompared)}`];
  return [
    lead,
    ...ratioTable(
      pair,
      axes.map((ratio) => [axisName(ratio.axis), ratio]),
      units,
    ),
    '',
  ];
}

function ratioTable(
  pair: ComparedPair,
  rows: readonly (readonly [string, ComparedPair['axes'][number]])[],
  units: Units,
): string[] {
  const cells = [
    comparedRatioTexts.lineHeads(shorten(pair.a, NAME_CHARS), shorten(pair.b, NAME_CHARS)),
    ...rows.map(([name, ratio]) => [
      name,
      sideWords(ratio.aRms, ratio.unit, 'deg'),
      sideWords(ratio.bRms, ratio.unit, 'deg'),
      ratioWords(ratio),
      saysWords(ratio, pair),
    ]),
  ].map((row) => row.map((text) => safe(inUnits(text, units))));
  return [
    ...columns(cells),
    safe(comparedRatioTexts.lineRatio(pair.a, pair.b)),
    ...rows.filter(([, { ratio }]) => ratio === null).map(([, { sentence }]) => safe(sentence)),
  ];
}

function laneLines({ floor, setup, lanes, best, avoid, metric }: LanePlan, said: string): string[] {
  const about = [floor, setup].filter((part) => part !== null).join(', ');
  const place = (atM: number): string =>
    metric ? lanePlanTexts.metres(figure(atM)) : lanePlanTexts.placeOfPass(Math.round(100 * atM));
  return [
    lanePlanTexts.linesTitle(safe(about)),
    ...byRank(lanes).map(({ name, rank, shakePx, runs, directions, lengthM, joints, avoid: off }) => {
      const highest = [...joints].sort((x, y) => Math.abs(y.heightMm) - Math.abs(x.heightMm))[0];
      return lanePlanTexts.line(rank, safe(name), name === best.lane, [
        lanePlanTexts.shake(figure(shakePx.value), figure(shakePx.low), figure(shakePx.high)),
        lanePlanTexts.passesAndWays(lanePlanTexts.passes(runs.length), directions),
        ...(metric ? [lanePlanTexts.metres(figure(lengthM))] : []),
        joints.length === 0
          ? lanePlanTexts.noJoints
          : lanePlanTexts.joints(joints.length, figure(Math.abs(highest.heightMm)), place(highest.atM)),
        ...off.map((stretch) => lanePlanTexts.keepOff(stretchWords(stretch, metric))),
      ]);
    }),
    ...[best.sentence, avoid].flatMap((text) => (text === null || text === said ? [] : [safe(text)])),
  ];
}
