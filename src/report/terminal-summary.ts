/** The run in a few lines for a terminal: verdict with measured value and limit first, then the axes, advice, warnings, assumptions. */
import {
  ANGULAR_AXES,
  TRANSLATIONAL_AXES,
  hasFigure,
  percentFigure,
  figure,
  type Axis,
  type RunDocument,
} from '../run/index.js';
import { keepsFromPass, LONGER_TAKE_OVER_LIMIT } from '../judge/index.js';
import { takeSentence } from '../stabilise/index.js';
import { axesInWords, frequency, sourceName, sureness } from './cause-words.js';
import { angularNumbers, axisFigure, boundUp, translationNumbers, type AxisNumbers } from './format.js';
import { floorLines } from './floor-words.js';
import { motionLogWords } from './motion-log-words.js';
import { coloured, columns, safe, type SummaryOptions } from './terminal-text.js';
import {
  adviceWords,
  axisNames,
  headline,
  namedTake,
  outcomeInShort,
  translationUnit,
  wayInWords,
} from './wording.js';

/** The summary; lines end with "\n" except the last. No escape bytes unless `colour` is set. */
export function terminalSummary(run: RunDocument, { colour }: SummaryOptions): string {
  const { word, sentence } = headline(run);
  const { clip } = run;
  const lines = [
    `${coloured(word.toUpperCase(), run.verdict.grade, colour)}  ${safe(sentence)}`,
    ...whyLines(run).map(safe),
    '',
    `${safe(clip.file)}  ${clip.widthPx}x${clip.heightPx}, ${figure(clip.fps)} fps, ${figure(clip.rangeS[1] - clip.rangeS[0])} s measured`,
    ...(run.verdict.grade === 'unmeasurable' ? [] : ['', ...axisTable(run)]),
  ];
  if (run.verdict.grade !== 'unmeasurable')
    lines.push('', ...stabiliseLines(run), ...floorLines(run).map(safe), ...causeLines(run).map(safe));
  const logged = motionLogWords(run).map((words) => `  - ${safe(words)}`);
  if (logged.length > 0) lines.push('', 'Motion log:', ...logged);
  if (run.verdict.advice.length > 0) lines.push('', ...adviceLines(run).map(safe));
  if (run.warnings.length > 0) {
    lines.push('', `Warnings: ${run.warnings.length}`);
    for (const { text, atS } of run.warnings)
      lines.push(`  - ${safe(text)}${atS === null ? '' : ` (at ${figure(atS)} s)`}`);
  }
  const { assumed } = run.rig;
  if (assumed.length > 0)
    lines.push(
      '',
      `Taken, not given: ${assumed.map(({ name, value }) => safe(`${name} ${value}`)).join('; ')} (the report says what each matters).`,
    );
  return lines.join('\n');
}

/** What keeps the verdict from pass, and what a pass of the test does not hold for. */
function whyLines({ verdict: { grade, reasons } }: RunDocument): string[] {
  // Where nothing could be measured the headline has told the first already.
  const why = reasons
    .filter(keepsFromPass)
    .filter((reason) => grade !== 'unmeasurable' || reason !== reasons[0]);
  const mind = reasons.filter(({ code }) => code === LONGER_TAKE_OVER_LIMIT);
  return [...why.map(({ text }) => `Why:  ${text}`), ...mind.map(({ text }) => `Mind: ${text}`)];
}

/** A step with more than this many characters is told without its effect. */
const MOST_CHARACTERS = 200;

/** The steps: the first in full, alternatives with what they would come to, further ones with what they bring where it fits. */
export function adviceLines({ verdict, delivery }: Pick<RunDocument, 'verdict' | 'delivery'>): string[] {
  const words = adviceWords(verdict);
  return verdict.advice.map(({ text, effect, predicted }, place) => {
    const word = `${words[place]}:`.padEnd('Do first: '.length);
    if (place === 0) return `${word}${text} ${effect}`;
    if (predicted !== null) return `${word}${text} (${outcomeInShort(predicted, delivery)})`;
    const told = `${word}${text} ${firstSentence(effect)}`;
    return told.length <= MOST_CHARACTERS ? told : `${word}${text}`;
  });
}

function firstSentence(text: string): string {
  return /^.*?[.!?](?=\s|$)/.exec(text)?.[0] ?? text;
}

/** Sources of shake that are told at a glance. */
const TOLD_SOURCES = 3;

/** What shakes most, with its cause where one is named. */
function causeLines(run: RunDocument): string[] {
  const { sources } = run.spectrum;
  const told = sources.slice(0, TOLD_SOURCES).map((source) => {
    const { freqHz, cause, shiftPx } = source;
    const name = sourceName(source, run);
    const at = name.includes(frequency(freqHz)) ? '' : `${frequency(freqHz)} `;
    const sure = cause === 'unknown' ? '' : `; ${sureness(source)} sure`;
    return `${name} (${at}on ${axesInWords(source, run)}; ${figure(shiftPx)} px RMS${sure})`;
  });
  const more = sources.length > TOLD_SOURCES ? [`${sources.length - TOLD_SOURCES} more in the report`] : [];
  return [...told, ...more].map((text, i) => `${i === 0 ? 'Shakes:' : '       '} ${text}`);
}

/** What stabilising costs and leaves, and what a longer take will need. */
function stabiliseLines({ stabilise, delivery, clip }: RunDocument): string[] {
  const { mode, cropPercent, cropPx, coverable, residual, again } = stabilise;
  const cost = coverable
    ? `${percentFigure(cropPercent)} % of the width, ${figure(cropPx)} px of ${delivery.widthPx}`
    : 'more than half of the picture';
  const take = namedTake(stabilise);
  const { translation, parallax, path } = residual.causes;
  const of = [
    ...(translation === null ? [] : [`translation ${figure(translation.rmsPx)}`]),
    ...(parallax === null ? [] : [`of it parallax ${figure(parallax.rmsPx)}`]),
    ...(path.rmsPx < 0.01 ? [] : [`path ${figure(path.rmsPx)}`]),
  ];
  const left =
    residual.rmsPx === null
      ? 'not known, for translation could not be told from rotation.'
      : `${residual.atMost ? 'at most ' : ''}${figure(residual.rmsPx)} px RMS at delivery size (${of.join(', ')}).`;
  return [
    `Crop: ${cost}; ${wayInWords(stabilise)}.`,
    ...(take === null
      ? []
      : [
          `      ${mode === 'keepMove' ? '' : 'No take is foretold for this way. Where the move is kept: '}${takeSentence(clip.rangeS[1] - clip.rangeS[0], again.medianPercent, take)}`,
        ]),
    `Stays: ${left}`,
  ];
}

/** Bounds and changes where translation could not be told from rotation. */
function separationLines(run: RunDocument, unit: string): string[] {
  const { unsplit } = run.motion.separation;
  if (unsplit === null) return [];
  const { ifAllAngular, ifAllTranslation, change } = unsplit;
  const { lateral, vertical } = ifAllTranslation;
  const lines = [
    `If all of it is angular: pan below ${boundUp(ifAllAngular.panDeg)} deg, tilt below ${boundUp(ifAllAngular.tiltDeg)} deg.`,
  ];
  if (lateral !== null && vertical !== null)
    lines.push(
      `If all of it is translation: lateral below ${boundUp(lateral)}, vertical below ${boundUp(vertical)} ${unit.replace(/\.$/, '')}.`,
    );
  return [...lines, ...change.map(({ text }) => `To tell them apart: ${safe(text)}`)];
}

function axisTable(run: RunDocument): string[] {
  const [low, high] = run.motion.bandHz;
  const names = axisNames(run);
  const rows: string[][] = [
    ['Axis', `Shake RMS, ${figure(low)}-${figure(high)} Hz`, '95 % range', 'Peak to peak', 'Strongest'],
  ];
  const unreliable = new Set(run.motion.unreliable.map(({ axis }) => axis));
  const add = (of: Axis, axis: AxisNumbers, unit: string): void => {
    const { text, range } = axisFigure(axis, unit);
    const shown = hasFigure(axis.status);
    rows.push([
      `${names[of].name}${unreliable.has(of) ? ' (not reliable)' : ''}`,
      text,
      range === '' ? '-' : range,
      shown && axis.peakToPeak !== null ? `${figure(axis.peakToPeak)} ${unit}` : '-',
      shown && axis.dominantHz !== null ? `${figure(axis.dominantHz)} Hz` : '-',
    ]);
  };
  for (const axis of ANGULAR_AXES) add(axis, angularNumbers(run.motion.angular[axis]), 'deg');
  const unit = run.motion.translational.unit === 'mm' ? 'mm' : '% dist.';
  for (const axis of TRANSLATIONAL_AXES) add(axis, translationNumbers(run.motion.translational[axis]), unit);
  const lines = columns(rows);
  lines.push(...separationLines(run, unit));
  if (unit !== 'mm')
    lines.push(`(translation in ${translationUnit(run)}: give the travel or the speed to get mm)`);
  return lines;
}
