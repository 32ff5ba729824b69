/** The run in a few lines for a terminal: verdict with measured value and limit first, then the axes, advice, warnings, assumptions. */
import {
  ANGULAR_AXES,
  TRANSLATIONAL_AXES,
  hasFigure,
  percentFigure,
  figure,
  inUnits,
  isAngular,
  type Axis,
  type RunDocument,
} from '../run/index.js';
import { keepsFromPass, LONGER_TAKE_OVER_LIMIT } from '../judge/index.js';
import { setupTexts, terminalTexts } from '../texts/index.js';
import { takeSentence } from '../stabilise/index.js';
import { axesInWords, frequency, sourceName, sureness } from './cause-words.js';
import { deliveryPxPerClipPx } from './delivery-px.js';
import { angularNumbers, axisFigure, boundUp, translationNumbers, type AxisNumbers } from './format.js';
import { floorLines } from './floor-words.js';
import { motionLogWords } from './motion-log-words.js';
import { doubtsBesideVerdict } from './reservations.js';
import { brokenLines, coloured, columns, safe, type SummaryOptions } from './terminal-text.js';
import {
  adviceWords,
  axisNames,
  firstSentence,
  headline,
  namedTake,
  outcomeInShort,
  translationUnit,
  wayInWords,
} from './wording.js';

/** The summary; lines end with "\n" except the last. No escape bytes unless `colour` is set. */
export function terminalSummary(run: RunDocument, { colour, columns: width }: SummaryOptions): string {
  const { word, sentence } = headline(run);
  const { clip } = run;
  const measured = run.verdict.grade !== 'unmeasurable';
  const head = [
    `${coloured(word.toUpperCase(), run.verdict.grade, colour)}  ${safe(sentence)}`,
    ...whyLines(run).map(safe),
    '',
    terminalTexts.clip(
      safe(clip.file),
      clip.widthPx,
      clip.heightPx,
      figure(clip.fps),
      figure(clip.rangeS[1] - clip.rangeS[0]),
    ),
  ];
  const lines: string[] = [];
  if (measured)
    lines.push(
      ...axisNotes(run),
      '',
      ...stabiliseLines(run),
      ...floorLines(run).map(safe),
      ...causeLines(run).map(safe),
    );
  const logged = motionLogWords(run).map((words) => `  - ${safe(words)}`);
  if (logged.length > 0) lines.push('', terminalTexts.motionLog, ...logged);
  if (run.verdict.advice.length > 0) lines.push('', ...adviceLines(run).map(safe));
  // Doubts stand at the head already.
  const doubts = new Set(doubtsBesideVerdict(run));
  const warnings = run.warnings.filter((warning) => !doubts.has(warning));
  if (warnings.length > 0) {
    lines.push('', terminalTexts.warnings(warnings.length));
    for (const { text, atS } of warnings)
      lines.push(`  - ${safe(text)}${atS === null ? '' : terminalTexts.atSeconds(figure(atS))}`);
  }
  const { assumed } = run.rig;
  if (assumed.length > 0)
    lines.push(
      '',
      terminalTexts.taken(
        assumed.map(({ name, value }) => safe(terminalTexts.takenAs(nameOfInput(name), value))),
      ),
    );
  const inOurUnits = (line: string): string => inUnits(line, run.units);
  // The table has its units already: its columns would be torn by others.
  const table = measured ? ['', ...axisTable(run)] : [];
  return brokenLines([...head.map(inOurUnits), ...table, ...lines.map(inOurUnits)], width).join('\n');
}

/** An input as people call it. */
function nameOfInput(name: string): string {
  return setupTexts.inputs.find(({ key }) => key === name)?.name.toLowerCase() ?? name;
}

/** What puts the verdict in doubt, what keeps it from pass, and what a pass of the test does not hold for. */
function whyLines(run: RunDocument): string[] {
  const { grade, reasons } = run.verdict;
  // Where nothing could be measured the headline has told the first already.
  const why = reasons
    .filter(keepsFromPass)
    .filter((reason) => grade !== 'unmeasurable' || reason !== reasons[0]);
  const mind = reasons.filter(({ code }) => code === LONGER_TAKE_OVER_LIMIT);
  return [
    ...doubtsBesideVerdict(run).map(({ text }) => terminalTexts.inDoubt(text)),
    ...why.map(({ text }) => terminalTexts.why(text)),
    ...mind.map(({ text }) => terminalTexts.mind(text)),
  ];
}

/** A step with more than this many characters is told without its effect. */
const MOST_CHARACTERS = 200;

/** Room for the longest word before a step and a space. */
const WORD_CHARACTERS = 10;

/** The steps: the first in full, alternatives with what they would come to, further ones with what they bring where it fits. */
export function adviceLines({ verdict, delivery }: Pick<RunDocument, 'verdict' | 'delivery'>): string[] {
  const words = adviceWords(verdict);
  return verdict.advice.map(({ text, effect, predicted }, place) => {
    const word = `${words[place]}:`.padEnd(WORD_CHARACTERS);
    if (place === 0) return `${word}${text} ${effect}`;
    if (predicted !== null) return `${word}${text} (${outcomeInShort(predicted, delivery)})`;
    const told = `${word}${text} ${firstSentence(effect)}`;
    return told.length <= MOST_CHARACTERS ? told : `${word}${text}`;
  });
}

/** Sources of shake that are told at a glance. */
const TOLD_SOURCES = 3;

/** What shakes most, with its cause where one is named. */
function causeLines(run: RunDocument): string[] {
  const { sources } = run.spectrum;
  const told = sources.slice(0, TOLD_SOURCES).map((source) => {
    const { freqHz, cause, shiftPx } = source;
    const name = sourceName(source, run);
    const at = name.includes(frequency(freqHz)) ? null : frequency(freqHz);
    const sure = cause === 'unknown' ? null : sureness(source);
    return terminalTexts.source(
      name,
      at,
      axesInWords(source, run),
      figure(shiftPx * deliveryPxPerClipPx(run)),
      sure,
    );
  });
  const more =
    sources.length > TOLD_SOURCES ? [terminalTexts.moreSources(sources.length - TOLD_SOURCES)] : [];
  return [...told, ...more].map(
    (text, i) => `${(i === 0 ? terminalTexts.shakes : '').padEnd(terminalTexts.shakes.length)} ${text}`,
  );
}

/** What stabilising costs and leaves, and what a longer take will need. */
function stabiliseLines({ stabilise, delivery, clip }: RunDocument): string[] {
  const { mode, cropPercent, cropPx, coverable, residual, again } = stabilise;
  const cost = coverable
    ? terminalTexts.cropCost(percentFigure(cropPercent), figure(cropPx), delivery.widthPx)
    : terminalTexts.notCoverable;
  const take = namedTake(stabilise);
  const { translation, parallax, path } = residual.causes;
  const of = [
    ...(translation === null ? [] : [terminalTexts.leftByTranslation(figure(translation.rmsPx))]),
    ...(parallax === null ? [] : [terminalTexts.leftByParallax(figure(parallax.rmsPx))]),
    ...(path.rmsPx < 0.01 ? [] : [terminalTexts.leftByPath(figure(path.rmsPx))]),
  ];
  const left =
    residual.rmsPx === null
      ? terminalTexts.leftUnknown
      : terminalTexts.left(figure(residual.rmsPx), of, residual.atMost);
  return [
    terminalTexts.crop(cost, wayInWords(stabilise)),
    ...(take === null
      ? []
      : [
          `      ${mode === 'keepMove' ? '' : terminalTexts.takeOfOtherWay}${takeSentence(clip.rangeS[1] - clip.rangeS[0], again.medianPercent, take)}`,
        ]),
    terminalTexts.stays(left),
  ];
}

/** Bounds and changes where translation could not be told from rotation. */
function separationLines(run: RunDocument, unit: string): string[] {
  const { unsplit } = run.motion.separation;
  if (unsplit === null) return [];
  const { ifAllAngular, ifAllTranslation, change } = unsplit;
  const { lateral, vertical } = ifAllTranslation;
  const lines = [terminalTexts.allAngular(boundUp(ifAllAngular.panDeg), boundUp(ifAllAngular.tiltDeg))];
  if (lateral !== null && vertical !== null)
    lines.push(terminalTexts.allTranslation(boundUp(lateral), boundUp(vertical), unit.replace(/\.$/, '')));
  return [...lines, ...change.map(({ text }) => terminalTexts.toTellApart(safe(text)))];
}

function axisTable(run: RunDocument): string[] {
  const [low, high] = run.motion.bandHz;
  const names = axisNames(run);
  // Both side by side would be wider than a window.
  const units = run.units === 'imperial' ? 'imperial' : 'metric';
  const rows: string[][] = [[...terminalTexts.heads(`${figure(low)}-${figure(high)}`)]];
  const unreliable = new Set(run.motion.unreliable.map(({ axis }) => axis));
  const add = (of: Axis, axis: AxisNumbers, unit: string): void => {
    const { text, range } = axisFigure(axis, unit);
    const shown = hasFigure(axis.status);
    rows.push([
      `${names[of].name}${unreliable.has(of) ? terminalTexts.notReliable : ''}`,
      inUnits(text, units),
      range === '' ? '-' : shown && unit === 'mm' && !isAngular(of) ? inUnits(`${range} mm`, units) : range,
      shown && axis.peakToPeak !== null ? inUnits(`${figure(axis.peakToPeak)} ${unit}`, units) : '-',
      shown && axis.dominantHz !== null ? `${figure(axis.dominantHz)} Hz` : '-',
    ]);
  };
  for (const axis of ANGULAR_AXES) add(axis, angularNumbers(run.motion.angular[axis]), 'deg');
  const unit = printedUnit(run);
  for (const axis of TRANSLATIONAL_AXES) add(axis, translationNumbers(run.motion.translational[axis]), unit);
  return columns(rows);
}

/** What the table cannot say. */
function axisNotes(run: RunDocument): string[] {
  const unit = printedUnit(run);
  const scale = unit === 'mm' ? [] : [terminalTexts.noScale(translationUnit(run))];
  return [...separationLines(run, unit), ...scale];
}

function printedUnit({ motion }: RunDocument): string {
  return motion.translational.unit === 'mm' ? 'mm' : '% dist.';
}
