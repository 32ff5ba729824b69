/** A batch in words: the line that tells how far it is, a line for each clip, and the table at the end. */
import {
  figuresIn,
  type BatchClip,
  type BatchResult,
  type BatchState,
  type ClipFailure,
  type ClipOutcome,
} from '../batch/index.js';
import { figure, percentFigure, printable } from '../run/index.js';
import { batchTexts } from '../texts/index.js';

/** Longest name of a clip in the line that tells how far it is, characters. */
const LONGEST_NAME = 24;
/** Longest name of a clip in the table, characters: its end says more than its beginning. */
const LONGEST_CELL = 48;

/**
 * How far it is, in one line.
 * @param columns width that it may take, characters
 */
export function stateLine(state: BatchState, columns: number): string {
  const { found, measured, passedBy, failed, underWay, waiting, leftS } = state;
  const parts = [batchTexts.done(measured + passedBy + failed, found)];
  if (underWay.length > 0)
    parts.push(
      batchTexts.underWay(
        underWay.map(({ clip, stage, stageShare }) =>
          batchTexts.stage(
            shortened(clip.relative.split('/').at(-1) ?? '', LONGEST_NAME),
            batchTexts.stages[stage],
            stageShare === null ? null : Math.floor(100 * stageShare),
          ),
        ),
      ),
    );
  else if (waiting === 0) parts.push(batchTexts.idle);
  if (waiting > 0) parts.push(batchTexts.waiting(waiting));
  if (leftS !== null) parts.push(batchTexts.left(timeInWords(leftS)));
  return cut(parts.join('; '), columns);
}

/** @example timeInWords(4000) // "1 h 7 min" */
export function timeInWords(seconds: number): string {
  if (seconds < 100) return batchTexts.seconds(Math.ceil(seconds));
  const minutes = Math.ceil(seconds / 60);
  return minutes < 100
    ? batchTexts.minutes(minutes)
    : batchTexts.hours(Math.floor(minutes / 60), minutes % 60);
}

/** What became of a clip, in one line; null where it is passed by, which the table tells. */
export function endLine(
  { path, relative }: Pick<BatchClip, 'path' | 'relative'>,
  outcome: ClipOutcome,
): string | null {
  const clip = printable(relative);
  if (isStopped(outcome)) return batchTexts.ended(clip, batchTexts.stopped);
  if (outcome.kind === 'failed') return failureLine(path, outcome.failure);
  if (outcome.kind !== 'measured') return null;
  const grade = gradeOf(outcome);
  const crop = cropOf(outcome);
  return batchTexts.ended(
    clip,
    crop === batchTexts.none ? grade : batchTexts.crop(grade, batchTexts.percent(crop)),
  );
}

/**
 * The table, a line for each clip in the order of their places, units in its heads; every line ends with "\n". Clips that failed are not in
 * it: they have a list of their own. Empty where nothing is left.
 */
export function batchTable(result: BatchResult): string {
  const lines = [...result.values()]
    .filter(({ outcome }) => outcome.kind !== 'failed' || isStopped(outcome))
    .sort((a, b) => inOrder.compare(a.clip.path, b.clip.path));
  if (lines.length === 0) return '';
  const rows = lines.map(({ clip, outcome }) => [
    shortenedFront(printable(clip.path), LONGEST_CELL),
    gradeOf(outcome),
    cropOf(outcome),
    worstOf(outcome),
    figuresIn(outcome)?.floorClass ?? batchTexts.none,
    whatOf(outcome),
  ]);
  const table = [[...batchTexts.heads], ...rows];
  const widths = batchTexts.heads.map((_, column) => Math.max(...table.map((row) => length(row[column]))));
  return table
    .map((row) =>
      row
        .map((text, column) => text + ' '.repeat(widths[column] - length(text)))
        .join('  ')
        .trimEnd(),
    )
    .map((line) => `${line}\n`)
    .join('');
}

/** How many became what, in one sentence. @param left clips that were not begun */
export function summaryLine(result: BatchResult, left: number): string {
  const { counts } = batchTexts;
  const kinds = [...result.values()].map(({ outcome }) => (isStopped(outcome) ? 'stopped' : outcome.kind));
  const parts = (['measured', 'kept', 'same', 'failed', 'stopped'] as const).flatMap((kind) => {
    const count = kinds.filter((one) => one === kind).length;
    return count === 0 ? [] : [counts[kind](count)];
  });
  if (left > 0) parts.push(counts.left(left));
  return parts.length === 0 ? batchTexts.nothing : batchTexts.summary(result.size + left, parts);
}

/** A failure with the clip that it is of, its sentence and its code. */
export function failureLine(path: string, { sentence, code }: ClipFailure): string {
  const said = sentence.includes(path) ? sentence : batchTexts.ended(path, sentence);
  return `${printable(said)} [${code}]`;
}

/** Whether a clip was given up because the person asked for it. */
export function isStopped(outcome: ClipOutcome): boolean {
  return outcome.kind === 'failed' && outcome.failure.code === 'interrupted';
}

const inOrder = new Intl.Collator('en', { numeric: true, sensitivity: 'base' });

function gradeOf(outcome: ClipOutcome): string {
  const figures = figuresIn(outcome);
  if (figures === null) return batchTexts.none;
  return figures.isDoubted ? batchTexts.inDoubt(figures.grade) : figures.grade;
}

function cropOf(outcome: ClipOutcome): string {
  const figures = figuresIn(outcome);
  if (figures === null || figures.cropPercent === null) return batchTexts.none;
  return figures.coverable ? percentFigure(figures.cropPercent) : batchTexts.overHalf;
}

function worstOf(outcome: ClipOutcome): string {
  const worst = figuresIn(outcome)?.worst ?? null;
  return worst === null ? batchTexts.none : batchTexts.worst(worst.axis, figure(worst.rmsDeg));
}

function whatOf(outcome: ClipOutcome): string {
  switch (outcome.kind) {
    case 'measured':
      return batchTexts.measured(outcome.measured.run);
    case 'kept':
      return batchTexts.kept(outcome.kept.run);
    case 'same':
      return batchTexts.same(printable(outcome.as));
    case 'failed':
      return batchTexts.stopped;
  }
}

function length(text: string): number {
  return [...text].length;
}

function shortened(text: string, most: number): string {
  return cut(printable(text), most);
}

function cut(text: string, most: number): string {
  const characters = [...text];
  return characters.length > most ? `${characters.slice(0, most - 1).join('')}\u2026` : text;
}

function shortenedFront(text: string, most: number): string {
  const characters = [...text];
  return characters.length > most ? `\u2026${characters.slice(1 - most).join('')}` : text;
}
