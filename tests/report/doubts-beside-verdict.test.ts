/** A verdict is never shown without the doubts of the clip beside it: page, terminal, picture to send, lists of the log. */
import { describe, expect, it } from 'vitest';
import { logTable } from '../../src/cli/log-table.js';
import { logCsv, openLog, type LogRow } from '../../src/log/index.js';
import { contactDrawing } from '../../src/report/contact/contact-drawing.js';
import { firstScreen } from '../../src/report/html/first-screen.js';
import { renderLogPage, terminalSummary, type ReportBundle } from '../../src/report/index.js';
import { reservations } from '../../src/report/reservations.js';
import { DOUBT_CODES, type RunDocument, type Warning } from '../../src/run/index.js';
import { madeUpEntry } from '../log/support/made-up-entry.js';
import { temporaryFolder } from '../log/support/temporary-folder.js';
import { madeUpBundle } from './support/made-up-bundle.js';

const ZOOM = 'Signs of a zoom during the pass: the picture grew by 4 %. Film again.';
const BITS = 'So few bits that fine shake is lost. Film with more.';
const warning = (code: string, text: string): Warning => ({ code, text, atS: 1 });
const WARNINGS = [
  warning('heavy-compression', BITS),
  warning('variable-rate', 'Frames come unevenly.'),
  warning('zoom-during-pass', ZOOM),
];

function bundleWith(warnings: Warning[], grade: RunDocument['verdict']['grade'] = 'pass'): ReportBundle {
  const bundle = madeUpBundle();
  bundle.run.warnings = warnings;
  bundle.run.verdict = { ...bundle.run.verdict, grade };
  return bundle;
}

/** What stands there, tags left out, white space joined. */
const words = (markup: string): string => markup.replace(/<[^>]+>/g, ' ').replace(/[\s\u00a0]+/g, ' ');
const terminal = (run: RunDocument): string => words(terminalSummary(run, { colour: false }));

describe('doubts of a clip', () => {
  const bundle = bundleWith(WARNINGS);

  it('stand on the first screen of the report and of the page, whole, those that weigh most first', () => {
    expect(reservations(bundle.run).slice(0, 2)).toEqual([
      ['In doubt', ZOOM],
      ['In doubt', BITS],
    ]);
    expect(words(firstScreen(bundle, null).text)).toContain(`In doubt: ${ZOOM} In doubt: ${BITS}`);
  });

  it('stand in the terminal between the verdict and its reasons, and not once more among the warnings', () => {
    const [head, rest] = terminal(bundle.run).split('Warnings');
    expect(head).toContain(`In doubt: ${ZOOM}`);
    expect(head.indexOf('In doubt')).toBeLessThan(head.indexOf(bundle.run.clip.file));
    expect(rest).toContain('Frames come unevenly.');
    expect(rest).not.toContain(ZOOM);
  });

  it('stand in the picture to send: the one that weighs most, in short, and how many more there are', () => {
    expect(words(contactDrawing(bundle).svg)).toContain(
      'In doubt: Signs of a zoom during the pass: the picture grew by 4 %. And 1 more in the report.',
    );
  });

  it('leave everything as it is where there are none', () => {
    const without = bundleWith([WARNINGS[1]]);
    for (const text of [
      words(firstScreen(without, null).text),
      terminal(without.run),
      contactDrawing(without).svg,
    ])
      expect(text).not.toContain('In doubt');
  });

  it('are warnings like others where there is no verdict to doubt', () => {
    const { run } = bundleWith(WARNINGS, 'unmeasurable');
    expect(reservations(run)).toEqual([]);
    expect(terminal(run).split('Warnings')[1]).toContain(ZOOM);
  });

  it('count a clip that ends early among them: a part of the pass was not measured', () => {
    const { run } = bundleWith([warning('clip-truncated', 'The clip ends 2 s early.')]);
    expect(terminal(run)).toContain('In doubt: The clip ends 2 s early.');
  });

  it('do not change the grade of the document', () => {
    const { run } = bundleWith([]);
    for (const code of DOUBT_CODES) {
      run.warnings = [warning(code, 'Signs.')];
      expect(run.verdict.grade, code).toBe('pass');
      expect(reservations(run)[0], code).toEqual(['In doubt', 'Signs.']);
    }
  });
});

describe('a log with doubted runs', () => {
  const { fresh } = temporaryFolder();
  const log = openLog(fresh());
  const plain = madeUpEntry({});
  log.add(plain);
  log.add({ ...plain, run: { ...plain.run, warnings: WARNINGS } });
  const rows: readonly LogRow[] = log.list();
  log.close();
  const [doubted, sure] = rows;

  it('keeps their codes, those that weigh most first', () => {
    expect(doubted.doubts).toEqual(['zoom-during-pass', 'heavy-compression']);
    expect(sure.doubts).toEqual([]);
  });

  it('says so beside each verdict: in the terminal, in the table of all runs, on its page', () => {
    const [, first, second] = logTable(rows).split('\n');
    expect(first).toContain(`${doubted.grade}, in doubt`);
    expect(second).toContain(sure.grade);
    expect(second).not.toContain('in doubt');
    expect(logCsv([doubted])).toContain('zoom-during-pass ; heavy-compression');
    const page = renderLogPage({
      runs: rows.map((run) => ({ run, reportHref: null, thumbnailUri: null })),
      more: 0,
      filter: '',
      file: 'log.sqlite',
      atMinute: (iso) => iso,
      units: 'metric',
    });
    expect(page.match(/>in doubt</g)).toHaveLength(1);
  });
});
