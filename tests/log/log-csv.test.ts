import { describe, expect, it } from 'vitest';
import { logCsv, openLog } from '../../src/log/index.js';
import { madeUpEntry } from './support/made-up-entry.js';
import { temporaryFolder } from './support/temporary-folder.js';

const { fresh } = temporaryFolder();

/** Reads CSV by RFC 4180: quoted fields, doubled quotes, lines ended by CR LF. */
function parseCsv(text: string): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  const field = /(?:"((?:[^"]|"")*)"|([^",\r\n]*))(,|\r\n)/gy;
  for (let match = field.exec(text); match !== null; match = field.exec(text)) {
    row.push(match[1]?.replaceAll('""', '"') ?? match[2]);
    if (match[3] === '\r\n') {
      rows.push(row);
      row = [];
    }
  }
  expect(rows.flat().length).toBeGreaterThan(0);
  return rows;
}

describe('the log as CSV', () => {
  const log = openLog(fresh());
  log.add(
    madeUpEntry({
      pass: { floor: 'hall, "big"', notes: 'first line\nsecond; Größe 🚲', tags: ['a', 'b'], passNumber: 2 },
    }),
  );
  log.add(madeUpEntry({ pass: { notes: '=HYPERLINK("x")' } }));
  const rows = log.list();
  const [names, second, first] = parseCsv(logCsv(rows));
  log.close();
  const cells = (line: string[]): Record<string, string> =>
    Object.fromEntries(names.map((name, i) => [name, line[i]]));

  it('gives back every text and every figure of a run', () => {
    expect(cells(first)).toMatchObject({
      id: '1',
      floor: 'hall, "big"',
      notes: 'first line\nsecond; Größe 🚲',
      tags: 'a ; b',
      passNumber: '2',
      lane: '',
      speedMps: '0.25',
      cropPercent: String(rows[1].cropPercent),
      grade: rows[1].grade,
      rangeEndS: '12',
    });
  });

  it('has as many cells in every line as names', () => {
    expect([first.length, second.length]).toEqual([names.length, names.length]);
  });

  it('holds no text that a spreadsheet would run', () => {
    expect(cells(second)['notes']).toBe(`'=HYPERLINK("x")`);
  });

  it('is a line of names alone for no runs', () => {
    expect(logCsv([]).split('\r\n')).toHaveLength(2);
  });
});
