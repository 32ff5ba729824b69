/** Text of others on a terminal, in printed JSON and in CSV: nothing steers, nothing is run by a spreadsheet, all comes back. */
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { plainIo } from '../../src/cli/plain-io.js';
import { logTable } from '../../src/cli/log-table.js';
import { logCsv, type LogRow } from '../../src/log/index.js';
import { comparisonText, terminalSummary } from '../../src/report/index.js';
import { csvText } from '../../src/report/csv.js';
import { csvCell, printable, printableJson, printableLines, textOfCell } from '../../src/run/index.js';
import { clipFolder } from '../footage/made-clips.js';
import { madeUpBundle } from '../report/support/made-up-bundle.js';
import { MADE_UP_COMPARISONS } from '../report/support/made-up-comparisons.js';
import { madeUpList } from '../report/support/made-up-log.js';
import { runWords } from '../support/recorded-io.js';
import { HOSTILE, spoiled } from './support/hostile-text.js';

const STEERS = /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/;
const folder = clipFolder();

describe('printed text', () => {
  it('shows what would steer a terminal, and keeps lines only where it is told to', () => {
    expect(printable(`a\n\u001b[2Jb\u009bc\u202ed\u2067e`)).toBe('a??[2Jb?c?d?e');
    expect(printableLines('a\tb\r\nc\nd\re\u0007')).toBe('a\tb\r\nc\nd?e?');
  });

  it('of summaries, comparisons and lists holds nothing that steers', () => {
    const run = spoiled(madeUpBundle().run, ['unit']);
    const texts = [
      terminalSummary({ ...run, units: 'metric' }, { colour: false }),
      comparisonText(spoiled(MADE_UP_COMPARISONS['threeSetups'](), ['unit']), { colour: false }),
      logTable(madeUpList().map((row) => spoiled({ ...row, rangeS: [0, 1] }) as unknown as LogRow)),
    ];
    for (const text of texts) expect(text).not.toMatch(STEERS);
    for (const text of texts.slice(0, 2)) expect(text).toContain('window.ran=1');
  });

  it('of failures is one line, whatever the name', async () => {
    const { err } = await runWords(
      'measure',
      '--',
      path.join(folder, `no\nPASS  crop 0 %\u001b[1A\r${HOSTILE.slice(-60).replace(/[/\0]/g, '')}`),
    );
    expect(err).not.toMatch(STEERS);
    expect(err.trimEnd().split('\n')).toHaveLength(1);
    expect(err).toMatch(/no\?PASS {2}crop 0 %\?\[1A\?[^]*\[clip-missing\]\n$/);
  });
});

describe('the streams of a command', () => {
  /** What comes out of them. */
  function through(text: string, colour: boolean, columns?: number): { out: string; err: string } {
    const seen = { out: '', err: '' };
    const signal = new AbortController().signal;
    const io = plainIo({
      ...{ out: (one) => (seen.out += one), err: (one) => (seen.err += one) },
      ...{ interactive: true, colour, columns, signal },
    });
    io.out(text);
    io.err(text);
    return seen;
  }

  it('let our own colours and the clearing of a line through, and nothing else that steers', () => {
    const text = '\r\u001b[2K\u001b[1;31mFAIL\u001b[0m \u001b[8mhidden\u001b]0;title\u0007\r\u001b[2K\n';
    expect(through(text, true, 80)).toEqual({
      out: '??[2K\u001b[1;31mFAIL\u001b[0m ?[8mhidden?]0;title???[2K\n',
      err: '\r\u001b[2K\u001b[1;31mFAIL\u001b[0m ?[8mhidden?]0;title???[2K\n',
    });
    expect(through('\u001b[1;31mFAIL', false, 80).out).toBe('?[1;31mFAIL');
  });

  it('leave data that go to a file or a program as they are', () => {
    expect(through('bell\u0007', false).out).toBe('bell\u0007');
  });
});

describe('printed JSON', () => {
  it('says the same and steers nothing', () => {
    const value = { notes: HOSTILE, more: ['\u0085', '\u2069'] };
    const text = printableJson(value, 2);
    expect(text).not.toMatch(STEERS);
    expect(JSON.parse(text)).toEqual(value);
  });
});

describe('a cell of CSV', () => {
  const FORMULAE = ['=1+1', '+cmd|x', '-2+3', '@SUM(A1)', '\t=1', '\r=1', '\n=1', '\uff1d1', "'=1", "''@a"];
  const HARMLESS = ['', 'hall', "crew's", "'quoted'", 'a=b', ' =1', '-0.5', '+3', '1e-7', '-1.5E+3', '.5'];

  it.each(FORMULAE)('%j is led by an apostrophe and comes back', (text) => {
    const cell = csvCell(text);
    const unquoted = cell.startsWith('"') ? cell.slice(1, -1).replaceAll('""', '"') : cell;
    expect(unquoted).toBe(`'${text}`);
    expect(textOfCell(unquoted)).toBe(text);
  });

  it.each(HARMLESS)('%j stays as it is', (text) => {
    expect(csvCell(text)).toBe(text);
    expect(textOfCell(text)).toBe(text);
  });

  it('of a number, and of nothing, is never touched', () => {
    expect([csvCell(-0.25), csvCell(true), csvCell(null), csvCell(undefined)]).toEqual([
      '-0.25',
      'true',
      '',
      '',
    ]);
    expect(csvText([['=a', '-1', 'b,"c"']])).toBe(`'=a,-1,"b,""c"""\r\n`);
  });

  it('of the log is one, whoever wrote it', () => {
    const row = {
      ...madeUpList()[0],
      clipFile: '=HYPERLINK("http://x")',
      rangeS: [0, 1],
      pass: { notes: '@x', floor: '+1+1', tags: ['=a'] },
    };
    const cells = logCsv([row as unknown as LogRow]).split('\r\n')[1];
    expect(cells).toContain(`"'=HYPERLINK(""http://x"")"`);
    expect(cells).toContain(",'+1+1,");
    expect(cells).not.toMatch(/(^|,)"?[=+@]/);
  });
});
