/** An answer for a terminal: verdict first, then the pass as measured beside the pass as asked for, then the tables. */
import { inUnits, type Units, type WhatIfDocument } from '../../run/index.js';
import { whatIfTexts } from '../../texts/index.js';
import { gradeWord } from '../charts/index.js';
import type { Cases } from '../html/case-table.js';
import { adviceLines } from '../terminal-summary.js';
import { brokenLines, coloured, columns, safe, type SummaryOptions } from '../terminal-text.js';
import { inLine } from './figure-words.js';
import { askedInWords, caseTables, comparedRows, firstLine } from './words.js';

/** The text; lines end with "\n" except the last. No escape bytes unless `colour` is set. */
export function whatIfText(answer: WhatIfDocument, { colour, columns: width }: SummaryOptions): string {
  const { grade, word, sentence } = firstLine(answer);
  const { head, rows } = comparedRows(answer);
  const asked = askedInWords(answer);
  const { then, assumes, refused, adviceNote } = answer;
  const lines = [
    `${coloured(word.toUpperCase(), grade, colour)}  ${safe(sentence)}`,
    '',
    safe(
      asked.length === 0
        ? whatIfTexts.asMeasuredTitle(answer.run.clip)
        : whatIfTexts.askedTitle(answer.run.clip, asked),
    ),
  ];
  // Nothing stands beside a refusal but the pass as it is.
  const { units } = answer.run;
  lines.push('', ...lined([['', ...head], ...rows], units));
  const advice = refused === null ? adviceLines(then ?? answer.measured) : [];
  if (advice.length > 0) lines.push('', ...advice.map(safe));
  lines.push(...(adviceNote === null ? [] : ['', safe(adviceNote)]));
  for (const table of caseTables(answer)) lines.push('', ...tableLines(table, units));
  lines.push('', whatIfTexts.rangesHold);
  if (assumes.length > 0)
    lines.push('', whatIfTexts.assumedLine, ...assumes.map((text) => `  - ${safe(text)}`));
  // The narrow space between a focal length and its unit is for pages.
  const plain = lines.map((line) => inUnits(line, units).replaceAll('\u202f', ' '));
  return brokenLines(plain, width).join('\n');
}

function tableLines({ title, head, cases, refused, below }: Cases, units: Units): string[] {
  if (refused !== null) return [`${title}: ${safe(refused)}`];
  const lines = lined(
    [
      [head, whatIfTexts.head.crop, whatIfTexts.head.left, whatIfTexts.head.grade, ''],
      ...cases.map(({ name, note, crop, left, grade }) => [
        name,
        inLine(crop),
        inLine(left),
        grade === null ? '' : gradeWord(grade),
        note,
      ]),
    ],
    units,
  );
  const names = cases.map(({ name }) => inUnits(name, units));
  const width = Math.max(head.length, ...names.map((name) => name.length));
  // A sentence takes the place of the figures.
  const told = cases.map(({ refused: why }, i) =>
    why === null ? lines[i + 1] : `${safe(names[i]).padEnd(width)}  ${safe(why)}`,
  );
  const last = below === null ? [] : [safe(below)];
  return [`${title}:`, ...[lines[0], ...told, ...last].map((line) => `  ${line}`)];
}

/** Columns for a terminal, where a dash is a plain one; in their units before they are set, so that they stay columns. */
function lined(rows: readonly (readonly string[])[], units: Units): string[] {
  return columns(rows.map((row) => row.map((text) => inUnits(safe(text), units).replaceAll('–', '-'))));
}
